//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strconv"
)

// The number of leaves, or the count, of a stop may stand once on the first of its rows, or in
// a cell that was merged over them. It is of all rows together then: a row read with it as its
// own would be wrong by as much as there are rows.

// leavesOnce writes one leaf into each row of stops whose rows are as many as the leaves on the
// first, where the others tell none, and says so. First rows with another number of leaves, and
// counts above rows that tell none, are remembered, to be refused, where half of the stops
// with several rows are so.
func (l *layout) leavesOnce(t table) (rows []row, note string) {
	rows = t.Rows
	if l.at[colStop] < 0 || l.at[colLeaves] < 0 && l.at[colLeaf] < 0 && l.at[colPlant] < 0 {
		return rows, ""
	}
	var each, shared, counts [][2]int // from and to
	several := 0
	for from, to := 0, 0; from < len(rows); from = to {
		name := l.text(rows[from], colStop)
		for to = from + 1; to < len(rows) && l.text(rows[to], colStop) == name; to++ {
		}
		if name == "" || to-from < 2 {
			continue
		}
		several++
		stop := [2]int{from, to}
		below := rows[from+1 : to]
		leaves, err := strconv.ParseFloat(l.text(rows[from], colLeaves), 64)
		switch not := func(is func(row) bool) func(row) bool { return func(r row) bool { return !is(r) } }; {
		case l.once(rows[from:to], colCount) && l.numbered(rows[from]) && !slices.ContainsFunc(below, l.foundIn) && !slices.ContainsFunc(below, not(l.numbered)):
			counts = append(counts, stop)
		case err != nil || leaves == 1 || !l.once(rows[from:to], colLeaves) || slices.ContainsFunc(below, not(l.foundIn)):
		case leaves == float64(to-from):
			each = append(each, stop)
		case leaves > 1:
			shared = append(shared, stop)
		}
	}
	if 2*(len(each)+len(shared)) >= several {
		n := 0
		for _, stop := range each {
			if n == 0 {
				rows = slices.Clone(rows)
			}
			for i := stop[0]; i < stop[1]; i++ {
				if at := l.at[colLeaves]; at < len(rows[i].Cells) {
					rows[i].Cells = slices.Clone(rows[i].Cells)
					rows[i].Cells[at] = "1"
				}
				n++
			}
		}
		if n > 0 {
			note = fmt.Sprintf("%s: the leaves of a stop stand once on its first row, and are as many as its rows: each row is read as one leaf: %d", t.File, n)
		}
		if several > 1 {
			l.ofAll(rows, shared, colLeaves)
		}
	}
	if several > 1 && 2*len(counts) >= several {
		l.ofAll(rows, counts, colCount)
	}
	return rows, note
}

// once reports whether the first of some rows fills a column and the others leave it blank.
func (l *layout) once(rows []row, c column) bool {
	for i, r := range rows {
		if at := l.at[c]; at < 0 || i > 0 && at >= len(r.Cells) || (l.text(r, c) == "") == (i == 0) {
			return false
		}
	}
	return true
}

// ofAll remembers a column of the first rows of stops as that of all their rows together.
func (l *layout) ofAll(rows []row, stops [][2]int, c column) {
	for _, stop := range stops {
		if l.together == nil {
			l.together = map[int]column{}
		}
		l.together[rows[stop[0]].Line] = c
	}
}

// refuseTogether refuses a row whose count or leaves are those of several rows.
func (rd *reader) refuseTogether() {
	if c, is := rd.together[rd.row.Line]; is {
		rd.refuse(c, "stands once for several rows of the stop", "write it in each row, or the stop in one row with its count and leaves")
	}
}
