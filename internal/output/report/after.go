package report

import "github.com/geocoris/geocoris/internal/language/figures"

// An After is what is known after a stop of a walk, for its next step.
type After struct {
	Stops, Least int  // made, and before any answer
	Crossed      bool // the walk has been everywhere
	Spoken       float64
	Enough       bool
	More         int // stops that are worth their walk, about; 0 where that is not known
}

// AfterText says after a stop whether to keep going, in the language of u.
func AfterText(a After, u figures.Units) string {
	switch {
	case a.Stops < a.Least:
		return u.Say("Keep going: at least %s before any answer.", u.Counted(a.Least-a.Stops, "more stop"))
	case !a.Crossed:
		return u.Say("Keep going: cross the field first. So far the stops speak for %s of it.", u.Percent(a.Spoken))
	case a.Enough:
		return u.Text("Enough: one more stop is not worth its walk.")
	case a.More == 1:
		return u.Text("Keep going: about 1 more stop is worth its walk.")
	case a.More > 1:
		return u.Say("Keep going: about %d more stops are worth their walk.", a.More)
	}
	return u.Text("Keep going: these stops do not tell yet how many more are worth their walk.")
}
