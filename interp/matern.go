package interp

import (
	"math"
	"sync"
)

// maternPace is how many places a range has in the table of exponentials, and
// maternReach how many ranges it covers: beyond them the correlation is below 1e-19.
const (
	maternPace  = 32
	maternReach = 48
)

// decay holds e^(−k/maternPace).
type decay [maternPace*maternReach + 1]float64

// exponentials is the table, which is made when it is asked for first.
var exponentials = sync.OnceValue(func() *decay {
	var all decay
	for k := range all {
		all[k] = math.Exp(-float64(k) / maternPace)
	}
	return &all
})

// matern32 is the correlation of [Matern32] at a distance of u ranges, 0 or more,
// within 1e-15 of (1 + u)e^(−u), in a third of the time of its shape: e^(−u) is that
// of the nearest place in the table times the Taylor polynomial of degree 6 of what
// is left, at most 1/64, whose rest is below 64⁻⁷/5040 = 5e-17.
func (e *decay) matern32(u float64) float64 {
	if !(u < maternReach) {
		return 0
	}
	k := int(u*maternPace + 0.5)
	r := float64(k)*(1.0/maternPace) - u
	r2 := r * r
	low := 1 + r + float64(r2*(0.5+float64(r*(1.0/6))))
	high := 1.0/24 + float64(r*(1.0/120)) + float64(r2*(1.0/720))
	return (1 + u) * e[k] * (low + float64(float64(r2*r2)*high))
}

// covariances turns distances in metres, 0 or more, into covariances of a Matern32
// model without a nugget.
func covariances(m VariogramModel, distances, into []float64) {
	correlations(distances, m.Range, into)
	for i := range distances {
		into[i] *= m.PartialSill
	}
}

// correlations turns distances in metres, 0 or more, into Matern32 correlations of a range.
func correlations(distances []float64, reach float64, into []float64) {
	into = into[:len(distances)]
	per, e := 1/reach, exponentials()
	for i, d := range distances {
		into[i] = e.matern32(float64(d * per))
	}
}
