package survey

import (
	"errors"
	"fmt"
	"math"
)

// total is the count on all units of the row: the count itself, the mean times
// the units where the count is blank, or the groups times their size where the
// others are. NaN stands where it was not counted.
func (rd *reader) total(units float64) float64 {
	if rd.notCounted() {
		return math.NaN()
	}
	main := colCount
	if rd.has(colMean) && (!rd.has(colCount) || rd.text(colCount) == "" && rd.text(colMean) != "") {
		main = colMean
	}
	switch {
	case rd.grouped() && (!rd.has(main) || rd.text(main) == ""):
		return rd.groups(units)
	case main == colMean:
		v, ok := rd.number(colMean)
		return rd.plausible(colMean, v*units, units, ok)
	}
	if c, isClass := classOf(rd.text(colCount)); isClass {
		return rd.plausible(colCount, c.middle(), units, true)
	}
	if rd.text(colCount) == "" && rd.empty() > 0 && rd.text(colLeaves) == "" {
		return 0 // the row tells only how many were empty
	}
	v, ok := rd.number(colCount)
	if ok && v != math.Trunc(v) {
		if _, bound := rd.mappedBounds(v, units); bound {
			return rd.plausible(colCount, v, units, ok)
		}
		rd.refuse(colCount, "is no whole number", "write the count; name the column mean_per_leaf if it holds means")
		return v
	}
	if ok {
		rd.agree(v, units)
	}
	return rd.plausible(colCount, v, units, ok)
}

// grouped says whether the row tells groups and their size.
func (rd *reader) grouped() bool {
	if !rd.has(colGroups) || !rd.has(colGroupSize) {
		return false
	}
	// Without another column the cells must be filled, and their blanks be reported.
	return !rd.has(colCount) && !rd.has(colMean) || rd.text(colGroups) != "" && rd.text(colGroupSize) != ""
}

func (rd *reader) groups(units float64) float64 {
	n, okN := rd.number(colGroups)
	size, okSize := rd.number(colGroupSize)
	if okN && okSize && size < 0 {
		rd.refuse(colGroupSize, "is negative", "write the size of a group")
		return 0
	}
	return rd.plausible(colGroups, n*size, units, okN && okSize)
}

// agree compares a count with what else the row says it is. A mean may have been
// rounded to a whole number.
func (rd *reader) agree(count, units float64) {
	if rd.grouped() {
		n, errN := rd.parseCell(colGroups)
		size, errSize := rd.parseCell(colGroupSize)
		if errN == nil && errSize == nil && n*size != count {
			rd.doubt(colCount, fmt.Sprintf("but %g groups of %g are %g; the count is used", n, size, n*size), "correct the one that is wrong")
		}
	}
	if mean, err := rd.parseCell(colMean); err == nil && math.Abs(mean-count/units) > 0.5 {
		rd.doubt(colCount, fmt.Sprintf("but a mean of %g on %g is %g; the count is used", mean, units, mean*units), "correct the one that is wrong")
	}
}

func (rd *reader) plausible(c column, total, units float64, ok bool) float64 {
	switch perUnit := total / units; {
	case !ok || !(units > 0):
	case total < 0:
		rd.refuse(c, "is negative", "write the count, 0 if nothing was found")
	case perUnit > mostTotal:
		rd.refuse(c, fmt.Sprintf("is more than %d on each", mostTotal), "check the digits")
	case perUnit > mostPerUnit:
		rd.doubt(c, fmt.Sprintf("is more than %d on each", mostPerUnit), "check the digits")
	}
	return total
}

func (rd *reader) infested(units, total float64) float64 {
	if rd.text(colInfested) == "" {
		return math.NaN()
	}
	v, err := rd.parseCell(colInfested)
	switch {
	case errors.As(err, new(errTwoWays)):
		rd.doubt(colInfested, err.Error()+"; not used", fixOf(err, colInfested))
		return math.NaN()
	case err != nil || v < 0 || v > units || v != math.Trunc(v):
		rd.doubt(colInfested, fmt.Sprintf("is not a number from 0 to the %g looked at; not used", units), "write how many were infested")
		return math.NaN()
	case !math.IsNaN(total) && (v == 0) != (total == 0):
		rd.doubt(colInfested, fmt.Sprintf("does not go with the %g counted; not used", total), "correct the one that is wrong")
		return math.NaN()
	}
	return v
}
