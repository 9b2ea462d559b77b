package interp

import (
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/blas/blas64"
)

// DefaultKrigingNeighbors is how many of the nearest samples a kriging
// prediction looks at by default.
const DefaultKrigingNeighbors = 32

// A VariancePredictor knows how far its predictions may be off: it returns the
// variance of the prediction error beside the value, in the square of the
// value's unit. Both are NaN where it has nothing to say.
type VariancePredictor interface {
	DistancePredictor
	PredictWithVariance(x, y float64) (value, variance float64)
}

// OrdinaryKriging is the best linear unbiased prediction of values with a
// constant, unknown mean (Matheron 1963; Chilès & Delfiner 2012, Geostatistics,
// 2nd ed., ch. 3). At a sample it is exact, also with a nugget; beside it the
// variance is that of a value measured there, nugget included. Samples at one
// place are pooled first ([Pool]).
//
// With a Block it predicts the mean over the ground around a place in place of the
// value there: smoother, not tied to samples, and surer than any single value.
type OrdinaryKriging struct {
	Model VariogramModel
	// Neighbors is how many of the nearest samples count at a place; 0 is 32,
	// AllNeighbors is every sample.
	Neighbors int
	// Block is the side in metres of the squares, along the axes and around the
	// place, whose means are predicted; 0 predicts values at places. Leaving samples
	// out takes no notice of it, as samples are values at places.
	Block float64
}

// wholeSystem is up to how many samples their whole covariance matrix is
// factored to see whether it bears solving, also where only the nearest count:
// what is a part of a well-conditioned matrix is no worse.
const wholeSystem = 1000

// Validate reports settings that cannot be meant.
func (s OrdinaryKriging) Validate() error {
	if s.Neighbors < AllNeighbors {
		return fmt.Errorf("interp: %d neighbours: want 1 or more, or all", s.Neighbors)
	}
	if !(s.Block >= 0) || math.IsInf(s.Block, 0) {
		return fmt.Errorf("interp: blocks of %g m: want a finite number of 0 or more", s.Block)
	}
	return s.Model.Validate()
}

// Fit returns the predictor through samples. It copies them. No samples, one
// that is not finite, settings out of range, and places so close to each other
// that the equations cannot be solved are errors; the last names the two
// nearest. Any number of goroutines may share the predictor.
func (s OrdinaryKriging) Fit(samples []Sample) (VariancePredictor, error) {
	k, err := s.fit(samples)
	if err != nil {
		return nil, err // not a nil *kriging in an interface
	}
	return k, nil
}

func (s OrdinaryKriging) fit(samples []Sample) (*kriging, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := check(samples); err != nil {
		return nil, err
	}
	if s.Neighbors == 0 {
		s.Neighbors = DefaultKrigingNeighbors
	}
	k := newKriging(s, Pool(samples))
	if k.wellConditioned() {
		return k, nil
	}
	return nil, k.tooClose(samples)
}

// kriging is a fitted OrdinaryKriging. It is not changed after it was made.
type kriging struct {
	OrdinaryKriging
	*neighbors
	block   *block    // nil is the value at a place
	seen    observed  // in the order of the cells
	shift   float64   // mean of the values
	whole   *system   // where all samples count
	mean    knownMean // of all samples, where its variance is above 0; else of those that count
	scratch *sync.Pool
}

func newKriging(s OrdinaryKriging, pooled []Sample) *kriging {
	k := &kriging{OrdinaryKriging: s, neighbors: newNeighbors(pooled), block: newBlock(s.Model, s.Block)}
	if s.Neighbors >= len(pooled) {
		k.Neighbors = AllNeighbors
	}
	k.seen = observed{xs: k.xs, ys: k.ys, zs: make([]float64, len(pooled))}
	for at, id := range k.id {
		k.seen.zs[at] = pooled[id].Value
		k.shift += pooled[id].Value / float64(len(pooled))
	}
	k.scratch = &sync.Pool{New: func() any { return &local{} }}
	return k
}

// local is memory for a prediction from the nearest samples.
type local struct {
	near []found
	system
}

