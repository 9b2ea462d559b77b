package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Stops is how many stops of a field its mean is of, and how many more stand extra: 43
// stops and 6 extra.
func Stops(f *assess.Field, u figures.Units) string {
	extra := f.ExtraStops()
	return StopsAnd(len(f.Stops)-extra, extra, u)
}

// StopsAnd is how many stops a mean is of, and how many more stand extra.
func StopsAnd(stops, extra int, u figures.Units) string {
	return andExtra(u.Counted(stops, "stop"), extra, u)
}

func andExtra(stops string, extra int, u figures.Units) string {
	if extra == 0 {
		return stops
	}
	return u.Say("%s and %d extra", stops, extra)
}

// Used says how many stops of a field were used, of how many where not all were.
func Used(v verdict.Verdict, u figures.Units) string {
	all := allStops(v, u)
	if all == "" {
		return u.Say("%s used", StopsAnd(v.Stats.Stops, v.Stats.Extra, u))
	}
	return stopsOfAll(v.Stats.Stops, v.Stats.Extra, all, u)
}

func stopsOfAll(stops, extra int, all string, u figures.Units) string {
	return andExtra(u.Say("%d of %s stops used", stops, all), extra, u)
}

// Unused is how many stops may lie in a field, or near it, that were not used.
func Unused(v verdict.Verdict) int {
	lost, _, _ := assess.Lost(v.Unread)
	return lost + v.Away
}

// allStops is of how many stops those used are, the extra ones aside; "" where all were.
func allStops(v verdict.Verdict, u figures.Units) string {
	_, _, loose := assess.Lost(v.Unread)
	return ofStops(v.Stats.Stops, Unused(v), loose || v.AwayLoose, u)
}

// ofStops is the sum of those used and those that were not, at most so many where that is
// loose; "" where all were used.
func ofStops(used, not int, loose bool, u figures.Units) string {
	switch {
	case not == 0:
		return ""
	case loose:
		return u.Say("up to %d", used+not)
	}
	return fmt.Sprint(used + not)
}
