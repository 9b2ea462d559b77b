package engine

import (
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/sorted"
)

// WorstFirst are the verdicts of a map in the order of lists.
func (o *MapOutcome) WorstFirst() []verdict.Verdict {
	all := slices.Clone(o.Verdicts)
	sorted.Stably(all, func(a, b verdict.Verdict) int { return verdict.WorstFirst(&a, &b) })
	return all
}