// wellConditioned looks at the equations that predictions will solve, and keeps
// them where they are always the same.
func (k *kriging) wellConditioned() bool {
	if k.Neighbors == AllNeighbors || len(k.xs) <= wholeSystem {
		s, ok := newSystem(k.Model, &k.seen, k.shift)
		if ok && k.Neighbors == AllNeighbors {
			s.block = k.block
			k.whole = s
		}
		return ok
	}
	near := make([]found, 0, k.Neighbors)
	var part system
	part.grow(k.Neighbors, k.seen.noise != nil)
	for i, x := range k.xs {
		near = k.nearest(x, k.ys[i], none, near)
		k.pick(&part.seen, near)
		if _, ok := newSystem(k.Model, &part.seen, k.shift); !ok {
			return false
		}
	}
	return true
}

// pick takes the samples found.
func (k *kriging) pick(part *observed, near []found) {
	for i, f := range near {
		part.xs[i], part.ys[i], part.zs[i] = k.xs[f.at], k.ys[f.at], k.seen.zs[f.at]
		if k.seen.noise != nil {
			part.noise[i] = k.seen.noise[f.at]
		}
	}
}

// tooClose names the two places that are nearest to each other, the reason why
// equations cannot be solved.
func (k *kriging) tooClose(samples []Sample) error {
	least, a, b := math.Inf(1), 0, 0
	near := make([]found, 0, 1)
	for i, x := range k.xs {
		if near = k.nearest(x, k.ys[i], k.id[i], near); len(near) > 0 && near[0].d2 < least {
			least, a, b = near[0].d2, i, int(near[0].at)
		}
	}
	return fmt.Errorf("interp: samples %d and %d are %.3g m apart, too close to tell them apart under a %s variogram of range %g m and nugget %g: put them together, or give a nugget",
		numberOf(samples, k.xs[a], k.ys[a]), numberOf(samples, k.xs[b], k.ys[b]), math.Sqrt(least), k.Model.Kind, k.Model.Range, k.Model.Nugget)
}

// numberOf is the number, from 1, of the first sample at a place.
func numberOf(samples []Sample, x, y float64) int {
	for i, s := range samples {
		if s.X == x && s.Y == y {
			return i + 1
		}
	}
	return 0
}

// Predict returns the expected value at a place in metres; NaN for a place that
// is not finite or beyond 1e100 m, and where equations of the nearest samples
// cannot be solved.
func (k *kriging) Predict(x, y float64) float64 {
	v, _ := k.PredictWithVariance(x, y)
	return v
}

// PredictWithDistance also returns the distance in metres to the nearest sample.
func (k *kriging) PredictWithDistance(x, y float64) (value, distance float64) {
	if !reachable(x, y) {
		return math.NaN(), math.NaN()
	}
	return k.Predict(x, y), k.nearestOther(none, Sample{X: x, Y: y})
}

// PredictWithVariance also returns the variance of the prediction error, 0 at a
// sample where no block is asked for.
func (k *kriging) PredictWithVariance(x, y float64) (value, variance float64) {
	if !reachable(x, y) {
		return math.NaN(), math.NaN()
	}
	return k.without(x, y, none)
}

// without predicts from the samples but the one numbered skip, which only
// settings with nearest neighbours can leave out.
func (k *kriging) without(x, y float64, skip int32) (value, variance float64) {
	if k.block != nil {
		return k.smoothed(x, y, skip)
	}
	var stack [1]found
	if near := k.nearest(x, y, skip, stack[:0]); near[0].d2 == 0 {
		return k.seen.zs[near[0].at], 0
	}
	return k.smoothed(x, y, skip)
}

// smoothed is without, but not tied to the value seen at the very place.
func (k *kriging) smoothed(x, y float64, skip int32) (value, variance float64) {
	l := k.scratch.Get().(*local)
	defer k.scratch.Put(l)
	if k.whole != nil {
		l.v = blas64.Vector{N: len(k.xs), Data: resized(l.v.Data, len(k.xs)), Inc: 1}
		return k.whole.predict(x, y, l.v)
	}
	if cap(l.near) != k.Neighbors {
		l.near = make([]found, 0, k.Neighbors)
	}
	l.near = k.nearest(x, y, skip, l.near)
	l.model, l.block, l.shift = k.Model, k.block, k.shift
	l.grow(len(l.near), k.seen.noise != nil)
	k.pick(&l.seen, l.near)
	if !l.solve() {
		return math.NaN(), math.NaN()
	}
	if k.mean.variance > 0 {
		l.bb = 1 / k.mean.variance
		l.ab = (k.mean.value - k.shift) * l.bb
	}
	return l.predict(x, y, l.v)
}
