package interp

import "math"

// Newton's descent of a likelihood: how far apart, in logarithms of variance and range,
// slopes and curvatures are taken, how far one step goes, how many there are, and what a
// step has to be expected to gain. A hundredth is nothing beside 3.84, the 5 % point of
// χ² by which models are told apart.
const (
	newtonApart = 0.1
	newtonReach = 1
	newtonSteps = 8
	newtonLeast = 0.01
)

// newton goes down from a place by steps to where the parabola through six values
// is lowest. It is not ok where that leads out of bounds or does not go down: the
// likelihood is then no bowl there.
func (l *likelihood) newton(at []float64) (lowest []float64, ok bool) {
	value := l.of(at)
	for range newtonSteps {
		step, gain, ok := l.parabola(at, value)
		if !ok {
			return nil, false
		}
		next := []float64{at[0] + step[0], at[1] + step[1]}
		below := l.of(next)
		if !(below <= value+newtonLeast) {
			return nil, false
		}
		at, value = next, below
		if gain < newtonLeast {
			return at, true
		}
	}
	return nil, false
}

// parabola returns the step from a place to where the parabola there is lowest, and
// what it is expected to gain.
func (l *likelihood) parabola(at []float64, value float64) (step [2]float64, gain float64, ok bool) {
	of := func(x, y float64) float64 {
		return l.of([]float64{at[0] + float64(x*newtonApart), at[1] + float64(y*newtonApart)})
	}
	east, west, north, south, corner := of(1, 0), of(-1, 0), of(0, 1), of(0, -1), of(1, 1)
	// In units of newtonApart: slopes and curvatures.
	gx, gy := (east-west)/2, (north-south)/2
	xx, yy, xy := east-2*value+west, north-2*value+south, corner-east-north+value
	det := float64(xx*yy) - float64(xy*xy)
	if !(xx > 0 && det > 0) || math.IsInf(det, 1) {
		return step, 0, false
	}
	x, y := (float64(xy*gy)-float64(yy*gx))/det, (float64(xy*gx)-float64(xx*gy))/det
	gain = -(float64(gx*x) + float64(gy*y)) / 2
	shorter := min(1, newtonReach/(newtonApart*math.Hypot(x, y)))
	return [2]float64{x * newtonApart * shorter, y * newtonApart * shorter}, gain, true
}
