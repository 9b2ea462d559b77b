package verdict

import "github.com/geocoris/geocoris/internal/scouting/plan"

// wholeField is where stops are walked that are planned as if there were none yet.
const wholeField = "over the whole field"

// enough is how many more stops an answer needs in truth that too few were walked for: those
// of the line that decided may leave open what a line below it asks for, and who has walked
// them would be sent out again. Stops that are planned anew need not stand where the first do
// not, so there are as many as if there were none.
func enough(lines []line, f Figures, s Settings) (more int) {
	for _, l := range lines {
		if l.few && l.when(f, s) {
			more = max(more, l.more(f, s))
		}
	}
	if fewToPlanAfter(f) {
		more += f.Stats.Stops
	}
	return max(1, min(s.MostStops, more))
}

func fewToPlanAfter(f Figures) bool { return f.Stats.Stops < plan.LeastCounted }

// Anew reports whether the stops that an answer asks for are planned as if there were none
// yet: the few that there are do not tell where more would help.
func (v Verdict) Anew() bool {
	return v.More > 0 && fewToPlanAfter(v.Figures) && len(v.Round)+len(v.InsideOf) == 0
}
