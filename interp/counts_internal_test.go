package interp

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"
)

// A countProcess is a model of another make than those of [ChanceModel], to compare them
// with: a Gaussian process z of which whole counts are drawn. The y found on n units is
// Poisson with the mean n·e^z, or negative binomial with the variance m + κm² between
// units where Aggregation κ is above 0. What is known of z is taken as normal about its
// mode (Laplace), by algorithms 3.1 and 3.2 of Rasmussen & Williams 2006, Gaussian
// Processes for Machine Learning.
type countProcess struct {
	ChanceParameters         // Mean is that of z before any count; there is no Offset
	meanVariance     float64 // of its error
	kind             VariogramKind

	seen     []Count
	among    *mat.SymDense // covariances of the places
	mode     *mat.VecDense // of z less Mean
	inverse  *mat.VecDense // among⁻¹ times mode
	slope    []float64     // of the logarithm of the likelihood, at the mode
	root     []float64     // of minus its second derivative
	factor   mat.Cholesky  // of 1 + root·among·root
	evidence float64       // logarithm of the marginal likelihood
	left     []gauss       // what the other counts say of z at each place
}

func newCountProcess(t *testing.T, seen []Count, p ChanceParameters, meanVariance float64, kind VariogramKind) *countProcess {
	n := len(seen)
	c := &countProcess{ChanceParameters: p, meanVariance: meanVariance, kind: kind, seen: seen, among: mat.NewSymDense(n, nil),
		mode: mat.NewVecDense(n, nil), inverse: mat.NewVecDense(n, nil), slope: make([]float64, n), root: make([]float64, n)}
	for i, a := range seen {
		for j := i; j < n; j++ {
			c.among.SetSym(i, j, c.covariance(a, seen[j]))
		}
	}
	const most = 200 // steps
	for step := 0; ; step++ {
		require.Less(t, step, most, "no mode found")
		value := c.bend()
		require.True(t, c.factor.Factorize(c.bent()))
		c.evidence = value - c.factor.LogDet()/2
		if !c.stepFrom(value) {
			break
		}
	}
	c.leaveOut()
	return c
}

func (c *countProcess) covariance(a, b Count) float64 {
	m := VariogramModel{Kind: c.kind, PartialSill: c.Variance, Range: c.Range}
	return m.Covariance(math.Hypot(a.X-b.X, a.Y-b.Y)) + c.meanVariance
}

// likelihood is the logarithm of the chance of a count, its slope in z and minus its
// second derivative.
func (c *countProcess) likelihood(count Count, z float64) (log, slope, bend float64) {
	y, expected := count.Mean*count.Units, count.Units*math.Exp(z)
	if c.Aggregation == 0 {
		return y*math.Log(expected) - expected - logGamma(y+1), y - expected, expected
	}
	r := count.Units / c.Aggregation
	share := expected / (r + expected)
	log = logGamma(y+r) - logGamma(r) - logGamma(y+1) - r*math.Log1p(expected/r)
	if y > 0 {
		log += y * math.Log(share)
	}
	return log, y - (y+r)*share, (y + r) * share * (1 - share)
}

func logGamma(v float64) float64 { l, _ := math.Lgamma(v); return l }

// bend works out slopes and second derivatives at the mode as it stands, and returns the
// logarithm of its density, up to a constant.
func (c *countProcess) bend() float64 {
	value := -mat.Dot(c.inverse, c.mode) / 2
	for i, count := range c.seen {
		log, slope, bend := c.likelihood(count, c.Mean+c.mode.AtVec(i))
		value, c.slope[i], c.root[i] = value+log, slope, math.Sqrt(bend)
	}
	return value
}

// bent is 1 + root·among·root.
func (c *countProcess) bent() *mat.SymDense {
	n := len(c.seen)
	b := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			b.SetSym(i, j, c.root[i]*c.among.At(i, j)*c.root[j])
		}
		b.SetSym(i, i, b.At(i, i)+1)
	}
	return b
}

// stepFrom takes Newton's step, halved until it climbs; false at the top.
func (c *countProcess) stepFrom(value float64) bool {
	n := len(c.seen)
	var b, weighed, step mat.VecDense
	b.CloneFromVec(c.mode)
	for i := range n {
		b.SetVec(i, c.root[i]*c.root[i]*b.AtVec(i)+c.slope[i])
	}
	weighed.MulVec(c.among, &b)
	for i := range n {
		weighed.SetVec(i, c.root[i]*weighed.AtVec(i))
	}
	if c.factor.SolveVecTo(&weighed, &weighed) != nil {
		return false
	}
	step.SubVec(&b, c.inverse)
	for i := range n {
		step.SetVec(i, step.AtVec(i)-c.root[i]*weighed.AtVec(i))
	}
	before := mat.VecDenseCopyOf(c.inverse)
	for size := 1.0; size > 1e-12; size /= 2 {
		c.inverse.AddScaledVec(before, size, &step)
		c.mode.MulVec(c.among, c.inverse)
		if got := c.bend(); got >= value {
			return got > value+1e-11
		}
	}
	c.inverse = before
	c.mode.MulVec(c.among, before)
	c.bend()
	return false
}

