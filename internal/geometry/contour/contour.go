// Package contour draws level lines on a grid by marching squares.
//
// Ground at or above the level lies on the left of every line, so outer rings
// run counter-clockwise and holes clockwise; all rings are closed. Between
// nodes the grid is taken as linear along cell edges. In a saddle cell, where
// two opposite corners are at or above the level and two below, the mean of the
// four corners decides whether the high corners are joined: one rule everywhere,
// under which raising the level never enlarges the ground.
//
// NaN is below every level, and so is everything beyond the grid. A line
// between a node that counts and one that does not passes through the former,
// so ground never reaches beyond the nodes that carry it.
package contour

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/interp"
)

// Rings returns the borders of the ground where the grid is at or above level,
// in the units of the grid's lattice. Ground that has no extent, such as a
// single node exactly at the level, has no ring. The order is that of the cells,
// row by row.
func Rings(g interp.Grid, level float64) []orb.Ring {
	m := march{grid: g, level: level, cols: g.Cols + 1}
	m.next = make([]int32, 2*(g.Cols+2)*(g.Rows+2))
	for row := -1; row < g.Rows; row++ {
		for col := -1; col < g.Cols; col++ {
			m.cell(col, row)
		}
	}
	var rings []orb.Ring
	for start, next := range m.next {
		if next != 0 {
			if ring := m.trace(int32(start)); ring != nil {
				rings = append(rings, ring)
			}
		}
	}
	return rings
}

// Area is the ground inside rings as [Rings] returns them.
func Area(rings []orb.Ring) float64 {
	var twice float64
	for _, ring := range rings {
		o := ring[0]
		for i := 1; i+1 < len(ring); i++ {
			ax, ay := ring[i][0]-o[0], ring[i][1]-o[1]
			bx, by := ring[i+1][0]-o[0], ring[i+1][1]-o[1]
			twice += float64(ax*by) - float64(ay*bx)
		}
	}
	return twice / 2
}

// march holds, for each edge of the lattice and of a margin of one cell round
// it, the edge to which the line crossing it leads; 0 for none. A line enters
// and leaves an edge once, so this is all it takes to follow it.
type march struct {
	grid  interp.Grid
	level float64
	cols  int // edges of one direction in a row, less one
	next  []int32
}

// sides of a cell, counter-clockwise from the south.
const (
	south = iota
	east
	north
	west
)

// edge numbers a cell's side; number 0 is an edge of a corner that no line
// crosses.
func (m *march) edge(col, row, side int) int32 {
	upright := 0
	switch side {
	case north:
		row++
	case east:
		col++
		upright = 1
	case west:
		upright = 1
	}
	return int32(2*((row+1)*(m.cols+1)+col+1) + upright)
}

// leads lists, for each pattern of high corners (bit 0 south-west, then
// counter-clockwise), the sides between which a line runs, high ground on its
// left. The two saddles stand with their high corners apart.
var leads = [16][][2]int{
	1:  {{south, west}},
	2:  {{east, south}},
	3:  {{east, west}},
	4:  {{north, east}},
	5:  {{south, west}, {north, east}},
	6:  {{north, south}},
	7:  {{north, west}},
	8:  {{west, north}},
	9:  {{south, north}},
	10: {{east, south}, {west, north}},
	11: {{east, north}},
	12: {{west, east}},
	13: {{south, east}},
	14: {{west, south}},
}

// joined are the saddles with their high corners in one piece.
var joined = [16][][2]int{
	5:  {{south, east}, {north, west}},
	10: {{east, north}, {west, south}},
}

// all is the pattern of a cell whose corners are all high.
const all = 15

func (m *march) cell(col, row int) {
	corners := [4]float64{m.at(col, row), m.at(col+1, row), m.at(col+1, row+1), m.at(col, row+1)}
	pattern := 0
	for i, v := range corners {
		if v >= m.level {
			pattern |= 1 << i
		}
	}
	if pattern == 0 || pattern == all {
		return
	}
	lines := leads[pattern]
	if saddle := joined[pattern]; saddle != nil {
		// NaN in a corner makes the mean NaN: the corners stay apart.
		if (corners[0]+corners[1]+corners[2]+corners[3])/4 >= m.level {
			lines = saddle
		}
	}
	for _, l := range lines {
		m.next[m.edge(col, row, l[0])] = m.edge(col, row, l[1])
	}
}

func (m *march) at(col, row int) float64 {
	if col < 0 || row < 0 || col >= m.grid.Cols || row >= m.grid.Rows {
		return math.NaN()
	}
	return m.grid.At(col, row)
}

// trace follows a line until it closes and takes its edges off the list. It
// returns nil where the line has shrunk to a point or to a line there and back.
func (m *march) trace(start int32) orb.Ring {
	var ring orb.Ring
	for e := start; m.next[e] != 0; {
		if p := m.crossing(e); len(ring) == 0 || p != ring[len(ring)-1] {
			ring = append(ring, p)
		}
		e, m.next[e] = m.next[e], 0
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	if len(ring) < 3 {
		return nil
	}
	return append(ring, ring[0])
}

// crossing is the place on an edge where the level lies.
func (m *march) crossing(e int32) orb.Point {
	upright := int(e) % 2
	col, row := int(e)/2%(m.cols+1)-1, int(e)/2/(m.cols+1)-1
	a, b := m.at(col, row), m.at(col+1-upright, row+upright)
	t := fraction(a, b, m.level)
	x, y := m.grid.X0+m.grid.Cell*float64(col), m.grid.Y0+m.grid.Cell*float64(row)
	if upright == 1 {
		return orb.Point{x, y + float64(t*m.grid.Cell)}
	}
	return orb.Point{x + float64(t*m.grid.Cell), y}
}

// fraction is how far from a to b the level lies, 0 to 1. Where only one of the
// two counts, the line passes through that one.
func fraction(a, b, level float64) float64 {
	switch {
	case math.IsNaN(a):
		return 1
	case math.IsNaN(b):
		return 0
	}
	return max(0, min(1, (level-a)/(b-a)))
}
