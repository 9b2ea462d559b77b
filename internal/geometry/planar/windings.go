package planar

import (
	"math"

	"github.com/paulmach/orb"
)

// windings tell how often a ring runs round a place. Its sides are sorted into
// steps of height, so that a place is compared with those at its height only.
type windings struct {
	bound  orb.Bound
	ring   orb.Ring
	height float64 // of a step
	steps  [][]int // numbers of the sides that reach into each
}

func newWindings(ring orb.Ring) *windings {
	w := &windings{bound: ring.Bound(), ring: ring}
	high := w.bound.Max[1] - w.bound.Min[1]
	if len(ring) == 0 || !(high > 0) {
		return w
	}
	n := w.stepsFor(high)
	w.height, w.steps = high/float64(n), make([][]int, n)
	for i := range ring {
		a, b := w.side(i)
		for s := w.step(min(a[1], b[1])); s <= w.step(max(a[1], b[1])); s++ {
			w.steps[s] = append(w.steps[s], i)
		}
	}
	return w
}

// stepsFor is a number of steps in which the sides are entered five times each on
// average, at the most.
func (w *windings) stepsFor(high float64) int {
	var heights float64
	for i := range w.ring {
		a, b := w.side(i)
		heights += math.Abs(b[1] - a[1])
	}
	n := float64(len(w.ring))
	return max(1, int(min(n/4, 4*n*high/heights)))
}

func (w *windings) side(i int) (a, b orb.Point) { return w.ring[i], w.ring[(i+1)%len(w.ring)] }

func (w *windings) step(y float64) int {
	return min(max(int(math.Floor((y-w.bound.Min[1])/w.height)), 0), len(w.steps)-1)
}

// round is the winding number of the ring about a place off its sides: above 0
// where it runs counter-clockwise.
func (w *windings) round(p orb.Point) (n int) {
	if len(w.steps) == 0 || !w.bound.Contains(p) {
		return 0
	}
	for _, i := range w.steps[w.step(p[1])] {
		a, b := w.side(i)
		if (a[1] > p[1]) == (b[1] > p[1]) || p[0] >= a[0]+float64((b[0]-a[0])*((p[1]-a[1])/(b[1]-a[1]))) {
			continue
		}
		if b[1] > a[1] {
			n++
		} else {
			n--
		}
	}
	return n
}
