package interp

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// How many counts Vecchia's likelihood goes by at most, and how many of those
// before it each is conditioned on.
const (
	vecchiaCounts    = 3000
	vecchiaNeighbors = 15
)

// vecchia is a likelihood in parts: of each count given the nearest of those before
// it in an order that spreads the first ones over the ground (Vecchia 1988, J. R.
// Stat. Soc. B 50:297–312; Guinness 2018, Technometrics 60:415–429, for the order:
// both from memory). It takes time in proportion to the counts.
type vecchia struct {
	order []int     // of the counts
	near  [][]int   // of each in that order, the nearest before it and itself, by place in the order
	apart []float64 // metres between these, of each of them from those that stand before it
}

// newVecchia is nil where the counts are few enough for the exact likelihood.
func newVecchia(pooled []Count) *vecchia {
	if len(pooled) <= chanceExact {
		return nil
	}
	v := &vecchia{order: spreadOrder(pooled)}
	v.order = v.order[:min(len(v.order), vecchiaCounts)]
	places := observed{xs: make([]float64, len(v.order)), ys: make([]float64, len(v.order))}
	before := make([]found, 0, vecchiaNeighbors)
	for i, at := range v.order {
		places.xs[i], places.ys[i] = pooled[at].X, pooled[at].Y
		before = before[:0]
		for j, other := range v.order[:i] {
			dx, dy := pooled[at].X-pooled[other].X, pooled[at].Y-pooled[other].Y
			before = nearer(before, found{d2: float64(dx*dx) + float64(dy*dy), id: int32(j)})
		}
		var near []int
		for _, f := range before {
			near = append(near, int(f.id))
		}
		v.condition(&places, near)
	}
	return v
}

// nearer puts one more in order of distance, where there is room or it is nearer.
func nearer(all []found, f found) []found {
	if len(all) == cap(all) {
		if !f.before(all[len(all)-1]) {
			return all
		}
		all = all[:len(all)-1]
	}
	at, _ := slices.BinarySearchFunc(all, f, func(a, b found) int {
		if a.before(b) {
			return -1
		}
		return 1
	})
	return slices.Insert(all, at, f)
}

// spreadOrder takes the counts, row by row as their search has them, by bit-reversed
// numbers: each power of two is spread over all of them.
func spreadOrder(pooled []Count) []int {
	cells := placesOf(pooled).id
	order := make([]int, len(cells))
	rank := make([]uint32, len(cells))
	for i, id := range cells {
		order[i] = int(id)
		rank[id] = bits.Reverse32(uint32(i))
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
	return order
}

// first returns the first n counts of the order; without one, n spread over those
// there are.
func (v *vecchia) first(counts []Count, n int) []Count {
	var order []int
	if v != nil {
		order = v.order
	} else if len(counts) <= n {
		return counts
	} else {
		order = spreadOrder(counts)
	}
	part := make([]Count, min(n, len(order)))
	for i := range part {
		part[i] = counts[order[i]]
	}
	return part
}

// condition sets the next of the places on those near that come before it.
func (v *vecchia) condition(places *observed, near []int) {
	near = append(near, len(v.near))
	for k, i := range near {
		for _, j := range near[:k] {
			v.apart = append(v.apart, places.distance(i, j))
		}
	}
	v.near = append(v.near, near)
}

// of is −2 times the logarithm of the restricted likelihood of what was seen, in
// the order, up to the constant of the exact one; +Inf where it cannot be worked
// out. Only so many of the first are taken. It leaves the sums in the system from
// which its mean follows.
func (v *vecchia) of(s *system, first int) float64 {
	var part parts
	s.ab, s.bb = 0, 0
	var log, squares float64
	from := 0
	for _, near := range v.near[:first] {
		pairs := len(near) * (len(near) - 1) / 2
		last, ok := part.last(s, near, v.apart[from:from+pairs])
		if !ok {
			return math.Inf(1)
		}
		from += pairs
		log += math.Log(last.variance)
		squares += float64(last.a * last.a)
		s.ab += float64(last.a * last.b)
		s.bb += float64(last.b * last.b)
	}
	if !(s.bb > 0) || math.IsInf(log+s.ab+s.bb, 0) || math.IsNaN(log+s.ab) {
		return math.Inf(1)
	}
	return log + math.Log(s.bb) + squares - s.ab*s.ab/s.bb
}

// parts is memory for the equations of one after the other.
type parts struct {
	cholesky
	covariances, a, b []float64
}

// whitened is what a value, and a mean of 1, have beside those before them, in
// standard deviations of that.
type whitened struct{ a, b, variance float64 }

// last whitens what was seen at the last of some places.
func (p *parts) last(s *system, of []int, apart []float64) (last whitened, ok bool) {
	p.covariances = resized(p.covariances, len(apart))
	covariances(s.model, apart, p.covariances)
	p.begin(len(of))
	p.a, p.b = p.a[:0], p.b[:0]
	before := p.covariances
	for k, i := range of {
		if !p.add(before[:k], s.model.PartialSill+s.seen.noise[i]) {
			return whitened{}, false
		}
		before = before[k:]
		p.a = append(p.a, p.next(s.seen.zs[i]-s.shift, p.a))
		p.b = append(p.b, p.next(1, p.b))
	}
	k := len(of) - 1
	return whitened{p.a[k], p.b[k], 1 / float64(p.reciprocal[k]*p.reciprocal[k])}, true
}
