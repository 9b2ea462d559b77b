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
		for row, spans := range geo.InsideSpansOfRows(field, l.Y0, l.Cell, l.Rows) {
			for _, span := range spans {
				from, to := int(math.Ceil((span.From-l.X0)/l.Cell)), int(math.Floor((span.To-l.X0)/l.Cell))
				for col := max(0, from); col <= min(l.Cols-1, to); col++ {
					if !yield(row*l.Cols + col) {
						return
					}
				}
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
