// Package nearby finds those of many places that lie near one.
package nearby

import (
	"iter"
	"math"
)

// Cells are places in square cells, row by row. The places may not be changed meanwhile.
type Cells struct {
	net
	at    [][2]float64
	first []int32 // of each cell in in; one more at the end
	in    []int32 // numbers of the places, ascending in each cell
}

// Of puts places in metres, at finite coordinates, into cells as wide as told, or so much
// wider that there are about as many as places, at the most.
func Of(at [][2]float64, side float64) *Cells {
	least, most := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range at {
		least[0], least[1] = min(least[0], p[0]), min(least[1], p[1])
		most[0], most[1] = max(most[0], p[0]), max(most[1], p[1])
	}
	c := &Cells{net: newNet(least, most, len(at), side), at: at}
	c.enter()
	return c
}

func (c *Cells) enter() {
	c.first, c.in = make([]int32, c.cols*c.rows+1), make([]int32, len(c.at))
	cell := make([]int32, len(c.at))
	for i, p := range c.at {
		cell[i] = int32(c.row(p[1])*c.cols + c.col(p[0]))
		c.first[cell[i]+1]++
	}
	for k := range c.cols * c.rows {
		c.first[k+1] += c.first[k]
	}
	next := make([]int32, c.cols*c.rows)
	copy(next, c.first)
	for i, k := range cell {
		c.in[next[k]] = int32(i)
		next[k]++
	}
}

// Near are the numbers of the places in the cells round one: all that are no farther than
// reach, and some that are.
func (c *Cells) Near(x, y, reach float64) iter.Seq[int] {
	reach *= 1 + 1e-9 // for rounding
	return func(yield func(int) bool) {
		west, east := c.col(x-reach), c.col(x+reach)
		for row := c.row(y - reach); row <= c.row(y+reach); row++ {
			for _, i := range c.in[c.first[row*c.cols+west]:c.first[row*c.cols+east+1]] {
				if !yield(int(i)) {
					return
				}
			}
		}
	}
}

// Within is the number of the nearest of the places, the first of those as near, and how far
// it is, squared, where one is no farther than reach; else a farther one, or −1 and +Inf.
func (c *Cells) Within(x, y, reach float64) (number int, squared float64) {
	number, squared = -1, math.Inf(1)
	for i := range c.Near(x, y, reach) {
		dx, dy := x-c.at[i][0], y-c.at[i][1]
		if d := float64(dx*dx) + float64(dy*dy); d < squared || d == squared && i < number {
			number, squared = i, d
		}
	}
	return number, squared
}

// Nearest is the number of the nearest of the places, the first of those as near, and how
// far it is; −1 and +Inf of none.
func (c *Cells) Nearest(x, y float64) (number int, metres float64) { return c.nearest(x, y, -1) }

// NearestOther is likewise the nearest to one of the places of the others.
func (c *Cells) NearestOther(of int) (number int, metres float64) {
	return c.nearest(c.at[of][0], c.at[of][1], of)
}

// nearest is the nearest of the places but for one.
func (c *Cells) nearest(x, y float64, but int) (number int, metres float64) {
	number, metres = -1, math.Inf(1)
	if len(c.at) == 0 || len(c.at) == 1 && but == 0 {
		return number, metres
	}
	for reach := c.side; ; reach *= 2 {
		for i := range c.Near(x, y, reach) {
			d := math.Hypot(c.at[i][0]-x, c.at[i][1]-y)
			if i != but && (d < metres || d == metres && i < number) {
				number, metres = i, d
			}
		}
		if metres <= reach { // else a nearer one may lie in a cell farther off
			return number, metres
		}
	}
}
