//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"
)

// A cell that was deleted or put in alone moves all that stands below it in its column: each
// count then stands at another stop. Nothing tells it but the end of the column, which is one
// row before that of the others, or beyond it.

// leastMoved is how many rows a table has before its last one tells anything (our choice).
const leastMoved = 6

// movedIn looks for such a column; ok is false for none.
func (l *layout) movedIn(t table) (slip Slip, note string, ok bool) {
	last := len(t.Rows) - 1
	if last+1 < leastMoved {
		return slip, "", false
	}
	blank := func(c column, r row) bool { return l.at[c] >= 0 && l.text(r, c) == "" }
	for _, c := range [...]column{colStop, colLongitude, colLatitude, colCount, colMean, colLeaves} {
		if l.at[c] < 0 {
			continue
		}
		slip = Slip{File: t.File, Column: strings.TrimSpace(t.Header[l.at[c]]), From: t.Rows[0].Line, To: t.Rows[last].Line}
		others := func(r row) (filled, all int) {
			for i := range columns {
				if i != c && l.at[i] >= 0 && i != colNotes && i != colKind && i != colEmpty && l.text(t.Rows[0], i) != "" {
					if all++; l.text(r, i) != "" {
						filled++
					}
				}
			}
			return filled, all
		}
		filled, all := others(t.Rows[last])
		full := !slices.ContainsFunc(t.Rows[:last], func(r row) bool { return blank(c, r) })
		switch {
		case full && blank(c, t.Rows[last]) && filled == all && all > 1:
			slip.Ends = -1
			return slip, fmt.Sprintf("%s: the column %s ends one row before the others: was a cell in it deleted, so that all below moved up?", t.File, quote(slip.Column)), true
		case !blank(c, t.Rows[last]) && filled == 0 && l.filledBut(t.Rows[last], []column{c}) == 0 && c != colStop && !l.isSum(t, c) && slices.ContainsFunc(t.Rows[:last], func(r row) bool { return blank(c, r) }):
			slip.Ends = 1
			return slip, fmt.Sprintf("%s: the column %s goes on one row beyond the others: was a cell put into it, so that all below moved down?", t.File, quote(slip.Column)), true
		}
	}
	return slip, "", false
}

// isSum reports whether the last row of a column has the sum of those above it.
func (l *layout) isSum(t table, c column) bool {
	value, sum := l.numberIn(c), 0.0
	last := len(t.Rows) - 1
	for _, r := range t.Rows[:last] {
		if l.text(r, c) != "" {
			sum += value(r)
		}
	}
	return sum == value(t.Rows[last])
}
