package assess

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/zones"
)

// weeklyGrowth is by how much severely infested ground grew within a week: area
// +65 % (Backoulou et al. 2018, Southwest. Entomol. 43:823–832), which is a radius
// 1.285 times as long.
const weeklyGrowth = 1.65

// AgeMargin is by how many metres the edge of a patch moves out within some days,
// if its area grows by 65 % a week: that of the largest treat patch, taken as
// round, since a margin is one for all. It is 0 where nothing is to be treated.
// Days must be finite, not negative, and no more than four weeks, beyond which no
// map is of use.
func AgeMargin(r *Result, days float64) (float64, error) {
	const most = 28
	if !(days >= 0 && days <= most) {
		return 0, fmt.Errorf("spray in %g days: want 0 to %d", days, most)
	}
	var largest float64
	for _, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		for _, p := range f.Map.Zone(zones.Treat).Polygons {
			largest = max(largest, geo.Area(orb.MultiPolygon{p}))
		}
	}
	return math.Sqrt(largest/math.Pi) * (math.Pow(weeklyGrowth, days/14) - 1), nil
}
