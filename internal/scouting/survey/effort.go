package survey

import (
	"slices"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// How much was looked at is in the unit that counts are asked for of, whatever the table
// calls it: leaves, plants, or sweeps, of which ten may be one unit.

// plantsLookedAt reports that a header is that of a column of how many plants a row is
// of.
func plantsLookedAt(header string) bool { return tellsHowMany(header, plantsInHeader()) }

// tellPlants reports that columns tell something of plants, so that how many were looked
// at is asked for besides the counts.
func tellPlants(header []string, meaning func(header string) (column, bool)) bool {
	return slices.ContainsFunc(header, func(h string) bool {
		c, known := meaning(h)
		return known && (c == colOver || c == colHoneydew || c == colColonies)
	})
}

// An effort is how a table tells how much was looked at.
type effort struct {
	unit vocabulary.Unit // of the counts; no thing where that does not matter
	of   string          // things that its column counts, in one; "" where it does not say, or there is none
}

// size is how many of what the column counts are one unit.
func (e effort) size() float64 {
	if e.of == e.unit.Thing && e.unit.Size > 1 {
		return float64(e.unit.Size)
	}
	return 1
}

// counted is what rows are of, as [Looked] has it.
func (e effort) counted() string {
	if e.of == e.unit.Thing && e.unit.Size > 1 {
		return e.unit.String()
	}
	return e.of
}

// column is the header that the table should have.
func (e effort) column() string {
	if e.unit.Thing == "" {
		return colLeaves.String()
	}
	return e.unit.Column()
}

// one is what a row is taken as where nothing tells: one, or 10 sweeps.
func (e effort) one() string {
	if e.unit.Size > 1 {
		return e.unit.String()
	}
	return "one"
}

// each is "per leaf", or "in 10 sweeps".
func (e effort) each() string {
	if e.unit.Size > 1 {
		return "in " + e.unit.String()
	}
	return "per " + e.unit.Thing
}

// An OtherUnit is a table that tells how many of something else were looked at than counts are
// asked for of.
type OtherUnit struct{ text string }

func (e *OtherUnit) Error() string { return e.text }
