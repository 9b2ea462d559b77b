package report

import (
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// sharedPlaces names stops with the place of the one before, and asks which count holds of two
// stops at one place that are of different zones.
func sharedPlaces(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	var copied, before, again []string
	hottest, most := assess.SharedPlace{}, 0.0
	for _, s := range assess.SharedPlaces(r.Survey, f.Together, len(f.Stops), func(i int) *survey.Stop { return &f.Stops[i].Stop }) {
		first, then := f.Stops[s.First], f.Stops[s.Then]
		switch {
		case s.Copied:
			copied, before = append(copied, then.Name), append(before, first.Name)
		case zoneOf(first.Value, v) != zoneOf(then.Value, v):
			again = append(again, then.Name)
			if high := max(first.Value, then.Value); high > most {
				hottest, most = s, high
			}
		}
	}
	said := ""
	switch len(copied) {
	case 0:
	case 1:
		said = u.Say("Stop %s has the place of stop %s: did the phone keep one fix, or was it copied down? Give each stop its own place.", copied[0], before[0])
	default:
		said = u.Say("Stops %s have the place of the stop before: did the phone keep one fix, or was it copied down? Give each stop its own place.", firstNames(copied, u))
	}
	if len(again) == 0 {
		return said
	}
	first, then := f.Stops[hottest.First], f.Stops[hottest.Then]
	said = sentenced(said, u.Say("Stops %s and %s are at one place, with %s and %s: which holds?", first.Name, then.Name, u.Short(first.Value), levelWith(then.Value, r.Of(f).Statistic, u)))
	if others := slices.DeleteFunc(again, func(name string) bool { return name == then.Name }); len(others) > 0 {
		said = sentenced(said, u.Say("Ask the same of %s.", firstNames(others, u)))
	}
	return said
}

// zoneOf is 0 below the watch level, 1 from there on, and 2 from the spray level on.
func zoneOf(value float64, v verdict.Verdict) (zone int) {
	for _, level := range [...]float64{v.Watch, v.Treat} {
		if value >= level {
			zone++
		}
	}
	return zone
}
