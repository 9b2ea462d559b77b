//go:build small

package survey

// A phone's counts come as they were tapped: nobody has copied, pasted or dragged them.

func (b *builder) withoutCopies(records []Record) []Record { return records }

func filledOf(table, *layout) ([]Slip, []string) { return nil, nil }
