package survey

import "strings"

// repeats finds rows that are there twice. Two leaves of a stop may well be alike
// in every cell, so in a file with several rows to a stop only rows that number
// their leaf can be told for repeats; where each stop otherwise has one row, any
// second one alike can.
type repeats struct {
	telling bool
	first   map[string]int // the row's cells → its line
}

func newRepeats(t table, l layout) *repeats {
	r := &repeats{first: map[string]int{}, telling: l.at[colLeaf] >= 0}
	if r.telling {
		return r
	}
	perStop := map[string]int{}
	for _, row := range t.Rows {
		perStop[l.stopKey(row)]++
	}
	alone := 0
	for _, n := range perStop {
		if n == 1 {
			alone++
		}
	}
	r.telling = 2*alone > len(perStop)
	return r
}

// firstOf returns the line of the earlier row that is alike, or 0.
func (r *repeats) firstOf(row row) int {
	if !r.telling {
		return 0
	}
	cells := make([]string, len(row.Cells))
	for i, c := range row.Cells {
		cells[i] = strings.TrimSpace(c)
	}
	key := strings.Join(cells, "\x00")
	if line := r.first[key]; line > 0 {
		return line
	}
	r.first[key] = row.Line
	return 0
}

func (l layout) stopKey(row row) string {
	cell := func(c column) string {
		if i := l.at[c]; i >= 0 && i < len(row.Cells) {
			return strings.TrimSpace(row.Cells[i])
		}
		return ""
	}
	if l.unnamed {
		return cell(colLongitude) + " " + cell(colLatitude)
	}
	return cell(colStop)
}
