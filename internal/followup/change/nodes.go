package change

import (
	"iter"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/interp"
)

// NodesInside yields the numbers of the nodes inside a field in metres, row by
// row from the south-west.
func NodesInside(l interp.Lattice, field orb.MultiPolygon) iter.Seq[int] {
	return func(yield func(int) bool) {
		for col, row := range geo.NodesInside(field, geo.Lattice(l)) {
			if !yield(row*l.Cols + col) {
				return
			}
		}
	}
}

// Mean averages a grid over the nodes inside a field that have a value; NaN
// without any.
func Mean(g interp.Grid, field orb.MultiPolygon) float64 {
	var sum float64
	n := 0
	for i := range NodesInside(g.Lattice, field) {
		if v := g.Values[i]; !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / float64(n)
}
