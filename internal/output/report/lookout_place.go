package report

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// outOfPlaceOf names stops that stand at the place of another, where they cannot have been counted,
// with the counts of those at the spray level or higher than all others of the field.
func outOfPlaceOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	moved, stat, used, highest := displaced(f.Unread), r.Of(f).Statistic, 0.0, 0.0
	for _, s := range f.Stops {
		used = max(used, s.Value)
	}
	values := make([]float64, len(moved)) // 0 of those not known
	for i, l := range moved {
		if low, high := l.Bounds(stat); low == high {
			values[i], highest = low, max(highest, low)
		}
	}
	var names []string
	first, one, larger := "", true, ""
	for i, l := range moved {
		name := l.Rows[0].Row.Stop
		if value := values[i]; value >= v.Treat || value > used {
			name, larger = fmt.Sprintf("%s (%s)", name, hotValue(assess.HotLost{Value: value, Highest: value > used && value == highest}, stat, u)), largerBy(v, u)
		}
		one = one && (names == nil || first == l.PlaceOf)
		names, first = append(names, name), l.PlaceOf
	}
	switch {
	case names == nil:
		return ""
	case len(names) == 1:
		return sentenced(u.Say("Stop %s has the place of stop %s: did the phone keep one fix, or was it copied down? Give each stop its own place.", names[0], first), larger)
	case one:
		return sentenced(u.Say("Stops %s have the place of stop %s: did the phone keep one fix, or was it copied down? Give each stop its own place.", firstNames(names, u), first), larger)
	}
	return sentenced(u.Say("Stops %s have the place of a stop before them: did the phone keep one fix, or was it copied down? Give each stop its own place.", firstNames(names, u)), larger)
}

// sharedPlaces asks which count holds of two stops at one place that are of different zones.
func sharedPlaces(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	var again []string
	hottest, most := assess.SharedPlace{}, 0.0
	for _, s := range v.Shared {
		again = append(again, f.Stops[s.Then].Name)
		if high := max(f.Stops[s.First].Value, f.Stops[s.Then].Value); high > most {
			hottest, most = s, high
		}
	}
	if len(again) == 0 {
		return ""
	}
	first, then := f.Stops[hottest.First], f.Stops[hottest.Then]
	said := u.Say("Stops %s and %s are at one place, with %s and %s: which holds?", first.Name, then.Name, u.Short(first.Value), levelWith(then.Value, r.Of(f).Statistic, u))
	if others := slices.DeleteFunc(again, func(name string) bool { return name == then.Name }); len(others) > 0 {
		said = sentenced(said, u.Say("Ask the same of %s.", firstNames(others, u)))
	}
	return sentenced(said, largerBy(v, u))
}
