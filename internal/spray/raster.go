package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A Lattice is cells of equal size in some plane: column 0 begins at the west,
// row 0 at the south.
type Lattice struct {
	// Cell takes metres to columns and rows, counted from the south-west corner.
	// It must keep straight lines nearly straight over a cell.
	Cell          func(xy orb.Point) orb.Point
	Columns, Rows int
}

// Raster tells for each cell, row by row from the south, whether it is sprayed:
// where some spray ground lies in it and no closed ground.
func (g *Ground) Raster(l Lattice) []bool {
	spray, closed := mapped(g.Spray, l.Cell), mapped(g.Closed, l.Cell)
	on := make([]bool, l.Columns*l.Rows)
	mark := func(row int, spans []geo.Span, as bool) {
		for _, s := range spans {
			for c := max(0, int(math.Floor(s.From))); c < min(l.Columns, int(math.Ceil(s.To))); c++ {
				on[row*l.Columns+c] = as
			}
		}
	}
	for row := range l.Rows {
		s := strip{float64(row), float64(row + 1)}.inner()
		mark(row, s.touched(spray), true)
		mark(row, s.touched(closed), false)
	}
	return on
}
