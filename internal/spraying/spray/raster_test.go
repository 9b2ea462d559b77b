package spray_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// metres is a lattice of square cells whose south-west corner lies at a place.
func metres(corner orb.Point, cell float64, columns, rows int) spray.Lattice {
	return spray.Lattice{Columns: columns, Rows: rows, Cell: func(p orb.Point) orb.Point {
		return orb.Point{(p[0] - corner[0]) / cell, (p[1] - corner[1]) / cell}
	}}
}

// Rectangles on cells of 10 m: the shares are widths times heights.
func TestCellsAreOnByTheirShare(t *testing.T) {
	field := box(0, 0, 100, 80)
	withPond := orb.MultiPolygon{{field[0][0], {{50, 40}, {50, 51}, {60, 51}, {60, 40}, {50, 40}}}}
	tests := []struct {
		name        string
		zone        spray.Zone
		column, row int
		share       float64
		on          bool
	}{
		{"in the ground", spray.Zone{Treat: box(0, 0, 50, 80), Field: field}, 2, 3, 1, true},
		{"beside it", spray.Zone{Treat: box(0, 0, 50, 80), Field: field}, 5, 3, 0, false},
		{"exactly half", spray.Zone{Treat: box(0, 0, 55, 80), Field: field}, 5, 3, 0.5, true},
		{"a hair below half", spray.Zone{Treat: box(0, 0, 54.99, 80), Field: field}, 5, 3, 0.499, false},
		{"half in height", spray.Zone{Treat: box(0, 0, 100, 35), Field: field}, 5, 3, 0.5, true},
		{"a quarter", spray.Zone{Treat: box(0, 0, 55, 35), Field: field}, 5, 3, 0.25, false},
		{"the last in the field", spray.Zone{Treat: field, Field: field}, 9, 7, 1, true},
		{"east of the field", spray.Zone{Treat: field, Field: field}, 10, 3, 0, false},
		{"north of the field", spray.Zone{Treat: field, Field: field}, 3, 8, 0, false},
		{"out of the field by a tenth", spray.Zone{Treat: box(0, 0, 99, 80), Field: box(0, 0, 99, 80)}, 9, 3, 0.9, false},
		{"out of the field by 1 cm", spray.Zone{Treat: box(0, 0, 99.99, 80), Field: box(0, 0, 99.99, 80)}, 9, 3, 0.999, true},
		{"out of the field by 3 cm", spray.Zone{Treat: box(0, 0, 99.97, 80), Field: box(0, 0, 99.97, 80)}, 9, 3, 0.997, false},
		{"a corner out by 30 cm", cutCorner(0.3), 9, 7, 1 - 0.3*0.3/200, false},
		{"a corner out by 2 cm", cutCorner(0.02), 9, 7, 1, true},
		{"a hair in a pond", spray.Zone{Treat: withPond, Field: orb.MultiPolygon{{field[0][0], {{50, 40}, {50, 50.01}, {60, 50.01}, {60, 40}, {50, 40}}}}}, 5, 5, 0.9, false},
		{"in a pond", spray.Zone{Treat: withPond, Field: withPond}, 5, 4, 0, false},
		{"a tenth in a pond", spray.Zone{Treat: withPond, Field: withPond}, 5, 5, 0.9, false},
		{"beside the pond", spray.Zone{Treat: withPond, Field: withPond}, 6, 4, 1, true},
		{"a tenth in another field", spray.Zone{Treat: field, Field: field, Neighbours: []spray.Neighbour{{Name: "B", Ground: box(99, 0, 200, 80)}}}, 9, 4, 0.9, false},
		{"in a keep-off", spray.Zone{Treat: field, Field: field, KeepOffs: []spray.KeepOff{{Name: "hive", Geometry: orb.Point{25, 25}, SetBack: 3}}}, 2, 2, 1 - math.Pi*3.02*3.02/100, false},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			g, err := spray.NewTarget(tc.zone)
			require.NoError(t, err)
			cells, err := g.Raster(metres(orb.Point{0, 0}, 10, 12, 9))
			require.NoError(t, err)
			i := tc.row*12 + tc.column
			assert.InDelta(t, tc.share, cells.Spray[i], 1e-4)
			assert.Equal(t, tc.on, cells.On[i])
		})
	}
}

// cutCorner is a field of 100 m by 80 m whose corner is cut off by a leg.
func cutCorner(leg float64) spray.Zone {
	field := orb.MultiPolygon{{{{0, 0}, {100, 0}, {100, 80 - leg}, {100 - leg, 80}, {0, 80}, {0, 0}}}}
	return spray.Zone{Treat: field, Field: field}
}

// The shares of all cells add up to the ground, whatever its form and wherever the
// lattice lies.
func TestSharesAddUpToTheGround(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		z := zoneSet(t)
		g, err := spray.NewTarget(z)
		require.NoError(t, err)
		cell := rapid.Float64Range(2, 40).Draw(t, "cell")
		corner := orb.Point{-330 - rapid.Float64Range(0, 1).Draw(t, "west")*cell, -330}
		n := int(math.Ceil(700 / cell))
		cells, err := g.Raster(metres(corner, cell, n, n))
		require.NoError(t, err)
		sum := 0.0
		for i, share := range cells.Spray {
			sum += share * cell * cell
			if cells.On[i] {
				require.GreaterOrEqual(t, share, spray.LeastShare-1e-6)
			}
		}
		require.InDelta(t, geo.Area(g.Spray), sum, 1e-6*geo.Area(g.Spray)+1e-3)
		part, err := g.Raster(metres(orb.Point{corner[0] + 3*cell, corner[1] + 5*cell}, cell, 4, 6))
		require.NoError(t, err)
		for row := range 6 {
			for column := range 4 {
				require.InDelta(t, cells.Spray[(row+5)*n+column+3], part.Spray[row*4+column], 1e-9, "a part of the lattice says the same")
			}
		}
	})
}
