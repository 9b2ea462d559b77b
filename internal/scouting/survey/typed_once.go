package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// What is the same for all rows of a stop is often typed once, on its first row, or stands in
// cells that were merged: the name, the place and the day. The rows below are leaves then, and
// the day is theirs.

// whereabouts are the columns of the name and the place of a stop.
var whereabouts = [...]column{colLongitude, colLatitude, colEasting, colNorthing, colWKT}

// found are the columns that tell what was found in a row.
var found = [...]column{colCount, colMean, colGroups, colOver, colEmpty, colInfested, colHoneydew, colColonies}

// typedOnce fills the name and the place of a stop into rows below its first that leave them
// out, and says so. Rows without a name are taken as its leaves where plants or leaves are
// numbered, or where half of the stops, two at least, have such rows; a row with another place, with a plant
// or leaf that is there already, or with the sum of those above it, is none. The rows it was given stay as they are.
func (l *layout) typedOnce(t table) (rows []row, note string) {
	if l.at[colStop] < 0 || !slices.ContainsFunc(t.Rows, l.leavesOut) {
		return t.Rows, ""
	}
	heads, with, below := l.below(t)
	rows, n := t.Rows, 0
	head, last := -1, ""
	for i, r := range t.Rows {
		name := l.text(r, colStop)
		if name != "" && name != last {
			head, last = i, name
			continue
		}
		if head < 0 || !l.foundIn(r) || name == "" && !(below[i] && (with > 1 && 2*with >= heads || l.text(r, colPlant) != "" || l.text(r, colLeaf) != "")) {
			continue
		}
		filled, some := l.filledFrom(r, t.Rows[head])
		if !some {
			continue
		}
		if n == 0 {
			rows = slices.Clone(t.Rows)
		}
		rows[i], n = filled, n+1
	}
	if n == 0 {
		return rows, ""
	}
	return rows, fmt.Sprintf("%s: rows without the name or place of their stop are taken as its further rows, as both stand once on the row above: %d", t.File, n)
}

// leavesOut reports whether a row lacks its name or a part of its place.
func (l *layout) leavesOut(r row) bool {
	if l.text(r, colStop) == "" {
		return true
	}
	return slices.ContainsFunc(whereabouts[:], func(c column) bool { return l.at[c] >= 0 && l.text(r, c) == "" })
}

// below tells which rows have no name and may be further ones of the stop above, how many stops
// there are, and how many of these have such rows. The last row with the sum of all is none, nor
// are the last ones of the stops where most are the sum of those above.
func (l *layout) below(t table) (heads, with int, below []bool) {
	below = make([]bool, len(t.Rows))
	var of, all float64 // sums of the stop, of all
	head, rows := -1, 0
	var sums []int                 // rows that are those of their stops
	leaves := map[[2]string]bool{} // of the stop
	again := func(r row) bool {
		leaf := [2]string{l.text(r, colPlant), l.text(r, colLeaf)}
		before := leaves[leaf]
		leaves[leaf] = leaf != [2]string{}
		return before
	}
	end := func(i int) {
		if i < 0 || !below[i] {
			return
		}
		with++
		if n, is := l.countIn(t.Rows[i]); is && rows > 2 && n > 0 && n == of-n {
			sums = append(sums, i)
		}
	}
	for i, r := range t.Rows {
		n, is := l.countIn(r)
		if l.text(r, colStop) != "" {
			end(i - 1)
			if i == 0 || l.text(t.Rows[i-1], colStop) != l.text(r, colStop) {
				clear(leaves)
			}
			again(r)
			head, heads, rows, of, all = i, heads+1, 1, n, all+n
			continue
		}
		total := i == len(t.Rows)-1 && is && n == all
		if head < 0 || total || !l.foundIn(r) || !l.samePlace(r, t.Rows[head]) || !l.numberedAs(r, t.Rows[head]) {
			continue
		}
		if again(r) { // plants are counted from one again: another stop, whose name is missing
			head = -1
			continue
		}
		below[i] = true
		rows, of, all = rows+1, of+n, all+n
	}
	end(len(t.Rows) - 1)
	if 2*len(sums) > with {
		for _, i := range sums {
			below[i] = false
		}
	}
	return heads, with, below
}

// countIn is the count of a row, where it is a number and nothing else; 0 where it is not.
func (l *layout) countIn(r row) (n float64, is bool) {
	n, err := strconv.ParseFloat(l.text(r, colCount), 64)
	if err != nil {
		return 0, false
	}
	return n, true
}

// numberedAs reports whether a row tells its plant or leaf where another does.
func (l *layout) numberedAs(r, of row) bool {
	return (l.text(of, colPlant) == "" || l.text(r, colPlant) != "") && (l.text(of, colLeaf) == "" || l.text(r, colLeaf) != "") ||
		l.text(r, colLeaf) != ""
}

func (l *layout) foundIn(r row) bool {
	return slices.ContainsFunc(found[:], func(c column) bool { return l.text(r, c) != "" })
}

// samePlace reports whether a row has the place of another, as it was typed, or none.
func (l *layout) samePlace(r, of row) bool {
	none, same := true, true
	for _, c := range whereabouts {
		none, same = none && l.text(r, c) == "", same && l.text(r, c) == l.text(of, c)
	}
	return none || same
}

// filledFrom is a row with the name and, where it has none, the place of another.
func (l *layout) filledFrom(r, from row) (filled row, some bool) {
	if !l.samePlace(r, from) {
		return r, false
	}
	filled = row{r.Line, slices.Clone(r.Cells)}
	for _, c := range append(whereabouts[:], colStop) {
		i := l.at[c]
		if i < 0 || i >= len(filled.Cells) || i >= len(from.Cells) || strings.TrimSpace(filled.Cells[i]) != "" || l.text(from, c) == "" {
			continue
		}
		filled.Cells[i], some = from.Cells[i], true
	}
	return filled, some
}
