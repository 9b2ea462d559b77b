package interp

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// MaxNodes bounds a lattice: a grid of that many values takes half a gigabyte.
const MaxNodes = 64 << 20

// FillSettings say which nodes to fill and who wants to hear of it.
type FillSettings struct {
	// Mask tells the nodes to fill; nil is all of them. Several goroutines call
	// it at once, each for a run of columns of a row from west to east. A field's
	// outline is best turned into a table of nodes beforehand, a run of columns
	// at a time: looking a node up then costs next to nothing beside predicting.
	Mask     func(col, row int) bool
	Progress func(done, total int) // rows; called by one goroutine at a time, nil is silence
}

// Fill predicts at the nodes of a lattice; nodes off the mask stay NaN. Tiles of
// nodes are shared among the processors, and each is worked out by itself: the result
// is the same on every run, to the bit that of Predict. Where all of 500 samples or
// more are weighed by 1/d² at 65,536 nodes or more, those far away are taken together,
// within 1.2e-10 of the range of the values. A lattice of more than [MaxNodes] nodes
// and a cancelled context are errors.
func Fill(ctx context.Context, p Predictor, l Lattice, set FillSettings) (Grid, error) {
	f := filling{lattice: l, set: set, predictor: p}
	err := f.run(ctx)
	return f.value, err
}

// FillWithDistance is [Fill] with a second grid of the distances in metres to
// the nearest sample.
func FillWithDistance(ctx context.Context, p DistancePredictor, l Lattice, set FillSettings) (value, distance Grid, err error) {
	f := filling{lattice: l, set: set, predictor: p, distances: p}
	err = f.run(ctx)
	return f.value, f.distance, err
}

// filling is one call of Fill or FillWithDistance.
type filling struct {
	lattice   Lattice
	set       FillSettings
	predictor Predictor
	distances DistancePredictor // nil where nobody asks for them

	value, distance Grid // empty again after an error

	tiles tiling
	next  atomic.Int64 // tile to take up
	mu    sync.Mutex
	done  int // tiles, under mu
	told  int // rows, likewise
}

// run fills the grids, or leaves them empty and says why.
func (f *filling) run(ctx context.Context) error {
	if err := f.lattice.check(); err != nil {
		return err
	}
	f.value = NewGrid(f.lattice)
	if f.distances != nil {
		f.distance = NewGrid(f.lattice)
	}
	way := f.way()
	f.tiles = tiling{lattice: f.lattice, width: max(1, way.width), height: max(1, way.height)}
	g, ctx := errgroup.WithContext(ctx)
	for range min(runtime.GOMAXPROCS(0), f.tiles.count()) {
		g.Go(func() error { return f.work(ctx, way.worker()) })
	}
	if err := g.Wait(); err != nil {
		f.value, f.distance = Grid{}, Grid{}
		return err
	}
	return nil
}

// work fills tiles until none is left.
func (f *filling) work(ctx context.Context, fill func(tile)) error {
	for at := int(f.next.Add(1)) - 1; at < f.tiles.count(); at = int(f.next.Add(1)) - 1 {
		if err := ctx.Err(); err != nil {
			return err
		}
		fill(f.tiles.tile(at))
		f.tell()
	}
	return nil
}

// tell counts a tile as done, and tells each row that as many tiles make.
func (f *filling) tell() {
	if f.set.Progress == nil {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.done++
	for rows := f.done * f.lattice.Rows / f.tiles.count(); f.told < rows; {
		f.told++
		f.set.Progress(f.told, f.lattice.Rows)
	}
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
