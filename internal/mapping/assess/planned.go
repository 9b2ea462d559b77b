package assess

import (
	"math"

	"github.com/geocoris/geocoris/interp"
)

// Planned are the stops whose mean is the field's: all but the extra ones, which stand
// where more was to be learnt; all where there are no others.
func (f *Field) Planned() []Stop { return planned(f.Stops) }

// ExtraStops is how many stops the mean leaves out.
func (f *Field) ExtraStops() int { return len(f.Stops) - len(f.Planned()) }

// shared are samples of which those that crowd have one say together: a planned stop and
// the extra ones that stand nearer to it than to any other, and no farther than a third of
// the reach of stops, which is half of their usual spacing. Else a walk round one hot stop
// would carry it over half of the field.
func shared(stops []Stop, samples []interp.Sample, reach float64) []interp.Sample {
	of, crowd := make([]int, len(stops)), make([]float64, len(stops))
	for i, s := range stops {
		of[i] = i
		least := reach / 3
		for k, p := range stops {
			if d := math.Hypot(p.XY[0]-s.XY[0], p.XY[1]-s.XY[1]); s.Extra && !p.Extra && d <= least {
				of[i], least = k, d
			}
		}
		crowd[of[i]]++
	}
	out := append([]interp.Sample(nil), samples...)
	for i := range out {
		if n := crowd[of[i]]; n > 1 {
			out[i].Share = 1 / n
		}
	}
	return out
}
