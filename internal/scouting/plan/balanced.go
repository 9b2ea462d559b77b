package plan

import (
	"math/rand/v2"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// halton is the number k of the van der Corput sequence of a base: the digits of k
// mirrored behind the point, from 0 to below 1 (Halton 1960, Numer. Math. 2:84–90).
func halton(k, base uint64) float64 {
	v, part := 0.0, 1.0
	for ; k > 0; k /= base {
		part /= float64(base)
		v += float64(k%base) * part
	}
	return v
}

// balancedStart bounds where the sequences begin, and balancedTries how many of their
// points are looked at.
const (
	balancedStart = 1 << 24
	balancedTries = 4_000_000
)

// balanced lays n places in balanced acceptance sampling: the points of a Halton
// sequence with a random start over the box of the field, those kept that lie where
// somebody may stop (Robertson, Brown, McDonald & Jaksons 2013, Biometrics
// 69:776–784). Any number of the first places is spread, so that a walk may end early
// and be gone on with. The places come in their order; fewer than n where the ground
// is too small a part of its box.
func (g *ground) balanced(n int, seed uint64) (places []orb.Point) {
	random := rand.New(rand.NewPCG(seed, 0x6261_6c61))
	start := [2]uint64{random.Uint64N(balancedStart), random.Uint64N(balancedStart)}
	box := geo.Bound(g.field)
	wide, high := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	for k := uint64(0); len(places) < n && k < balancedTries; k++ {
		p := orb.Point{box.Min[0] + float64(wide*halton(start[0]+k, 2)), box.Min[1] + float64(high*halton(start[1]+k, 3))}
		if g.good(p) {
			places = append(places, p)
		}
	}
	return places
}
