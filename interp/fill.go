package interp

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// MaxNodes bounds a lattice: a grid of that many values takes half a gigabyte.
const MaxNodes = 64 << 20

// FillSettings say which nodes to fill and who wants to hear of it.
type FillSettings struct {
	// Mask tells the nodes to fill; nil is all of them. Several goroutines call
	// it at once, each for the columns of a row from west to east. A field's
	// outline is best turned into a table of nodes beforehand, a run of columns
	// at a time: looking a node up then costs next to nothing beside predicting.
	Mask     func(col, row int) bool
	Progress func(done, total int) // rows; called by one goroutine at a time, nil is silence
}

// Fill predicts at the nodes of a lattice; nodes off the mask stay NaN. Rows are
// shared among the processors, and as each node is worked out by itself the
// result is the same on every run, to the bit that of Predict. A lattice of more
// than [MaxNodes] nodes and a cancelled context are errors.
func Fill(ctx context.Context, p Predictor, l Lattice, set FillSettings) (Grid, error) {
	f := filling{lattice: l, set: set, predictor: p}
	err := f.run(ctx)
	return f.value, err
}

// FillWithDistance is [Fill] with a second grid of the distances in metres to
// the nearest sample.
func FillWithDistance(ctx context.Context, p DistancePredictor, l Lattice, set FillSettings) (value, distance Grid, err error) {
	f := filling{lattice: l, set: set, predictor: p, withDistance: true}
	err = f.run(ctx)
	return f.value, f.distance, err
}

// filling is one call of Fill or FillWithDistance.
type filling struct {
	lattice      Lattice
	set          FillSettings
	predictor    Predictor // a DistancePredictor withDistance
	withDistance bool

	value, distance Grid // empty until all rows are done

	next atomic.Int64 // row to take up
	mu   sync.Mutex
	done int // rows, under mu
}

// run fills the grids, or leaves them empty and says why.
func (f *filling) run(ctx context.Context) error {
	if err := f.lattice.check(); err != nil {
		return err
	}
	value, distance := NewGrid(f.lattice), Grid{}
	if f.withDistance {
		distance = NewGrid(f.lattice)
	}
	g, ctx := errgroup.WithContext(ctx)
	for range min(runtime.GOMAXPROCS(0), f.lattice.Rows) {
		g.Go(func() error { return f.rows(ctx, value, distance) })
	}
	if err := g.Wait(); err != nil {
		return err
	}
	f.value, f.distance = value, distance
	return nil
}

// rows fills rows until none is left.
func (f *filling) rows(ctx context.Context, value, distance Grid) error {
	var r row
	var cols []int
	for at := int(f.next.Add(1)) - 1; at < f.lattice.Rows; at = int(f.next.Add(1)) - 1 {
		if err := ctx.Err(); err != nil {
			return err
		}
		cols = f.begin(&r, at, cols[:0])
		r.predict(f.predictor)
		for i, col := range cols {
			value.Values[at*f.lattice.Cols+col] = r.values[i]
			if f.withDistance {
				distance.Values[at*f.lattice.Cols+col] = r.distances[i]
			}
		}
		f.tell()
	}
	return nil
}

// begin lays out a row and appends the columns of its nodes on the mask.
func (f *filling) begin(r *row, at int, cols []int) []int {
	r.xs = r.xs[:0]
	_, r.y = f.lattice.Node(0, at)
	for col := range f.lattice.Cols {
		if f.set.Mask == nil || f.set.Mask(col, at) {
			x, _ := f.lattice.Node(col, at)
			r.xs = append(r.xs, x)
			cols = append(cols, col)
		}
	}
	r.values = slices.Grow(r.values[:0], len(r.xs))[:len(r.xs)]
	if f.withDistance {
		r.distances = slices.Grow(r.distances[:0], len(r.xs))[:len(r.xs)]
	}
	return cols
}

// tell counts a row as done.
func (f *filling) tell() {
	if f.set.Progress == nil {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.done++
	f.set.Progress(f.done, f.lattice.Rows)
}

// check refuses lattices that have no nodes to speak of, or too many to hold.
func (l Lattice) check() error {
	switch {
	case l.Cols < 0 || l.Rows < 0:
		return fmt.Errorf("interp: lattice of %d by %d nodes: want counts of 0 or more", l.Cols, l.Rows)
	case !(l.Cell > 0) || math.IsInf(l.Cell+l.X0+l.Y0, 0) || math.IsNaN(l.X0+l.Y0):
		return fmt.Errorf("interp: lattice from %g, %g with nodes %g m apart: want finite metres, and more than 0 apart", l.X0, l.Y0, l.Cell)
	case l.Cols > 0 && l.Rows > MaxNodes/l.Cols:
		return fmt.Errorf("interp: lattice of %d by %d nodes is more than %d; use larger cells", l.Cols, l.Rows, MaxNodes)
	}
	return nil
}
