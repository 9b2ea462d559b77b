//go:build !small

package survey

import (
	"math"

	"github.com/geocoris/geocoris/geo/geofile"
)

// leastSame is how many different numbers two columns share before one is a copy of the other.
const leastSame = 5

// checkPasted refuses counts that are what the leaves are in each row: one column was put over
// the other, and every stop has one pest a leaf. Whole stops of one leaf have no such numbers.
func (l *layout) checkPasted(file string, rows []row, incoming bool) error {
	if !incoming || l.at[colCount] < 0 || l.at[colLeaves] < 0 {
		return nil
	}
	count, leaves := l.numberIn(colCount), l.numberIn(colLeaves)
	different, line := map[float64]bool{}, 0
	for _, r := range rows {
		n, of := count(r), leaves(r)
		switch {
		case math.IsNaN(n) || math.IsNaN(of):
			continue
		case n != of:
			return nil
		}
		if different[n] = true; line == 0 {
			line = r.Line
		}
	}
	if len(different) < leastSame {
		return nil
	}
	return &geofile.Error{
		File: file, Line: line, Msg: "count and leaves are the same in every row: was one column put over the other?",
		Hint: "put the right numbers back; leave the column of leaves out if each row is one leaf",
	}
}
