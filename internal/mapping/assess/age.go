package assess

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// weeklyGrowth is by how much severely infested ground grew within a week: area
// +65 % (Backoulou et al. 2018, Southwest. Entomol. 43:823–832), which is a radius
// 1.285 times as long.
const weeklyGrowth = 1.65

// Growth is by how much treat ground is grown for what patches grow until a spray.
// The zero value is none.
type Growth struct {
	Margin float64 // metres
	Days   float64 // from the field's first count to the spray
}

// GrowthOf is that of each field, in their order, where the spray comes so many days
// after the last count of the result: a field that was counted before has grown for
// longer. It is by how far the edge of the field's largest treat patch, taken as
// round, moves out if its area grows by 65 % a week; 0 where nothing is to be treated.
// Days must be finite, not negative, and no more than four weeks for any field, beyond
// which no map is of use.
func GrowthOf(r *Result, days float64) ([]Growth, error) {
	const most = 28
	if !(days >= 0 && days <= most) {
		return nil, fmt.Errorf("spray in %g days: want 0 to %d", days, most)
	}
	all := make([]Growth, len(r.Fields))
	for i, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		age := days + r.lag(f)
		if age > most {
			return nil, fmt.Errorf("field %q: the spray would be %g days after its count of %s: want 0 to %d", f.Name, age, f.Days()[0], most)
		}
		all[i] = Growth{Margin: f.largestRadius() * (math.Pow(weeklyGrowth, age/14) - 1), Days: age}
	}
	return all, nil
}

// lag is how many days before the last count of all fields a field was first counted; 0
// where the samples do not tell.
func (r *Result) lag(field *Field) float64 {
	days := field.Days()
	if len(days) == 0 {
		return 0
	}
	last := days[0]
	for _, f := range r.Fields {
		if d := f.Days(); len(d) > 0 {
			last = max(last, d[len(d)-1])
		}
	}
	if lag := visit.Between(days[0], last); lag > 0 {
		return lag
	}
	return 0
}

// largestRadius is that of a disc as large as the largest treat patch, in metres.
func (f *Field) largestRadius() float64 {
	if f.Map.Forgotten() {
		return f.radius
	}
	var largest float64
	for _, p := range f.Map.Zone(zones.Treat).Polygons {
		largest = max(largest, geo.Area(orb.MultiPolygon{p}))
	}
	return math.Sqrt(largest / math.Pi)
}
