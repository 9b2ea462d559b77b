package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// An After is what is known after a stop of a walk, for its next step.
type After struct {
	Stops, Least int  // made, and before any answer
	Crossed      bool // the walk has been everywhere
	Spoken       float64
	Enough       bool
	More         int // stops that are worth their walk, about; 0 where that is not known
}

// AfterText says after a stop whether to keep going.
func AfterText(a After) string {
	switch {
	case a.Stops < a.Least:
		return fmt.Sprintf("Keep going: at least %s before any answer.", figures.Counted(a.Least-a.Stops, "more stop"))
	case !a.Crossed:
		return fmt.Sprintf("Keep going: cross the field first. So far the stops speak for %s of it.", figures.Percent(a.Spoken))
	case a.Enough:
		return "Enough: one more stop is not worth its walk."
	case a.More == 1:
		return "Keep going: about 1 more stop is worth its walk."
	case a.More > 1:
		return fmt.Sprintf("Keep going: about %d more stops are worth their walk.", a.More)
	}
	return "Keep going: these stops do not tell yet how many more are worth their walk."
}
