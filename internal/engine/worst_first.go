package engine

import (
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// WorstFirst are the verdicts of a map in the order of lists.
func (o *MapOutcome) WorstFirst() []verdict.Verdict {
	all := slices.Clone(o.Verdicts)
	slices.SortStableFunc(all, func(a, b verdict.Verdict) int { return verdict.WorstFirst(&a, &b) })
	return all
}
