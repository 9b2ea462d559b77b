package zones

import (
	"math"

	"github.com/geocoris/geocoris/interp"
)

// A Surface is what is known at the nodes of a lattice that reaches at least one
// node beyond the field.
type Surface struct {
	Value    interp.Grid // in the unit of the counts
	Distance interp.Grid // metres to the nearest stop, on the same lattice
}

// carry returns the surface's values with every node within one cell of a stop,
// along both axes, at the stop's value or above. A stop narrower than a cell
// could otherwise fall through the lattice: all four nodes round it may lie
// below the level that it reaches.
func (s Surface) carry(stops []interp.Sample) interp.Grid {
	g := interp.Grid{Lattice: s.Value.Lattice, Values: append([]float64(nil), s.Value.Values...)}
	for _, stop := range stops {
		c, r := (stop.X-g.X0)/g.Cell, (stop.Y-g.Y0)/g.Cell
		for row := int(math.Ceil(r - 1)); row <= int(math.Floor(r+1)); row++ {
			for col := int(math.Ceil(c - 1)); col <= int(math.Floor(c+1)); col++ {
				if row < 0 || col < 0 || row >= g.Rows || col >= g.Cols {
					continue
				}
				if v := &g.Values[row*g.Cols+col]; stop.Value > *v {
					*v = stop.Value
				}
			}
		}
	}
	return g
}
