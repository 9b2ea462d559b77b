//go:build !small

package survey

import "strconv"

// mappedBounds are the least and the most that a count may be by the bounds that map wrote
// beside it: it stands for classes, or was corrected by observer. ok is false where there are
// none about it.
func (rd *reader) mappedBounds(count, units float64) (b class, ok bool) {
	at := rd.table.bounds
	if at[0] == 0 {
		return b, false
	}
	low, err := strconv.ParseFloat(rd.row.Cells[at[0]-1], 64)
	if err != nil {
		return b, false
	}
	high, err := strconv.ParseFloat(rd.row.Cells[at[1]-1], 64)
	b = class{low * units, high * units}
	return b, err == nil && low < high && b.low <= count && count <= b.high
}
