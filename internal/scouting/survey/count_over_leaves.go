package survey

import "fmt"

// countOverLeaves is a count with the leaves that it is of, as some write it.
var countOverLeaves = pattern(`^(\d+) ?/ ?([1-9]\d*)$`)

// An errOver is such a count in a column of counts alone.
type errOver struct{ count, leaves, class string }

func (e errOver) Error() string {
	if e.class != "" {
		return fmt.Sprintf("may be %s on %s leaves, or the date that a spreadsheet made of %s", e.count, e.leaves, e.class)
	}
	return fmt.Sprintf("may be %s on %s leaves", e.count, e.leaves)
}

func (e errOver) fix() string {
	if e.class != "" {
		return fmt.Sprintf("write %s under count and %s under leaves, or %s as a text", e.count, e.leaves, e.class)
	}
	return fmt.Sprintf("write %s under count and %s under leaves", e.count, e.leaves)
}

// overOf says what a text that is no number may be in a column of counts.
func overOf(text string, c column) (e errOver, ok bool) {
	m := countOverLeaves().FindStringSubmatch(text)
	if m == nil || c != colCount {
		return errOver{}, false
	}
	class, _ := madeDate(text)
	return errOver{m[1], m[2], class}, true
}
