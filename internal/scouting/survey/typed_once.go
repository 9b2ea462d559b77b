package survey

import (
	"fmt"
	"slices"
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
// numbered, or where the stops have one number of rows, but for a few that have fewer. A row
// with another place, with a plant or leaf that is there already, beyond the number of the
// others, or with the sum or mean of those above it, is none. The rows it was given stay as
// they are.
func (l *layout) typedOnce(t table) (rows []row, note string) {
	if l.at[colStop] < 0 && !l.unnamed || !slices.ContainsFunc(t.Rows, l.leavesOut) {
		return t.Rows, ""
	}
	blocks := l.blocksOf(t)
	open := l.sumsBelow(t, blocks)
	l.sumsAtFoot(t, blocks)
	usual := 0
	if !open {
		usual = l.usualRows(t, blocks)
	}
	rows, n := t.Rows, 0
	for _, b := range blocks {
		for _, i := range l.furtherRows(t, b, usual) {
			filled, some := l.filledFrom(t.Rows[i], t.Rows[b[0]])
			if !some {
				continue
			}
			if n == 0 {
				rows = slices.Clone(t.Rows)
			}
			rows[i], n = filled, n+1
		}
	}
	if n == 0 {
		return rows, ""
	}
	return rows, fmt.Sprintf("%s: rows without the name or place of their stop are taken as its further rows, as both stand once on the row above: %d", t.File, n)
}

// A block is the first row of a stop and those below that may be further ones, as positions in
// the table.
type block []int

// nameOf is what tells a stop: its name, or its place where there is no column of names.
func (l *layout) nameOf(r row) (name string) {
	if l.at[colStop] >= 0 {
		return l.text(r, colStop)
	}
	for _, c := range whereabouts {
		if text := l.text(r, c); text != "" {
			name += " " + text
		}
	}
	return name
}

func (l *layout) blocksOf(t table) (blocks []block) {
	last, named := "", false
	for i, r := range t.Rows {
		switch name := l.nameOf(r); {
		case name != "" && (name != last || !named):
			last, named = name, !namesSum(name)
			if named {
				blocks = append(blocks, block{i})
			}
		case named && l.foundIn(r) && l.samePlace(r, t.Rows[blocks[len(blocks)-1][0]]):
			blocks[len(blocks)-1] = append(blocks[len(blocks)-1], i)
		}
	}
	return blocks
}

// usualRows is how many rows three quarters of the stops have, whose rows are not numbered; 0
// where they have one each, or differ.
func (l *layout) usualRows(t table, blocks []block) (usual int) {
	times, all := map[int]int{}, 0
	for _, b := range blocks {
		if l.numbered(t.Rows[b[0]]) {
			continue
		}
		all++
		n := 0
		for _, i := range b {
			if !l.sums[t.Rows[i].Line] {
				n++
			}
		}
		times[n]++
	}
	for n, k := range times {
		if n > 1 && k > 1 && 4*k >= 3*all {
			usual = n
		}
	}
	return usual
}

// furtherRows are those of a block that are of its stop. Rows without a name that are another
// stop's, whose name was lost, are remembered as such.
func (l *layout) furtherRows(t table, b block, usual int) (further []int) {
	plain := 0
	for _, i := range b {
		if r := t.Rows[i]; !l.sums[r.Line] && !l.numbered(r) {
			plain++
		}
	}
	leaves := map[[2]string]bool{} // of the stop
	lost, n := 0, 0                // line of the stop that lost its name; rows that are not numbered
	for k, i := range b {
		r := t.Rows[i]
		if l.sums[r.Line] {
			continue
		}
		if k == 0 || l.nameOf(r) != "" {
			leaves[l.leafOf(r)] = true
			n++
			if k > 0 {
				further = append(further, i)
			}
			continue
		}
		switch {
		case l.numbered(r):
			if !l.numberedAs(r, t.Rows[b[0]]) {
				continue
			}
			if leaves[l.leafOf(r)] { // plants are counted from one again: another stop, whose name is missing
				lost = r.Line
				clear(leaves)
			}
			leaves[l.leafOf(r)] = true
		case l.numbered(t.Rows[b[0]]), usual == 0:
			continue
		case plain > usual && plain%usual != 0: // nothing tells where the other begins
			if lost == 0 {
				lost = r.Line
			}
		default:
			if n > 0 && n%usual == 0 {
				lost = r.Line
			}
			n++
		}
		if lost > 0 {
			l.ofLost(r, lost)
			continue
		}
		further = append(further, i)
	}
	return further
}

// ofLost remembers of a row which stop without a name it is of, by the line of its first.
func (l *layout) ofLost(r row, first int) {
	if l.lost == nil {
		l.lost = map[int]int{}
	}
	l.lost[r.Line] = first
}

func (l *layout) leafOf(r row) [2]string { return [2]string{l.text(r, colPlant), l.text(r, colLeaf)} }

// numbered reports whether a row tells its plant or leaf.
func (l *layout) numbered(r row) bool { return l.leafOf(r) != [2]string{} }

// leavesOut reports whether a row lacks its name or a part of its place.
func (l *layout) leavesOut(r row) bool {
	if l.nameOf(r) == "" {
		return true
	}
	return slices.ContainsFunc(whereabouts[:], func(c column) bool { return l.at[c] >= 0 && l.text(r, c) == "" })
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