// of is what is known of z at a place.
func (c *countProcess) of(x, y float64) gauss {
	v, known := mat.NewVecDense(len(c.seen), nil), mat.VecDense{}
	mean := c.Mean
	for i, s := range c.seen {
		k := c.covariance(Count{X: x, Y: y}, s)
		mean += k * c.slope[i]
		v.SetVec(i, c.root[i]*k)
	}
	variance := c.Variance + c.meanVariance
	if c.factor.SolveVecTo(&known, v) == nil {
		variance -= mat.Dot(v, &known)
	}
	return gauss{mean, max(0, variance)}
}

// leaveOut takes each count back out of what is known at its place, as if it were the
// normal one that the mode makes of it (Vehtari et al. 2016, J. Mach. Learn. Res. 17:103,
// from memory).
func (c *countProcess) leaveOut() {
	c.left = make([]gauss, len(c.seen))
	for i, s := range c.seen {
		bend, variance := c.root[i]*c.root[i], max(c.of(s.X, s.Y).variance, 1e-12)
		without := 1 / max(1/variance-bend, 1e-12)
		z := c.mode.AtVec(i)
		c.left[i] = gauss{c.Mean + without*(z/variance-bend*z-c.slope[i]), without}
	}
}

// reading is the chance that units counted at a place are at or above a level.
func (c *countProcess) reading(level, units float64, z gauss) float64 {
	const steps = 33
	k, sum, all := math.Ceil(level*units-1e-9), 0.0, 0.0
	for i := range steps {
		u := -4.5 + 9*(float64(i)+0.5)/steps
		w := math.Exp(-u * u / 2)
		expected := units * math.Exp(min(z.mean+math.Sqrt(z.variance)*u, 50))
		p := mathext.GammaIncReg(k, expected)
		if c.Aggregation > 0 {
			r := units / c.Aggregation
			p = mathext.RegIncBeta(k, r, expected/(r+expected))
		}
		sum, all = sum+w*p, all+w
	}
	return sum / all
}

// countAverage are such processes over the net of parameters that chances are averaged
// over, with weights earned as those of an offset are.
type countAverage struct {
	members []*countProcess
	weights []float64
	earned  float64 // logarithm, beside what offsets earn
}

func newCountAverage(t *testing.T, pooled []Count, level float64) *countAverage {
	logs := newObservation(ChanceParameters{Offset: halfCountable(pooled)}, pooled)
	places := make([]Sample, len(pooled))
	for i, p := range pooled {
		places[i] = Sample{X: p.X, Y: p.Y}
	}
	a := &countAverage{}
	var chances [][]float64
	for _, reach := range rangesAveraged {
		for _, v := range variancesAveraged {
			const flat = 100 // variance of the error of the mean, next to nothing known
			p := ChanceParameters{Aggregation: aggregation(pooled), Mean: logs.shift, Variance: v * max(logs.spread, 0.01), Range: reach * diagonal(places)}
			m := newCountProcess(t, pooled, p, flat, Matern32)
			weight, foresight := likelihoodPower*m.evidence, make([]float64, len(pooled))
			for i, p := range pooled {
				foresight[i] = foreseen(m.reading(level, p.Units, m.left[i]), p.Mean >= level)
				weight += foresightPower * math.Log(foresight[i])
			}
			a.members, a.weights, chances = append(a.members, m), append(a.weights, weight), append(chances, foresight)
		}
	}
	fromLogarithms(a.weights)
	for place := range pooled {
		var chance float64
		for i, w := range a.weights {
			chance += w * chances[i][place]
		}
		a.earned += math.Log(chance)
	}
	return a
}

func foreseen(chance float64, over bool) float64 {
	if !over {
		chance = 1 - chance
	}
	return leastSurprise + (1-2*leastSurprise)*chance
}

// each tells of a place; the weights add up to 1.
func (a *countAverage) each(x, y float64, visit func(w float64, p *countProcess, z gauss)) {
	var all float64
	for _, w := range a.weights {
		if w >= leastWeight {
			all += w
		}
	}
	for i, w := range a.weights {
		if w >= leastWeight {
			visit(w/all, a.members[i], a.members[i].of(x, y))
		}
	}
}

// weightBeside is what they earn of the weight beside the processes of each offset.
func (a *countAverage) weightBeside(c *Chances, level float64) float64 {
	all := c.Parameters()
	best := all[0]
	for _, p := range all {
		if p.Weight > best.Weight {
			best = p
		}
	}
	var earned float64
	for i, count := range c.pooled {
		var chance float64
		for _, p := range c.members {
			if p.Offset == best.Offset {
				chance += p.Weight / best.Weight * foreseen(p.predicted(i, level, count.Units).Reading, count.Mean >= level)
			}
		}
		earned += math.Log(chance)
	}
	return 1 / (1 + math.Exp(earned-a.earned)/best.Weight)
}
