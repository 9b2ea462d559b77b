package report

import (
	"cmp"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// fallenOf asks what happened where hot stops had next to nothing a day or two later, the hottest
// first; "" for none.
func fallenOf(all []assess.Fallen, stat assess.Statistic, u figures.Units) string {
	if len(all) == 0 {
		return ""
	}
	hottest := slices.MaxFunc(all, func(a, b assess.Fallen) int { return cmp.Compare(a.From, b.From) })
	said := u.Say("Stop %s fell from %s to %s in %s: was it sprayed, was it another place, or is a count wrong?", hottest.Stop, u.Short(hottest.From), levelWith(hottest.To, stat, u), daysIn(hottest.Days, u))
	var others []string
	for _, f := range all {
		if f != hottest {
			others = append(others, f.Stop)
		}
	}
	if len(others) == 0 {
		return said
	}
	return sentenced(said, u.Say("Ask the same of %s.", firstNames(others, u)))
}
