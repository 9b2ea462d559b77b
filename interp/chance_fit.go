package interp

import (
	"math"

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

// knownMean is a mean by generalised least squares, and the variance of its error.
type knownMean struct{ value, variance float64 }

// fit returns the Matérn 3/2 model with the greatest restricted likelihood and
// the mean by it, and notes both: of up to chanceExact counts by the exact
// likelihood, of more by Vecchia's.
func (p *process) fit(counts []Count, near *vecchia) (VariogramModel, knownMean) {
	l := newLikelihood(p.ChanceParameters, counts, near)
	best := l.lowestFrom(l.clamped(newLikelihood(p.ChanceParameters, near.first(counts, netCounts), nil).lowest()))
	p.likelihood = -l.of(best) / 2
	p.Variance, p.Range = l.model.PartialSill, l.model.Range
	p.Mean = l.mean()
	return l.model, knownMean{p.Mean, 1 / l.bb}
}

// lowestFrom goes down from a place. By Vecchia's likelihood it does so by few of its
// parts first, then by three times as many, until all are taken: by Newton's steps of six
// evaluations, where a simplex takes some sixty to the end.
func (l *likelihood) lowestFrom(at []float64) []float64 {
	if l.near == nil || len(l.near.order) < 2*partsFirst {
		return l.downhill(at)
	}
	least := newtonLeast * 10
	for l.parts = partsFirst; ; l.parts *= 3 {
		if l.parts > len(l.near.order)/2 {
			l.parts, least = len(l.near.order), newtonLeast
		}
		if lower, ok := l.newton(at, least); ok {
			at = lower
		} else {
			at = l.downhill(at)
		}
		if l.parts == len(l.near.order) {
			return at
		}
	}
}

// partsFirst is how many parts of Vecchia's likelihood lead to the neighbourhood of
// where all are lowest.
const partsFirst = 300

// downhill follows a simplex (Nelder & Mead 1965, Computer J. 7:308–313).
func (l *likelihood) downhill(best []float64) []float64 {
	least := l.of(best)
	r, err := optimize.Minimize(optimize.Problem{Func: l.of}, best, &optimize.Settings{
		// 1e-4 is nothing beside 3.84, the 5 % point of χ² by which models are told apart.
		Converger: &optimize.FunctionConverge{Absolute: 1e-4, Iterations: 8},
	}, &optimize.NelderMead{SimplexSize: 0.4})
	if err == nil && r.F < least {
		return r.X
	}
	return best
}

// likelihood is that of variance and range, both as logarithms.
type likelihood struct {
	system
	near      *vecchia // nil is exact
	parts     int      // of it that count, the first ones
	low, high [2]float64
}

// newLikelihood is exact where near is nil.
func newLikelihood(p ChanceParameters, counts []Count, near *vecchia) *likelihood {
	l := &likelihood{near: near}
	if near != nil {
		counts = near.first(counts, len(near.order))
		l.parts = len(near.order)
	}
	n := len(counts)
	l.seen = observed{xs: make([]float64, n), ys: make([]float64, n), zs: make([]float64, n), noise: make([]float64, n)}
	samples := make([]Sample, n)
	for i, c := range counts {
		l.seen.xs[i], l.seen.ys[i], l.seen.zs[i] = c.X, c.Y, math.Log(c.Mean+p.Offset)
		l.seen.noise[i] = p.noise(c.Mean, c.Units)
		samples[i] = Sample{X: c.X, Y: c.Y}
	}
	if near == nil {
		l.resize(n)
		l.apart = make([]float64, n*n)
		for i := range n {
			for j := i + 1; j < n; j++ {
				l.apart[i*n+j] = l.seen.distance(i, j)
			}
		}
	}
	l.shift = stat.Mean(l.seen.zs, nil)
	spread, across := spreadOf(l.seen.zs, l.seen.noise, l.shift), diagonal(samples)
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
	return l.anywhere(at)
}

// anywhere is of without bounds.
func (l *likelihood) anywhere(at []float64) float64 {
	l.model = VariogramModel{Kind: Matern32, PartialSill: math.Exp(at[0]), Range: math.Exp(at[1])}
	if l.near != nil {
		return l.near.of(&l.system, l.parts)
	}
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

// diagonal is that of the samples' box in metres.
func diagonal(samples []Sample) float64 {
	x0, y0 := math.Inf(1), math.Inf(1)
	x1, y1 := math.Inf(-1), math.Inf(-1)
	for _, s := range samples {
		x0, x1 = min(x0, s.X), max(x1, s.X)
		y0, y1 = min(y0, s.Y), max(y1, s.Y)
	}
	return math.Hypot(x1-x0, y1-y0)
}
