package interp

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// MaxNodes bounds a lattice: a grid of that many values takes half a gigabyte.
const MaxNodes = 64 << 20

// FillSettings say which nodes to fill and who wants to hear of it.
type FillSettings struct {
	Mask     func(col, row int) bool // nodes to fill; nil is all of them
	Progress func(done, total int)   // rows; called by one goroutine at a time, nil is silence
}

// Fill predicts at the nodes of a lattice; nodes off the mask stay NaN. Rows are
// shared among the processors, and as each node is worked out by itself the
// result is the same on every run. A lattice of more than [MaxNodes] nodes and a
// cancelled context are errors.
func Fill(ctx context.Context, p Predictor, l Lattice, set FillSettings) (Grid, error) {
	if err := l.check(); err != nil {
		return Grid{}, err
	}
	g := NewGrid(l)
	err := eachRow(ctx, l, set, func(i int, x, y float64) { g.Values[i] = p.Predict(x, y) })
	return g, err
}

// FillWithDistance is [Fill] with a second grid of the distances in metres to
// the nearest sample.
func FillWithDistance(ctx context.Context, p DistancePredictor, l Lattice, set FillSettings) (value, distance Grid, err error) {
	if err := l.check(); err != nil {
		return Grid{}, Grid{}, err
	}
	value, distance = NewGrid(l), NewGrid(l)
	err = eachRow(ctx, l, set, func(i int, x, y float64) {
		value.Values[i], distance.Values[i] = p.PredictWithDistance(x, y)
	})
	return value, distance, err
}

// eachRow calls node for every node on the mask, with its index and position.
func eachRow(ctx context.Context, l Lattice, set FillSettings, node func(i int, x, y float64)) error {
	var next atomic.Int64
	var done int
	var mu sync.Mutex
	g, ctx := errgroup.WithContext(ctx)
	for range min(runtime.GOMAXPROCS(0), l.Rows) {
		g.Go(func() error {
			for row := int(next.Add(1)) - 1; row < l.Rows; row = int(next.Add(1)) - 1 {
				if err := ctx.Err(); err != nil {
					return err
				}
				for col := range l.Cols {
					if set.Mask == nil || set.Mask(col, row) {
						x, y := l.Node(col, row)
						node(row*l.Cols+col, x, y)
					}
				}
				if set.Progress != nil {
					mu.Lock()
					done++
					set.Progress(done, l.Rows)
					mu.Unlock()
				}
			}
			return nil
		})
	}
	return g.Wait()
}

// check refuses lattices too large to hold.
func (l Lattice) check() error {
	switch {
	case l.Cols < 0 || l.Rows < 0 || !(l.Cell > 0):
		return fmt.Errorf("interp: lattice of %d by %d nodes, %g m apart: want none of them negative", l.Cols, l.Rows, l.Cell)
	case l.Cols > 0 && l.Rows > MaxNodes/l.Cols:
		return fmt.Errorf("interp: lattice of %d by %d nodes is more than %d; use larger cells", l.Cols, l.Rows, MaxNodes)
	}
	return nil
}
