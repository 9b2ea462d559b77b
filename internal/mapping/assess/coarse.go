package assess

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// mostMinArea is the part of a field that the least patch may be: were it larger, ground
// that is not treated would be small too, and join the worse. Judgement, no source.
const mostMinArea = 0.25

// leastAcross is how many cells a square field has along its side at the least: with fewer
// the form of a patch is that of its cells. Judgement, no source.
const leastAcross = 8

// tooCoarse refuses a least patch or cells that are too large for the largest of the fields
// that were counted in; a smaller field takes a smaller patch.
func tooCoarse(sites []site, stops [][]Stop, set Settings) error {
	largest, name := 0.0, ""
	for i, s := range sites {
		if area := geo.Area(s.xy); len(stops[i]) > 0 && area > largest {
			largest, name = area, s.field.Name
		}
	}
	most := mostMinArea * largest
	size := func() string { return fmt.Sprintf("field %q has %s", name, figures.Metric.Area(largest)) }
	switch {
	case largest == 0:
	case setting(set.MinArea) > most:
		return fmt.Errorf("min-area %g: %s: want a quarter of it at the most, %.0f m²", *set.MinArea, size(), math.Floor(most))
	case set.Cell*leastAcross > math.Sqrt(largest):
		return fmt.Errorf("cell %g: %s, and so large cells show no zones in it: want %.0f m or less", set.Cell, size(), math.Floor(math.Sqrt(largest)/leastAcross))
	}
	return nil
}
