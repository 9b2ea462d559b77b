//go:build !small

package survey

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo/geofile"
)

// From when on one column is taken for a copy of the other: so many different numbers that
// both have, in so many rows, and as many rows that differ for each that does not. Counts of
// fewer stops may be so by chance, as where all leaves have one or two.
const (
	leastSame     = 5
	leastSameRows = 8
	samePerOther  = 9
)

// checkPasted refuses counts that are what the leaves are in nearly all rows: one column was put
// over the other, and every stop has one pest a leaf. Where shares are asked for, and where the
// infested are as many too, all leaves may be infested; the latter is noted, as these may be what
// was counted. Whole stops of one leaf have no such numbers.
func (l *layout) checkPasted(file string, rows []row, opts Options) (note string, err error) {
	if !opts.Incoming || opts.Shares || l.at[colCount] < 0 || l.at[colLeaves] < 0 {
		return "", nil
	}
	count, leaves, infested := l.numberIn(colCount), l.numberIn(colLeaves), l.numberIn(colInfested)
	different, line, same, others, all := map[float64]bool{}, 0, 0, 0, 0
	for _, r := range rows {
		n, of := count(r), leaves(r)
		switch {
		case math.IsNaN(n) || math.IsNaN(of):
			continue
		case n == of && infested(r) == of:
			all++
			continue
		case n != of:
			others++
			continue
		}
		if different[n] = true; line == 0 {
			line = r.Line
		}
		same++
	}
	if all >= leastSameRows && all >= samePerOther*(same+others) {
		return fmt.Sprintf("%s: count, leaves and infested are the same, and are read as one on each leaf; if only infested leaves were counted, give --tally 1", file), nil
	}
	others += all
	if len(different) < leastSame || same < leastSameRows || same < samePerOther*others {
		return "", nil
	}
	in := "every row"
	if others > 0 {
		in = fmt.Sprintf("%d of %d rows", same, same+others)
	}
	return "", &geofile.Error{
		File: file, Line: line, Msg: "count and leaves are the same in " + in + ": was one column put over the other?",
		Hint: "put the right numbers back; leave the column of leaves out if each row is one leaf; if these are leaves that were infested, give --map count=infested --tally 1",
	}
}
