package nearby

import "math"

// net cuts the plane into square cells.
type net struct {
	west, south, side float64
	cols, rows        int
}

// newNet has cells as wide as told over all between two corners, or so much wider that they
// are about as many as n, at the most.
func newNet(least, most [2]float64, n int, side float64) net {
	wide, high, cells := max(0, most[0]-least[0]), max(0, most[1]-least[1]), float64(n)+1
	c := net{west: least[0], south: least[1]}
	c.side = max(math.Sqrt(wide/cells)*math.Sqrt(high), max(wide, high)/cells)
	if side > c.side {
		c.side = side
	}
	if c.side == 0 { // all at one place
		c.side = 1
	}
	c.cols, c.rows = int(wide/c.side)+1, int(high/c.side)+1
	return c
}

func (c net) col(x float64) int { return within((x-c.west)/c.side, c.cols) }
func (c net) row(y float64) int { return within((y-c.south)/c.side, c.rows) }

// within is the whole part of v, held from 0 to below count; 0 of what is not a number.
func within(v float64, count int) int {
	if !(v > 0) {
		return 0
	}
	return int(min(v, float64(count-1)))
}
