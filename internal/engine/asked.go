package engine

import (
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/plan"
)

// An AskedWalk is how many more stops the answer of a field asks for.
type AskedWalk struct {
	Field string
	Stops int
	// Anew tells that too few stops were counted to know where more would help: they are
	// planned as a walk of their own.
	Anew bool
}

// AskedWalks are the walks that the answers ask for and that can be planned for a map: of
// means, not of shares.
func (m *MapOutcome) AskedWalks() (all []AskedWalk) {
	for _, f := range m.Result.Fields {
		for _, v := range m.Verdicts {
			if v.Field == f.Name && v.Kind == verdict.Undecided && v.More > 0 && !f.Statistic.Share() {
				all = append(all, AskedWalk{f.Name, v.More, len(f.Stops) < plan.LeastCounted && len(v.Round)+len(v.InsideOf) == 0})
			}
		}
	}
	return all
}
