package engine

import (
	"cmp"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// badness orders answers for a list: what has to be sprayed before what is not decided,
// and that before what can wait.
var badness = map[verdict.Kind]int{verdict.TreatWhole: 0, verdict.SpotSpray: 1, verdict.Undecided: 2, verdict.LookAgain: 3, verdict.NoSpray: 4, verdict.None: 5}

// WorstFirst are the verdicts of a map by what there is to do, those alike by the means of
// their fields, the highest first.
func (o *MapOutcome) WorstFirst() []verdict.Verdict {
	means := map[string]float64{}
	for _, f := range o.Result.Fields {
		if means[f.Name] = f.Mean; math.IsNaN(f.Mean) {
			means[f.Name] = -1
		}
	}
	all := slices.Clone(o.Verdicts)
	slices.SortStableFunc(all, func(a, b verdict.Verdict) int {
		return cmp.Or(cmp.Compare(badness[a.Kind], badness[b.Kind]), cmp.Compare(means[b.Field], means[a.Field]))
	})
	return all
}
