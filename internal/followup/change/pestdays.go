package change

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/interp"
)

// PestDays adds up what the crop has borne: Σ (xᵢ₋₁ + xᵢ)/2·Δt over the visits
// (cumulative insect-days, Ruppel 1983, J. Econ. Entomol. 76:375–377; from
// memory). Days must rise. One visit alone has borne nothing that is known: 0.
func PestDays(days, values []float64) (float64, error) {
	if len(days) != len(values) {
		return 0, fmt.Errorf("change: %d days, %d values", len(days), len(values))
	}
	var sum float64
	for i := 1; i < len(days); i++ {
		step := days[i] - days[i-1]
		if !(step > 0) {
			return 0, fmt.Errorf("change: visit %d is not after the one before", i+1)
		}
		sum += (values[i-1] + values[i]) / 2 * step
	}
	return sum, nil
}

// PestDaysGrid is [PestDays] at every node; NaN where a visit had no stop near.
func PestDaysGrid(visits []Visit) (interp.Grid, error) {
	if err := sameLattice(visits...); err != nil {
		return interp.Grid{}, err
	}
	days := make([]float64, len(visits))
	for k, v := range visits {
		days[k] = v.Day
	}
	if _, err := PestDays(days, make([]float64, len(days))); err != nil {
		return interp.Grid{}, err
	}
	g := interp.NewGrid(visits[0].Surface.Value.Lattice)
	for i := range g.Values {
		sum := 0.0
		for k := 1; k < len(visits); k++ {
			sum += (visits[k-1].known(i) + visits[k].known(i)) / 2 * (days[k] - days[k-1])
		}
		if len(visits) == 1 && math.IsNaN(visits[0].known(i)) {
			sum = math.NaN()
		}
		g.Values[i] = sum
	}
	return g, nil
}
