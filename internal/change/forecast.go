package change

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/zones"
	"github.com/geocoris/geocoris/interp"
)

// DaysTo is the time until a value grows to a level at a rate per day: 0 where it
// is there, +Inf where it never will, NaN where value or rate is unknown. least
// stands in for what is below it, as what was not found may yet be there.
func DaysTo(level, value, rate, least float64) float64 {
	switch {
	case math.IsNaN(value):
		return math.NaN()
	case value >= level:
		return 0
	case math.IsNaN(rate):
		return math.NaN()
	case rate <= 0:
		return math.Inf(1)
	}
	return max(0, math.Log(level/max(value, least))/rate)
}

// DaysToGrid is [DaysTo] at every node within reach; what never reaches the
// level is +Inf.
func DaysToGrid(v Visit, level, rate, least float64) interp.Grid {
	g := interp.NewGrid(v.Surface.Value.Lattice)
	for i := range g.Values {
		g.Values[i] = DaysTo(level, v.known(i), rate, least)
	}
	return g
}

// Forecast is a visit as it would be some days on, everything growing at one
// rate: its surface, its stops, and the zones they make. It assumes that nothing
// moves, nothing is sprayed and the growth stays; it is no observation.
func Forecast(field orb.MultiPolygon, v Visit, rate, days float64, set zones.Settings) (Visit, error) {
	if !(days >= 0) || math.IsInf(days, 0) || math.IsNaN(rate) || math.IsInf(rate, 0) {
		return Visit{}, fmt.Errorf("change: forecast over %g days at a rate of %g: want finite numbers, days of 0 or more", days, rate)
	}
	factor := math.Exp(rate * days)
	out := Visit{Day: v.Day + days, Reach: v.Reach, Surface: zones.Surface{
		Value:    interp.Grid{Lattice: v.Surface.Value.Lattice, Values: scaled(v.Surface.Value.Values, factor)},
		Distance: v.Surface.Distance,
	}}
	for _, s := range v.Samples {
		s.Value *= factor
		out.Samples = append(out.Samples, s)
	}
	var err error
	out.Map, err = zones.Build(field, out.Surface, out.Samples, set)
	return out, err
}

func scaled(values []float64, factor float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v * factor
	}
	return out
}
