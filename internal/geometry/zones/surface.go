package zones

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/contour"
	"github.com/geocoris/geocoris/interp"
)

// A Surface is what is known at the nodes of a lattice that reaches at least one
// node beyond the field.
type Surface struct {
	Value interp.Grid // in the unit of the counts; NaN where the stops say nothing
	// Distance in metres to the nearest stop, on the same lattice: as much more from a stop as
	// it reaches less far than those that reach farthest.
	Distance interp.Grid
}

// cutValues returns the surface's values as they are cut. Every node within one
// cell of a stop, along both axes, has the stop's value or more: a stop narrower
// than a cell could otherwise fall through the lattice, as all four nodes round
// it may lie below the level that it reaches. Nodes beyond reach of which the
// stops say nothing have the value unknown.
func (s Surface) cutValues(stops []interp.Sample, reach, unknown float64) interp.Grid {
	g := interp.Grid{Lattice: s.Value.Lattice, Values: append([]float64(nil), s.Value.Values...)}
	for i := range g.Values {
		if s.unknown(i, reach) {
			g.Values[i] = unknown
		}
	}
	for _, stop := range stops {
		raise(g, stop)
	}
	return g
}

// Beyond is the ground of the lattice, one polygon under the even-odd rule, that lies farther
// than reach, in metres, from every stop; nil where none does.
func (s Surface) Beyond(reach float64) orb.MultiPolygon {
	return ringsGround(contour.Rings(s.Distance, reach)).polygons
}

// unknown reports whether the stops say nothing of a node beyond reach.
func (s Surface) unknown(node int, reach float64) bool {
	return math.IsNaN(s.Value.Values[node]) && s.Distance.Values[node] > reach
}

// hasUnknown reports whether there is any such node.
func (s Surface) hasUnknown(reach float64) bool {
	for i := range s.Value.Values {
		if s.unknown(i, reach) {
			return true
		}
	}
	return false
}

func raise(g interp.Grid, stop interp.Sample) {
	c, r := (stop.X-g.X0)/g.Cell, (stop.Y-g.Y0)/g.Cell
	for row := max(0, int(math.Ceil(r-1))); row <= min(g.Rows-1, int(math.Floor(r+1))); row++ {
		for col := max(0, int(math.Ceil(c-1))); col <= min(g.Cols-1, int(math.Floor(c+1))); col++ {
			if v := &g.Values[row*g.Cols+col]; stop.Value > *v {
				*v = stop.Value
			}
		}
	}
}
