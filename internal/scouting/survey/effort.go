package survey

import (
	"fmt"
	"slices"
)

// plantsLookedAt reports that a header is that of a column of how many plants a row is
// of.
func plantsLookedAt(header string) bool { return tellsHowMany(header, plantsInHeader()) }

// tellPlants reports that columns tell something of plants, so that how many were looked
// at is asked for besides the counts.
func tellPlants(header []string, meaning func(header string) (column, bool)) bool {
	return slices.ContainsFunc(header, func(h string) bool {
		c, known := meaning(h)
		return known && (c == colOver || c == colHoneydew || c == colColonies)
	})
}

// meaningFor reads headers for counts of a unit. Where plants are counted a column of
// plants is how many were looked at, and one of leaves is not; where leaves are, a
// file that tells plants alone does not tell what its counts are of.
func meaningFor(t table, unit string) (func(header string) (column, bool), error) {
	plants := slices.IndexFunc(t.Header, func(h string) bool { return plantsLookedAt(h) })
	exact := slices.ContainsFunc(t.Header, func(h string) bool { c, known := (*meanings())[same(h)]; return known && c == colLeaves })
	plain := func(header string) (column, bool) {
		c, known := (*meanings())[same(header)]
		if !known && !exact && tellsHowMany(header, leavesInHeader()) {
			return colLeaves, true
		}
		return c, known
	}
	leaves := slices.ContainsFunc(t.Header, func(h string) bool { c, known := plain(h); return known && (c == colLeaves || c == colEmpty) })
	switch {
	case plants >= 0 && unit == "plant":
		return func(header string) (column, bool) {
			if plantsLookedAt(header) {
				return colLeaves, true
			}
			c, known := plain(header)
			return c, known && c != colLeaves
		}, nil
	case plants >= 0 && unit == "leaf" && !leaves:
		return nil, fmt.Errorf("%s: column %s says how many plants were looked at, and counts are asked for per leaf: give --unit plant, or a column of leaves (--map %s=leaves if it means leaves)",
			t.File, quote(t.Header[plants]), shorten(t.Header[plants]))
	}
	return plain, nil
}
