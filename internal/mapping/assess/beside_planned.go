package assess

import (
	"slices"

	"github.com/paulmach/orb"
)

// besidePlace is how far from a stop marked as planned an unmarked one is of its place, of
// the spacing. Our choice, no source.
const besidePlace = 1.0 / 10

// besidePlanned finds unmarked stops that stand at a place of one marked as planned, where
// places usually hold one: a tenth of the spacing from it. Who marks stops as planned says
// which stand for the field, so one more beside them is enough. Where nothing is marked it
// is not: of stops at random many pairs stand as near.
func besidePlanned(spacing float64, stops neighbours, at []orb.Point, counts counted, found []Together) (all []Together) {
	if !slices.Contains(counts.planned, true) || !slices.Contains(counts.planned, false) {
		return nil
	}
	near := stops.near(besidePlace * spacing)
	if usual(stops.groups(near)) != 1 {
		return nil
	}
	taken := takenBy(found, len(at))
	for _, i := range stops.number { // in any order of the rows alike
		if !counts.planned[i] || taken[i] {
			continue
		}
		group := slices.DeleteFunc(near[i], func(k int) bool { return taken[k] || counts.planned[k] })
		if len(group) == 0 {
			continue
		}
		t := Together{At: i, Spacing: spacing}
		t.of(group, at)
		for _, k := range t.Others {
			taken[k] = true
		}
		all = append(all, t)
	}
	return all
}

// takenBy are the stops, of so many, that stand for a place or are taken as extra.
func takenBy(found []Together, n int) []bool {
	taken := make([]bool, n)
	for _, t := range found {
		taken[t.At] = true
		for _, i := range t.Others {
			taken[i] = true
		}
	}
	return taken
}
