package change

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// DaysTo is the time until a value grows to a level at a rate per day: of numbers
// ln(level/value)/rate; of shares, whose odds v/(whole − v) grow, the difference of
// the logarithms of the odds by the rate. 0 where it is there, +Inf where it never
// will, as a share above the whole never does; NaN where value or rate is unknown.
// The least of the scale stands in for what is below it, as what was not found may
// yet be there, and a level within the least of the whole is reached there: no share
// grows all the way.
func DaysTo(level, value, rate float64, scale paired.Scale) float64 {
	switch {
	case math.IsNaN(value):
		return math.NaN()
	case value >= level:
		return 0
	case math.IsNaN(rate):
		return math.NaN()
	case rate <= 0, scale.Shares() && level > scale.Whole:
		return math.Inf(1)
	}
	return max(0, (scale.Log(level)-scale.Log(value))/rate)
}

// DaysToGrid is [DaysTo] at every node within reach; what never reaches the
// level is +Inf.
func DaysToGrid(v Visit, level, rate float64, scale paired.Scale) interp.Grid {
	g := interp.NewGrid(v.Surface.Value.Lattice)
	for i := range g.Values {
		g.Values[i] = DaysTo(level, v.known(i), rate, scale)
	}
	return g
}

// Forecast is a visit as it would be some days on: its surface, its stops, and the
// zones they make. Every number grows by e^(rate·days), of shares the odds do: s
// becomes whole/(1 + (whole − s)/s·e^(−rate·days)), where 0 and the whole stay what
// they are. It assumes that nothing moves, nothing is sprayed and the growth stays;
// it is no observation.
func Forecast(field orb.MultiPolygon, v Visit, rate, days float64, scale paired.Scale, set zones.Settings) (Visit, error) {
	if !(days >= 0) || math.IsInf(days, 0) || math.IsNaN(rate) || math.IsInf(rate, 0) {
		return Visit{}, fmt.Errorf("change: forecast over %g days at a rate of %g: want finite numbers, days of 0 or more", days, rate)
	}
	value := interp.Grid{Lattice: v.Surface.Value.Lattice, Values: make([]float64, len(v.Surface.Value.Values))}
	for i, now := range v.Surface.Value.Values {
		value.Values[i] = scale.Grown(now, rate*days)
	}
	out := Visit{Day: v.Day + days, Reach: v.Reach, Surface: zones.Surface{Value: value, Distance: v.Surface.Distance}}
	for _, s := range v.Samples {
		s.Value = scale.Grown(s.Value, rate*days)
		out.Samples = append(out.Samples, s)
	}
	var err error
	out.Map, err = zones.Build(field, out.Surface, out.Samples, set)
	return out, err
}
