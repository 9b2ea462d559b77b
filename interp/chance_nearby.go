package interp

import "math"

// nearby is memory for what the nearest counts say of a place.
type nearby struct {
	near                 []found
	distances            []float64 // between them, of each from those before it
	covariances, a, b, v []float64
	cholesky
}

// byNearest is what the nearest counts but the one numbered skip say of y at a place,
// under the one mean m of all: with v the whitened covariances of the place with them,
// m + v·(a − mb) of expected value and c(0) − v·v + (1 − v·b)²·var(m) of variance, where a
// and b are the whitened values and ones.
func (p *kriged) byNearest(x, y float64, skip int32) gauss {
	n := p.scratch.Get().(*nearby)
	defer p.scratch.Put(n)
	k := p.latent
	if cap(n.near) != k.Neighbors {
		n.near = make([]found, 0, k.Neighbors)
	}
	n.near = k.nearest(x, y, skip, n.near)
	if !n.factor(k) {
		return gauss{math.NaN(), math.NaN()}
	}
	for _, f := range n.near {
		n.v = append(n.v, math.Sqrt(f.d2))
	}
	covariances(k.Model, n.v, n.v)
	n.whiten(n.v)
	mean := k.mean.value
	left := 1 - dot(n.b, n.v)
	value := k.shift + dot(n.a, n.v) + float64((mean-k.shift)*left)
	variance := k.Model.Sill() - dot(n.v, n.v) + float64(float64(left*left)*k.mean.variance)
	return gauss{value, max(0, variance)}
}

// factor makes the factor of the covariances of the counts that are near, and whitens
// their values and ones; it is false where they are not positive definite.
func (n *nearby) factor(k *kriging) bool {
	n.distances, n.a, n.b, n.v = n.distances[:0], n.a[:0], n.b[:0], n.v[:0]
	for i, f := range n.near {
		for _, g := range n.near[:i] {
			n.distances = append(n.distances, k.seen.distance(int(f.at), int(g.at)))
		}
	}
	n.covariances = resized(n.covariances, len(n.distances))
	covariances(k.Model, n.distances, n.covariances)
	n.begin(len(n.near))
	before := n.covariances
	for i, f := range n.near {
		if !n.add(before[:i], k.Model.Sill()+k.seen.noise[f.at]) {
			return false
		}
		before = before[i:]
		n.a = append(n.a, n.next(k.seen.zs[f.at]-k.shift, n.a))
		n.b = append(n.b, n.next(1, n.b))
	}
	return true
}
