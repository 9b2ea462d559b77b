package survey

import (
	"fmt"
	"strconv"
)

// A spreadsheet that a cell is dragged over fills those below it with numbers that go up by
// one, also behind or before a word. Counts of so many rows in turn do not by chance.
const leastFilled = 10

// filledOf is a note on the counts, or what they are of, that go up by one from row to row.
func filledOf(t table, l *layout) (notes []string) {
	for _, c := range []column{colCount, colLeaves} {
		first, n, before := 0, 0, 0.0
		for i, r := range t.Rows {
			v, err := strconv.ParseFloat(l.text(r, c), 64)
			if n == 0 || err != nil || v != before+1 {
				if n >= leastFilled {
					break
				}
				first, n = i, 0
			}
			if err == nil {
				n++
			}
			before = v
		}
		if n >= leastFilled {
			notes = append(notes, fmt.Sprintf("%s: %s goes up by one in each of lines %d to %d, as a spreadsheet fills cells that are dragged over: compare them with what was counted",
				t.File, c, t.Rows[first].Line, t.Rows[first+n-1].Line))
		}
	}
	return notes
}
