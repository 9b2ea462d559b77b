// Package catch turns the chance of being over a level, known at the nodes of a
// lattice, into ground: how much is expected to be over, how much of it a cut
// catches, and which cut catches a wanted share with the least ground.
//
// Areas are square metres, chances and shares 0 to 1. Each node stands for the
// ground around it. Nodes without a chance (NaN), without a value where a
// surface is cut, or without area are passed over and counted in nothing.
package catch

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/sorted"
	"github.com/geocoris/geocoris/interp"
)

// Nodes is what is known at the nodes of a field.
type Nodes struct {
	Chance []float64 // of being over the level; NaN where unknown
	Area   []float64 // m² of field that each node stands for, as many
}

// NewNodes takes the chances of a grid. inside tells the nodes in the field, each
// of which stands for a cell; nil is all. Nodes just outside stand for nothing,
// so that a field of a few cells has its area to about half a cell along its rim.
func NewNodes(chances interp.Grid, inside func(col, row int) bool) Nodes {
	g := Nodes{Chance: chances.Values, Area: make([]float64, len(chances.Values))}
	for i := range g.Area {
		if inside == nil || inside(i%chances.Cols, i/chances.Cols) {
			g.Area[i] = chances.Cell * chances.Cell
		}
	}
	return g
}

// Validate reports chances out of 0 … 1, areas below 0 or not finite, and slices
// of two lengths.
func (g Nodes) Validate() error {
	if len(g.Chance) != len(g.Area) {
		return fmt.Errorf("catch: %d chances with %d areas: want as many", len(g.Chance), len(g.Area))
	}
	for i, p := range g.Chance {
		if p < 0 || p > 1 {
			return fmt.Errorf("catch: node %d has the chance %g: want 0 to 1", i+1, p)
		}
		if a := g.Area[i]; !(a >= 0) || math.IsInf(a, 0) {
			return fmt.Errorf("catch: node %d stands for %g m²: want a finite number of 0 or more", i+1, a)
		}
	}
	return nil
}

// known tells the nodes that count.
func (g Nodes) known(i int) bool { return g.Area[i] > 0 && !math.IsNaN(g.Chance[i]) }

// Expected is the ground in m² expected to be over the level: the sum of chances
// times areas.
func (g Nodes) Expected() (area float64) {
	for i, p := range g.Chance {
		if g.known(i) {
			area += float64(p * g.Area[i])
		}
	}
	return area
}

// A Cut takes the ground at or above a level.
type Cut struct {
	// Level is that of the values cut; +Inf takes none.
	Level float64
	Area  float64 // m² taken
	Over  float64 // m² of it expected to be over
	Share float64 // of all ground expected to be over; NaN where none is expected
}

// At is the cut of a surface, a value at each node, at a level: what is taken,
// and how much of the over-threshold ground is in it.
func (g Nodes) At(surface []float64, level float64) (Cut, error) {
	if len(surface) != len(g.Chance) {
		return Cut{}, fmt.Errorf("catch: a surface of %d nodes over %d chances: want as many", len(surface), len(g.Chance))
	}
	c := Cut{Level: level}
	for i, v := range surface {
		if g.known(i) && v >= level {
			c.Area += g.Area[i]
			c.Over += float64(g.Chance[i] * g.Area[i])
		}
	}
	c.Share = c.Over / g.Expected()
	return c, nil
}

// Catching is the highest level of a surface at which its cut holds at least a
// share, above 0 and up to 1, of the ground expected to be over. Cutting the
// chances themselves takes the least ground that any choice of nodes needs for
// it. Nodes of one value are taken together. Where nothing is expected to be
// over, none is taken. A share that the nodes with a value do not hold is an
// error.
func (g Nodes) Catching(share float64, surface []float64) (Cut, error) {
	switch {
	case !(share > 0 && share <= 1):
		return Cut{}, fmt.Errorf("catch: a share of %g: want more than 0, up to 1", share)
	case len(surface) != len(g.Chance):
		return Cut{}, fmt.Errorf("catch: a surface of %d nodes over %d chances: want as many", len(surface), len(g.Chance))
	}
	expected := g.Expected()
	if expected == 0 {
		return Cut{Level: math.Inf(1), Share: math.NaN()}, nil
	}
	order := g.highestFirst(surface)
	var over float64
	for i := 0; i < len(order); {
		level := surface[order[i]]
		for ; i < len(order) && surface[order[i]] == level; i++ {
			over += float64(g.Chance[order[i]] * g.Area[order[i]])
		}
		if over >= share*expected*(1-rounding) {
			return g.At(surface, level)
		}
	}
	return Cut{}, fmt.Errorf("catch: the surface holds %.3g of the ground expected over, less than %g: it has no value elsewhere", over/expected, share)
}

// rounding is what sums in another order may differ by.
const rounding = 1e-12

// highestFirst lists the nodes that count and have a value.
func (g Nodes) highestFirst(surface []float64) (order []int) {
	for i, v := range surface {
		if g.known(i) && !math.IsNaN(v) {
			order = append(order, i)
		}
	}
	sorted.Stably(order, func(a, b int) int {
		switch {
		case surface[a] > surface[b]:
			return -1
		case surface[a] < surface[b]:
			return 1
		}
		return 0
	})
	return order
}
