package interp

import (
	"fmt"
	"math"
	"slices"
	"sync"
)

// AllNeighbors makes every sample count at every place.
const AllNeighbors = -1

// Defaults of [IDW].
const (
	DefaultPower     = 2
	DefaultNeighbors = 12
)

// IDW is inverse distance weighting (Shepard 1968, Proc. 23rd ACM Natl. Conf.:
// 517–524): the mean of the samples' values with weights 1/dᵖ. The zero value is
// power 2 over the 12 nearest samples with tapered weights.
//
// Over the nearest k, weights are (1/d − 1/R)ᵖ, where R is the distance to the
// next sample after them (Franke & Nielson 1980, Int. J. Numer. Meth. Engng.
// 15:1691–1704): a sample comes and goes with weight 0, so the surface has no
// steps. Where there is no next sample, or all k are as far as it, weights are
// plain.
//
// At a sample the prediction is its value; samples at one place are pooled
// first ([Pool]). Predictions never leave the range of the pooled values, not
// even by rounding, so equal values stay equal. Where plain neighbours tie for
// the k-th place, the earlier samples count.
type IDW struct {
	Power     float64 // p; 0 is 2
	Neighbors int     // k; 0 is 12, AllNeighbors is every sample with plain weights
	Plain     bool    // weights without taper over the nearest k
	// Radius in metres leaves out samples farther away; 0 leaves out none. With
	// a taper, R is no larger than it. A place without any sample within it has
	// no prediction, NaN.
	Radius float64
}

// WithDefaults returns the settings with zero fields filled in.
func (s IDW) WithDefaults() IDW {
	if s.Power == 0 {
		s.Power = DefaultPower
	}
	if s.Neighbors == 0 {
		s.Neighbors = DefaultNeighbors
	}
	return s
}

// Validate reports settings that cannot be meant.
func (s IDW) Validate() error {
	switch {
	case !(s.Power >= 0) || s.Power > maxPower:
		return fmt.Errorf("interp: power %g: want a number above 0, up to %d", s.Power, maxPower)
	case s.Neighbors < AllNeighbors:
		return fmt.Errorf("interp: %d neighbours: want 1 or more, or all", s.Neighbors)
	case !(s.Radius >= 0) || math.IsInf(s.Radius, 0):
		return fmt.Errorf("interp: radius %g m: want a distance above 0", s.Radius)
	}
	return nil
}

// maxPower is far beyond use; with it a weight still has a spread of ratios.
const maxPower = 64

// Fit returns the predictor through samples. It copies them. No samples, one
// that is not finite, a negative weight and settings out of range are errors.
// The predictor does not allocate, and any number of goroutines may share it.
func (s IDW) Fit(samples []Sample) (DistancePredictor, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := check(samples); err != nil {
		return nil, err
	}
	return newWeighting(s.WithDefaults(), Pool(samples)), nil
}

// weighting is a fitted IDW. It is not changed after it was made.
type weighting struct {
	IDW
	*neighbors
	values    []float64 // in the order of the cells
	shares    []float64 // likewise; nil where all are 1
	low, high float64   // range of values
	weigh     power
	radius    float64    // squared; +Inf without one
	longLists *sync.Pool // of *[]found, for more neighbours than fit on the stack
}

func newWeighting(s IDW, pooled []Sample) *weighting {
	w := &weighting{IDW: s, neighbors: newNeighbors(pooled), weigh: power(s.Power), radius: math.Inf(1)}
	w.values = make([]float64, len(pooled))
	for at, id := range w.id {
		w.values[at] = pooled[id].Value
	}
	if slices.ContainsFunc(pooled, func(s Sample) bool { return share(s) != 1 }) {
		w.shares = make([]float64, len(pooled))
		for at, id := range w.id {
			w.shares[at] = share(pooled[id])
		}
	}
	w.low, w.high = slices.Min(w.values), slices.Max(w.values)
	w.longLists = &sync.Pool{New: func() any {
		list := make([]found, 0, w.wanted())
		return &list
	}}
	if s.Radius > 0 {
		w.radius = s.Radius * s.Radius
	}
	return w
}

// Predict returns the weighted mean at a place in metres; NaN where no sample is
// within the radius, or the place is not finite or beyond 1e100 m.
func (w *weighting) Predict(x, y float64) float64 {
	if w.Neighbors == AllNeighbors {
		if !reachable(x, y) {
			return math.NaN()
		}
		return w.all(x, y, none)
	}
	v, _ := w.PredictWithDistance(x, y)
	return v
}

