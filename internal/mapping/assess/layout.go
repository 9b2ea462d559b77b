package assess

import (
	"fmt"

	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// layoutNodes is about the number of points by which the ground of a field is
// judged: a share of it is known to a hundredth.
const layoutNodes = 2000

// layoutOf says how the samples of stops lie over their field.
func (s site) layoutOf(stops []interp.Sample) layout.Layout {
	at := make([][2]float64, len(stops))
	for i, stop := range stops {
		at[i] = [2]float64{stop.X, stop.Y}
	}
	return LatticeOf(s.xy).Of(at)
}

// LatticeOf is a field in metres as points.
func LatticeOf(field orb.MultiPolygon) layout.Lattice {
	area := geo.Area(field)
	if !(area > 0) {
		return layout.Lattice{}
	}
	cell, b := math.Sqrt(area/layoutNodes), geo.Bound(field)
	g := layout.Lattice{Cell: cell * cell}
	rows := int(math.Ceil((b.Max[1] - b.Min[1]) / cell))
	y0 := b.Min[1] + cell/2
	for row, spans := range geo.InsideSpansOfRows(field, y0, cell, rows) {
		y := y0 + float64(float64(row)*cell)
		for _, s := range spans {
			for col := math.Ceil((s.From-b.Min[0])/cell - 0.5); ; col++ {
				x := b.Min[0] + float64((col+0.5)*cell)
				if x > s.To {
					break
				}
				g.Points = append(g.Points, [2]float64{x, y})
			}
		}
	}
	return g
}

// Lacking says which share of a field has no stop that speaks for it where stops
// stand along a line or to one side; "" where they do not.
func Lacking(l layout.Layout) string {
	if !l.Uneven() {
		return ""
	}
	where := "along a line or to one side"
	if l.Partial() {
		where = "in a part of the field"
	}
	return fmt.Sprintf("the stops stand %s: none is within %.0f m of %.0f %% of the field", where, l.Reach, 100*(1-l.Share))
}
