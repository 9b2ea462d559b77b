package handoff

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
)

// Advice is what the map said of a field. The zero value is a map that said nothing:
// zones of an older map, or edited by hand.
type Advice struct {
	Verdict   string `json:"verdict"`    // one word or few, as the zones have it
	Heading   string `json:"advice"`     // the verdict with its ground and days
	LookAgain string `json:"look_again"` // day of the next look, YYYY-MM-DD; "" where not told
}

// The verdicts under which a job is made without being asked for twice, in the words
// that verdict.Kind, on a higher floor, gives the zones. All others that are known
// are advice not to spray now.
const (
	spotSpray  = "spot spray"
	treatWhole = "treat the whole field"
)

func adviceOf(p geo.Properties) Advice {
	a := Advice{Verdict: word(p, "verdict"), Heading: word(p, "advice"), LookAgain: word(p, "look_again")}
	if a.Heading == "" {
		a.Heading = a.Verdict
	}
	return a
}

// Known tells whether the zones carry a verdict.
func (a Advice) Known() bool { return a.Verdict != "" }

// Whole tells whether the whole field was to be treated.
func (a Advice) Whole() bool { return a.Verdict == treatWhole }

// Against tells whether the map advised otherwise than to spray now.
func (a Advice) Against() bool { return a.Known() && !a.Whole() && a.Verdict != spotSpray }

// An AdvisedError is a job that the map advised against.
type AdvisedError struct{ Advice Advice }

func (e *AdvisedError) Error() string {
	return fmt.Sprintf("the map's verdict is %q: no job is made against it without --against-verdict", e.Advice.Heading)
}
