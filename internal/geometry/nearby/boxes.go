package nearby

import (
	"iter"
	"math"
)

// A Box is an upright rectangle, from its least to its greatest coordinates.
type Box struct{ Min, Max [2]float64 }

// Boxes are boxes in square cells.
type Boxes struct {
	net
	all []Box
	in  [][]int32 // numbers of the boxes that reach into each cell, row by row
}

// OfBoxes puts boxes of finite coordinates into cells about as wide as they are on average.
func OfBoxes(all []Box) *Boxes {
	least, most := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	var wide, high float64
	for _, b := range all {
		for axis := range 2 {
			least[axis], most[axis] = min(least[axis], b.Min[axis]), max(most[axis], b.Max[axis])
		}
		wide, high = wide+(b.Max[0]-b.Min[0]), high+(b.Max[1]-b.Min[1])
	}
	x := &Boxes{net: newNet(least, most, len(all), max(wide, high)/float64(len(all)+1)), all: make([]Box, 0, len(all))}
	x.in = make([][]int32, x.cols*x.rows)
	for _, b := range all {
		x.Add(b)
	}
	return x
}

// Add puts one more box of finite coordinates into the cells, what is beyond them into those
// at the edge. Its number is how many there were.
func (x *Boxes) Add(b Box) {
	number := int32(len(x.all))
	x.all = append(x.all, b)
	for cell := range x.cells(b) {
		*cell = append(*cell, number)
	}
}

// Touch reports whether a box has a place in common with any, be it of a border.
func (x *Boxes) Touch(b Box) bool {
	for range x.Touching(b) {
		return true
	}
	return false
}

// Touching are the numbers of the boxes that have a place in common with one. One of them may
// come several times.
func (x *Boxes) Touching(b Box) iter.Seq[int] {
	return func(yield func(int) bool) {
		for cell := range x.cells(b) {
			for _, i := range *cell {
				o := x.all[i]
				if b.Min[0] <= o.Max[0] && o.Min[0] <= b.Max[0] && b.Min[1] <= o.Max[1] && o.Min[1] <= b.Max[1] && !yield(int(i)) {
					return
				}
			}
		}
	}
}

// cells are those that a box reaches into.
func (x *Boxes) cells(b Box) iter.Seq[*[]int32] {
	return func(yield func(*[]int32) bool) {
		for row := x.row(b.Min[1]); row <= x.row(b.Max[1]); row++ {
			for col := x.col(b.Min[0]); col <= x.col(b.Max[0]); col++ {
				if !yield(&x.in[row*x.cols+col]) {
					return
				}
			}
		}
	}
}

// Along are the numbers of the boxes in the cells that a segment leads through, row by row
// from its begin on: all that it touches, and some that it does not. One may come several
// times.
func (x *Boxes) Along(from, to [2]float64) iter.Seq[int] {
	return func(yield func(int) bool) {
		row, last := x.row(from[1]), x.row(to[1])
		step := 1
		if last < row {
			step = -1
		}
		for ; row != last+step; row += step {
			west, east := x.across(row, from, to)
			for _, cell := range x.in[row*x.cols+x.col(west) : row*x.cols+x.col(east)+1] {
				for _, i := range cell {
					if !yield(int(i)) {
						return
					}
				}
			}
		}
	}
}

// across is where a segment leads through a row, or a little more.
func (x *Boxes) across(row int, from, to [2]float64) (west, east float64) {
	at := func(y float64) float64 {
		part := (y - from[1]) / (to[1] - from[1])
		if !(part > 0) { // level segments too
			return from[0]
		}
		return from[0] + float64(min(part, 1)*(to[0]-from[0]))
	}
	south := x.south + float64((float64(row)-rowSlack)*x.side)
	a, b := at(south), at(south+float64((1+2*rowSlack)*x.side))
	if from[1] == to[1] {
		b = to[0]
	}
	return min(a, b) - float64(rowSlack*x.side), max(a, b) + float64(rowSlack*x.side)
}

// rowSlack is by how much of a cell a segment is followed beyond a row, for rounding.
const rowSlack = 1e-6
