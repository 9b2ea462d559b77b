package report

import (
	"cmp"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// oddUnitsOf names the stops of the field whose leaves are far from those of the others, and
// whether they would be on the other side of the spray level if that is a slip.
func oddUnitsOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) []string {
	var more, fewer []oddStop
	for _, o := range r.Survey.Odd {
		i := slices.IndexFunc(f.Stops, func(s assess.Stop) bool { return survey.StopKey(s.Stop) == survey.StopKey(o.Stop) })
		switch {
		case i < 0:
		case o.More():
			more = append(more, oddStop{o, f.Stops[i].Value})
		default:
			fewer = append(fewer, oddStop{o, f.Stops[i].Value})
		}
	}
	return sentencesOf(manyLeaves(more, v, u), fewLeaves(fewer, v, u))
}

// An oddStop has the value of its statistic as read.
type oddStop struct {
	survey.OddUnits
	value float64
}

// asUsual is the value if what was found was found on as many leaves as usual.
func (o oddStop) asUsual() float64 { return o.value * o.Stop.Units / o.Usual }

// looked is what the stop was counted on: 100 leaves.
func (o oddStop) looked(u figures.Units) string {
	return u.Counted(int(o.Things()), o.Stop.Of().Thing)
}

func manyLeaves(odd []oddStop, v verdict.Verdict, u figures.Units) string {
	said := ""
	switch {
	case len(odd) == 1:
		said = u.Say("Stop %s has %s, most others about %g: is there a 0 too many?", odd[0].Stop.Name, odd[0].looked(u), odd[0].UsualThings())
	case len(odd) > 1:
		said = u.Say("Stops %s have %s or more, most others about %g: is there a 0 too many?", namesOfOdd(odd, u), slices.MinFunc(odd, byUnits).looked(u), odd[0].UsualThings())
	}
	if slices.ContainsFunc(odd, func(o oddStop) bool { return o.value < v.Treat && o.asUsual() >= v.Treat }) {
		said = sentenced(said, u.Text("If so, it is at the spray level: set that right before you decide."))
	}
	return said
}

func fewLeaves(odd []oddStop, v verdict.Verdict, u figures.Units) string {
	said := ""
	switch {
	case len(odd) == 1:
		said = u.Say("Stop %s has %s, most others about %g: is a 0 missing?", odd[0].Stop.Name, odd[0].looked(u), odd[0].UsualThings())
	case len(odd) > 1:
		said = u.Say("Stops %s have %s or fewer, most others about %g: is a 0 missing?", namesOfOdd(odd, u), slices.MaxFunc(odd, byUnits).looked(u), odd[0].UsualThings())
	}
	if slices.ContainsFunc(odd, func(o oddStop) bool { return o.value >= v.Treat && o.asUsual() < v.Treat }) {
		said = sentenced(said, u.Text("If so, it is below the spray level: set that right before you decide."))
	}
	return said
}

func byUnits(a, b oddStop) int { return cmp.Compare(a.Stop.Units, b.Stop.Units) }

// mostOddNamed is how many stops are named on a first view; check names all.
const mostOddNamed = 6

func namesOfOdd(odd []oddStop, u figures.Units) string {
	names := make([]string, len(odd))
	for i, o := range odd {
		names[i] = o.Stop.Name
	}
	return firstNames(names, u)
}

func firstNames(names []string, u figures.Units) string {
	first := names[:min(len(names), mostOddNamed)]
	if more := len(names) - len(first); more > 0 {
		return strings.Join(first, ", ") + u.Say(" and %d more", more)
	}
	return strings.Join(first, ", ")
}
