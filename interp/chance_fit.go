package interp

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat"
)

// Bounds of the search: variances from this share to this multiple of the
// variance of y, ranges from this share of the diagonal of the counts' box to
// this multiple of it.
const (
	leastVariance, mostVariance = 1e-3, 20
	leastRange, mostRange       = 1.0 / 200, 1
	variancesTried, rangesTried = 6, 8
)

// netCounts is by how many counts the net of variances and ranges is tried; the
// descent from its best is by all of the fit.
const netCounts = 40

// likeliest returns the Matérn 3/2 model with the greatest restricted
// likelihood, and notes it.
func (p *ChanceParameters) likeliest(counts []Count, seed uint64) VariogramModel {
	l := newLikelihood(*p, subsample(counts, chanceFit, seed))
	best := l.clamped(newLikelihood(*p, subsample(counts, netCounts, seed)).lowest())
	least := l.of(best)
	r, err := optimize.Minimize(optimize.Problem{Func: l.of}, best, &optimize.Settings{
		// 1e-4 is nothing beside 3.84, the 5 % point of χ² by which models are told apart.
		Converger: &optimize.FunctionConverge{Absolute: 1e-4, Iterations: 8},
	}, &optimize.NelderMead{SimplexSize: 0.4})
	if err == nil && r.F < least {
		best = r.X
	}
	l.of(best)
	p.Variance, p.Range = l.model.PartialSill, l.model.Range
	p.Mean = l.mean()
	return l.model
}

// subsample takes counts at random, in their order, where there are too many to
// solve for at once again and again.
func subsample(counts []Count, most int, seed uint64) []Count {
	if len(counts) <= most {
		return counts
	}
	picked := rand.New(rand.NewPCG(seed, uint64(len(counts)))).Perm(len(counts))[:most]
	slices.Sort(picked)
	part := make([]Count, len(picked))
	for i, at := range picked {
		part[i] = counts[at]
	}
	return part
}

// likelihood is that of variance and range, both as logarithms.
type likelihood struct {
	system
	low, high [2]float64
}

func newLikelihood(p ChanceParameters, counts []Count) *likelihood {
	l := &likelihood{}
	l.grow(len(counts), true)
	samples := make([]Sample, len(counts))
	for i, c := range counts {
		l.seen.xs[i], l.seen.ys[i], l.seen.zs[i] = c.X, c.Y, math.Log(c.Mean+p.Offset)
		l.seen.noise[i] = p.noise(c.Mean, c.Units)
		samples[i] = Sample{X: c.X, Y: c.Y}
	}
	l.apart = make([]float64, len(counts)*len(counts))
	for i := range counts {
		for j := i + 1; j < len(counts); j++ {
			l.apart[i*len(counts)+j] = l.seen.distance(i, j)
		}
	}
	l.shift = stat.Mean(l.seen.zs, nil)
	spread, across := stat.MomentAbout(2, l.seen.zs, l.shift, nil), diagonal(samples)
	if spread <= rounding*(1+float64(l.shift*l.shift)) { // all alike: as little as the errors
		spread = stat.Mean(l.seen.noise, nil)
	}
	l.low = [2]float64{math.Log(leastVariance * spread), math.Log(leastRange * across)}
	l.high = [2]float64{math.Log(mostVariance * spread), math.Log(mostRange * across)}
	return l
}

// of is −2 times the logarithm of the restricted likelihood, up to a constant;
// +Inf out of bounds.
func (l *likelihood) of(at []float64) float64 {
	for i, v := range at {
		if !(v >= l.low[i] && v <= l.high[i]) {
			return math.Inf(1)
		}
	}
	l.model = VariogramModel{Kind: Matern32, PartialSill: math.Exp(at[0]), Range: math.Exp(at[1])}
	if !l.solve() {
		return math.Inf(1)
	}
	var squares float64
	for _, a := range l.a.Data {
		squares += float64(a * a)
	}
	return 2*l.half + math.Log(l.bb) + squares - l.ab*l.ab/l.bb
}

// clamped moves a place into bounds.
func (l *likelihood) clamped(at []float64) []float64 {
	for i := range at {
		at[i] = min(max(at[i], l.low[i]), l.high[i])
	}
	return at
}

// lowest tries a net of variances and ranges.
func (l *likelihood) lowest() (best []float64) {
	least := math.Inf(1)
	best = []float64{l.high[0], l.low[1]} // noise beside which no equation fails
	for i := range variancesTried {
		for j := range rangesTried {
			at := []float64{
				l.low[0] + float64(float64(i)*(l.high[0]-l.low[0])/(variancesTried-1)),
				l.low[1] + float64(float64(j)*(l.high[1]-l.low[1])/(rangesTried-1)),
			}
			if v := l.of(at); v < least {
				best, least = at, v
			}
		}
	}
	return best
}
