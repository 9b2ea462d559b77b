package report

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// awayOf are stops that lie in no field, of which one is at the watch level or above, but for
// those that are named with what they lie in: the hottest by name, if it is at the spray level
// or higher than all stops of the field.
func awayOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	n := v.Away - len(v.Shut)
	if n == 0 {
		return ""
	}
	stat := r.Of(f).Statistic
	hot, is := r.HotAway(f, stat, v.Treat, v.Shut)
	switch {
	case is:
		return sentenced(sentenced(u.Say("Stop %s (%s) lies in no field; check where it belongs.", hot.Stop, hotValue(hot, stat, u)), moreAway(n-1, u)), largerBy(v, u))
	case n == 1:
		return u.Text("1 stop lies in no field; check where it belongs.")
	}
	return u.Say("%d stops lie in no field; check where they belong.", n)
}

func moreAway(n int, u figures.Units) string {
	switch n {
	case 0:
		return ""
	case 1:
		return u.Text("1 more stop lies in no field.")
	}
	return u.Say("%d more stops lie in no field.", n)
}

// unplacedOf is the hottest stop of the field without a place, if it is at the spray level or
// higher than all others.
func unplacedOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	stat := r.Of(f).Statistic
	hot, is := f.HotUnplaced(stat, v.Treat)
	switch {
	case !is:
		return ""
	case hot.Stop == "":
		return u.Say("A stop (%s) has no place in a field; find out where it was.", hotValue(hot, stat, u))
	}
	return u.Say("Stop %s (%s) has no place in a field; find out where it was.", hot.Stop, hotValue(hot, stat, u))
}

func hotValue(hot assess.HotLost, stat assess.Statistic, u figures.Units) string {
	value := levelWith(hot.Value, stat, u)
	if hot.Highest {
		return u.Say("%s, the highest", value)
	}
	return value
}

// largerBy tells that what was lost may lie beside the ground to be sprayed.
func largerBy(v verdict.Verdict, u figures.Units) string {
	if v.Kind != verdict.SpotSpray {
		return ""
	}
	return u.Text("That may make the red ground larger.")
}
