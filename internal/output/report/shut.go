package report

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// outlineOrPlace is what to find out of a stop that lies in what was left out of its field.
func outlineOrPlace(s assess.Shut, u figures.Units) string {
	if s.Hole {
		return u.Say("find out today whether stop %s or the hole of %q, in which it lies, has the wrong place", s.Stop, s.In)
	}
	return u.Say("find out today whether stop %s or %q, in which it lies, has the wrong place", s.Stop, s.In)
}

// shutOf names the highest stop that lies in what was left out of the field, and how many
// others there are.
func shutOf(v verdict.Verdict, stat assess.Statistic, u figures.Units) string {
	if len(v.Shut) == 0 {
		return ""
	}
	s := v.Shut[0]
	value := levelWith(s.Value, stat, u)
	text := u.Say("Stop %s (%s) lies in %q, which was left out of the field: is the outline or the place wrong?", s.Stop, value, s.In)
	if s.Hole {
		text = u.Say("Stop %s (%s) lies in a hole of %q, such as a pond: is the outline or the place wrong?", s.Stop, value, s.In)
	}
	switch n := len(v.Shut) - 1; n {
	case 0:
		return text
	case 1:
		return text + " " + u.Text("1 more stop is left out so.")
	default:
		return text + " " + u.Say("%d more stops are left out so.", n)
	}
}
