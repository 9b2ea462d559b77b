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
	order []int   // of the counts
	near  [][]int // of each in that order, the nearest before it, by place in the order
}

// newVecchia is nil where the counts are few enough for the exact likelihood.
func newVecchia(pooled []Count) *vecchia {
	if len(pooled) <= chanceExact {
		return nil
	}
	v := &vecchia{order: spreadOrder(pooled)}
	v.order = v.order[:min(len(v.order), vecchiaCounts)]
	before := make([]found, 0, vecchiaNeighbors)
	for i, at := range v.order {
		before = before[:0]
		for j, other := range v.order[:i] {
			dx, dy := pooled[at].X-pooled[other].X, pooled[at].Y-pooled[other].Y
			before = nearer(before, found{d2: float64(dx*dx) + float64(dy*dy), id: int32(j)})
		}
		var near []int
		for _, f := range before {
			near = append(near, int(f.id))
		}
		v.near = append(v.near, near)
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

// of is −2 times the logarithm of the restricted likelihood of what was seen, in
// the order, up to the constant of the exact one; +Inf where it cannot be worked
// out. It leaves the sums in the system from which its mean follows.
func (v *vecchia) of(s *system) float64 {
	var part system
	part.model, part.shift = s.model, s.shift
	s.ab, s.bb = 0, 0
	var log, squares float64
	for i, near := range v.near {
		m := len(near)
		part.grow(m+1, true)
		for k, j := range near {
			part.take(k, &s.seen, j)
		}
		part.take(m, &s.seen, i)
		if !part.solve() {
			return math.Inf(1)
		}
		// The last of the whitened values is what it has beside its neighbours.
		a, b := part.a.Data[m], part.b.Data[m]
		log += math.Log(part.matrix[m*(m+1)+m])
		squares += float64(a * a)
		s.ab += float64(a * b)
		s.bb += float64(b * b)
	}
	return 2*log + math.Log(s.bb) + squares - s.ab*s.ab/s.bb
}

// take copies one of what was seen.
func (s *system) take(to int, seen *observed, from int) {
	s.seen.xs[to], s.seen.ys[to], s.seen.zs[to], s.seen.noise[to] = seen.xs[from], seen.ys[from], seen.zs[from], seen.noise[from]
}
