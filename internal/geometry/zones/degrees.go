package zones

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// decimals are kept of a degree: 1e-7° is 11 mm or less on the ground.
const decimals = 1e7

// InDegrees returns, label by label, the areas of a coverage in degrees with seven
// decimals. Rounding is done for all of them at once, so they still share every
// vertex, do not overlap and are valid; what vanishes under it is not returned.
func InDegrees(c *planar.Coverage, frame geo.Frame) (area func(label int) orb.MultiPolygon) {
	centre := frame.Centre()
	lon0, lat0 := math.Round(centre[0]*decimals), math.Round(centre[1]*decimals)
	snapped := c.Snap(func(p orb.Point) orb.Point {
		q := frame.Inverse(p)
		return orb.Point{unwrap(q[0]-centre[0])*decimals + (centre[0]*decimals - lon0), q[1]*decimals - lat0}
	})
	return func(label int) orb.MultiPolygon {
		mp := snapped.Polygons(label).Clone()
		for _, polygon := range mp {
			for _, ring := range polygon {
				for i, p := range ring {
					ring[i] = orb.Point{(p[0] + lon0) / decimals, (p[1] + lat0) / decimals}
				}
			}
		}
		return mp
	}
}

// unwrap brings a difference of longitudes to −180 … 180.
func unwrap(d float64) float64 { return math.Remainder(d, 360) }
