package engine

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// seenNotes tell what was written down beside the counts of each field, since no map
// shows it: enemies are context and never a veto.
func seenNotes(r *assess.Result) (notes []string) {
	for _, f := range r.Fields {
		var seen []string
		for i, name := range survey.SignNames() {
			sum, at, stops := 0.0, 0, 0
			for _, s := range f.Stops {
				n, some := signAt(s.Stop, i)
				sum += n
				if some {
					stops++
				}
				if n > 0 {
					at++
				}
			}
			if stops > 0 {
				seen = append(seen, fmt.Sprintf("%s %g, at %d of %d stops", name, sum, at, stops))
			}
		}
		if len(seen) > 0 {
			notes = append(notes, fmt.Sprintf("field %q: written down beside the counts: %s", f.Name, strings.Join(seen, "; ")))
		}
	}
	return notes
}

// signAt adds up a sign, by its place in [survey.Seen.Signs], over a stop's rows.
func signAt(s survey.Stop, sign int) (sum float64, entered bool) {
	for _, r := range s.Records {
		if r.Seen == nil {
			continue
		}
		found := r.Seen.Signs()[sign]
		entered = entered || found.Entered()
		if !math.IsNaN(found.Number) {
			sum += found.Number
		}
	}
	return sum, entered
}
