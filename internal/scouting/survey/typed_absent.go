//go:build small

package survey

// A phone's counts come as they were tapped: nobody has copied, pasted or dragged them, and
// their columns have the names that are known.

func (b *builder) withoutCopies(records []Record) []Record { return records }

func filledOf(table, *layout) ([]Slip, []string) { return nil, nil }

func (t table) checkEnd([]byte, rune) error { return nil }

func (l *layout) checkPasted(string, []row, Options) (string, error) { return "", nil }

func (l *layout) howToName(table, []column, []int, Options) string {
	return "; name the columns so, positions in decimal degrees"
}

func (l *layout) checkRenamed(table, Options) error { return nil }

func (l *layout) unknownKind(table) []string { return nil }

func (t *table) partPairs(Options) error { return nil }

func (t *table) likeliest(knower) int { return 0 }

func (knows knower) namesPair([]string) int { return 0 }

func mayHoldPlaces(string) bool { return false }

func (l *layout) leavesOnce(t table) (rows []row, note string) { return t.Rows, "" }

func (rd *reader) refuseTogether() {}