// PredictWithDistance also returns the distance in metres to the nearest
// sample, whether or not it is within the radius; NaN for a place that is not
// finite or beyond 1e100 m.
func (w *weighting) PredictWithDistance(x, y float64) (value, distance float64) {
	return w.without(x, y, none)
}

// none skips no sample.
const none = -1

// stackNeighbors is how many neighbours are kept on the stack.
const stackNeighbors = 33

// wanted is how many samples to look for: one more than the neighbours, for the
// taper; only the nearest, for its distance, where all are weighed anyway.
func (w *weighting) wanted() int {
	if w.Neighbors == AllNeighbors {
		return 1
	}
	return min(w.Neighbors, len(w.values)) + 1
}

// without predicts from all samples but the one numbered skip.
func (w *weighting) without(x, y float64, skip int32) (value, distance float64) {
	if !reachable(x, y) {
		return math.NaN(), math.NaN()
	}
	if want := w.wanted(); want <= stackNeighbors {
		var stack [stackNeighbors]found
		return w.weighed(x, y, skip, stack[:0:want])
	}
	list := w.longLists.Get().(*[]found)
	defer w.longLists.Put(list)
	return w.weighed(x, y, skip, *list)
}

// weighed predicts with room for the neighbours.
func (w *weighting) weighed(x, y float64, skip int32, near []found) (value, distance float64) {
	near = w.nearest(x, y, skip, near)
	if len(near) == 0 {
		return math.NaN(), math.Inf(1)
	}
	distance = math.Sqrt(near[0].d2)
	if w.Neighbors == AllNeighbors {
		return w.all(x, y, skip), distance
	}
	return w.mean(near), distance
}

// ratio is sum / weights, kept within the range of the values; 0/0, no sample
// within the radius, stays NaN.
func (w *weighting) ratio(sum, weights float64) float64 {
	return min(max(sum/weights, w.low), w.high)
}

// mean weighs the nearest samples, sorted by distance; one more than the
// neighbours asked for where there is one.
func (w *weighting) mean(near []found) float64 {
	limit := w.radius
	if len(near) > w.Neighbors {
		limit = min(limit, near[w.Neighbors].d2)
		near = near[:w.Neighbors]
	}
	for len(near) > 0 && near[len(near)-1].d2 > w.radius {
		near = near[:len(near)-1]
	}
	switch {
	case len(near) == 0:
		return math.NaN()
	case near[0].d2 == 0:
		return w.values[near[0].at]
	case w.Plain || math.IsInf(limit, 1):
		return w.plain(near)
	}
	// The roots decide: squares that differ in the last place may have one root.
	r, d0 := math.Sqrt(limit), math.Sqrt(near[0].d2)
	if r == d0 {
		return w.plain(near)
	}
	return w.tapered(near, d0, r)
}

// plain weighs by (d₀/d)ᵖ with d₀ the nearest distance: the ratio neither
// overflows nor vanishes for all samples at once.
func (w *weighting) plain(near []found) float64 {
	var sum, weights float64
	for _, f := range near {
		weight := w.shared(w.weigh.ofSquare(near[0].d2/f.d2), f.at)
		sum += float64(weight * w.values[f.at])
		weights += weight
	}
	return w.ratio(sum, weights)
}

// tapered weighs by ((1/d − 1/R)/(1/d₀ − 1/R))ᵖ.
func (w *weighting) tapered(near []found, d0, r float64) float64 {
	scale := d0 / (r - d0)
	var sum, weights float64
	for _, f := range near {
		d := math.Sqrt(f.d2)
		weight := w.shared(w.weigh.of(scale*(r-d)/d), f.at) // none is beyond R
		sum += float64(weight * w.values[f.at])
		weights += weight
	}
	return w.ratio(sum, weights)
}

// shared is a weight by the share of the sample's say.
func (w *weighting) shared(weight float64, at int32) float64 {
	if w.shares == nil {
		return weight
	}
	return float64(weight * w.shares[at])
}

// farthest bounds the places asked for in metres, so that squared distances
// stay finite.
const farthest = 1e100

// reachable is false for NaN, too.
func reachable(x, y float64) bool { return math.Abs(x) <= farthest && math.Abs(y) <= farthest }
