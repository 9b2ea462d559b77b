package engine

import "github.com/geocoris/geocoris/internal/mapping/verdict"

// An AskedWalk is how many more stops the answer of a field asks for.
type AskedWalk struct {
	Field string
	Stops int
	Anew  bool // over the whole field: the stops there are do not tell where more would help
}

// AskedWalks are the walks that the answers ask for and that can be planned for a map: of
// means, not of shares.
func (m *MapOutcome) AskedWalks() (all []AskedWalk) {
	for _, f := range m.Result.Fields {
		for _, v := range m.Verdicts {
			if v.Field == f.Name && v.Kind == verdict.Undecided && v.More > 0 && !f.Statistic.Share() {
				all = append(all, AskedWalk{f.Name, v.More, v.Anew()})
			}
		}
	}
	return all
}
