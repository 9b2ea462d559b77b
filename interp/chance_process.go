package interp

import (
	"math"
	"slices"
	"sync"
)

// likeliest are processes with the likeliest parameters, one an offset.
type likeliest []*kriged

// kriged is a process by all counts, or by the nearest ones. Where it is by the
// nearest, what it expects is still by all where they are few enough to be solved for
// at once: the nearest 32 tell the variance well, and average too few errors where
// these are large beside what differs from place to place.
type kriged struct {
	process
	latent  *kriging  // of y
	weights []float64 // of the covariances with all counts in what differs from the mean; nil is by the nearest
}

// newLikeliest is nil where the equations cannot be solved.
func newLikeliest(pooled []Count, offsets []ChanceParameters, neighbors int) likeliest {
	all := make(likeliest, len(offsets))
	near := newVecchia(pooled)
	var wg sync.WaitGroup
	for i, p := range offsets {
		wg.Go(func() { all[i] = newKriged(pooled, p, neighbors, near) })
	}
	wg.Wait()
	if slices.Contains(all, nil) {
		return nil
	}
	return all
}

func newKriged(pooled []Count, parameters ChanceParameters, neighbors int, near *vecchia) *kriged {
	p := &kriged{process: process{ChanceParameters: parameters}}
	model, mean := p.fit(pooled, near)
	samples := make([]Sample, len(pooled))
	for i, c := range pooled {
		samples[i] = Sample{X: c.X, Y: c.Y, Value: math.Log(c.Mean + p.Offset)}
	}
	p.latent = newKriging(OrdinaryKriging{Model: model, Neighbors: neighbors}, samples)
	p.latent.mean = mean
	p.latent.seen.noise = make([]float64, len(pooled))
	for i, id := range p.latent.id {
		p.latent.seen.noise[i] = p.noise(pooled[id].Mean, pooled[id].Units)
	}
	if p.latent.Neighbors != AllNeighbors && len(pooled) <= wholeSystem {
		return p.expectingByAll()
	}
	if !p.latent.wellConditioned() {
		return nil
	}
	p.left = p.withoutEach()
	return p
}

// expectingByAll finds the weights of all counts; nil where the equations cannot be
// solved.
func (p *kriged) expectingByAll() *kriged {
	k := p.latent
	whole, ok := newSystem(k.Model, &k.seen, k.shift)
	if !ok {
		return nil
	}
	k.mean = knownMean{whole.mean(), 1 / whole.bb}
	p.weights = make([]float64, len(k.xs))
	p.left = p.leftOut(whole)
	for i := range p.weights {
		p.weights[i] = whole.a.Data[i] - float64(whole.ab/whole.bb*whole.b.Data[i])
	}
	return p
}

// of is what it says of y at a place.
func (p *kriged) of(x, y float64) gauss {
	k := p.latent
	value, variance := k.smoothed(x, y, none)
	if p.weights == nil {
		return gauss{value, variance}
	}
	value = k.mean.value
	for i, w := range p.weights {
		dx, dy := k.xs[i]-x, k.ys[i]-y
		value += float64(w * k.Model.Covariance(math.Sqrt(float64(dx*dx)+float64(dy*dy))))
	}
	return gauss{value, variance}
}

func (l likeliest) processes() (all []*process) {
	for _, k := range l {
		all = append(all, &k.process)
	}
	return all
}

func (l likeliest) keep() {}

func (l likeliest) tell(x, y float64, visit func(p *process, y gauss)) {
	for _, k := range l {
		if k.Weight > 0 {
			visit(&k.process, k.of(x, y))
		}
	}
}

// noise is the variance of the error of y at a mean, or a share, counted on so many
// units; above 0, as [ChanceModel] has it. A share above 1 is taken as 1.
func (p ChanceParameters) noise(mean, units float64) float64 {
	if p.binomial {
		q := (float64(min(mean, 1)*units) + 0.5) / (units + 1)
		slope := 1 / (mean + p.Offset)
		return q * (1 - q) * float64(slope*slope) / units
	}
	return (1/(mean+p.Offset) + p.Aggregation) / units
}

// gauss is a normal distribution.
type gauss struct{ mean, variance float64 }

func gaussian(mean, variance float64) gauss { return gauss{mean, variance} }

// above is the chance that y is at or above that of a level; NaN where nothing is
// known of y.
func (p ChanceParameters) above(level float64, y gauss) float64 {
	if level <= 0 {
		return 1
	}
	short := math.Log(level+p.Offset) - y.mean
	if y.variance == 0 {
		switch {
		case short > 0:
			return 0
		case short <= 0:
			return 1
		}
	}
	return 0.5 * math.Erfc(short/math.Sqrt(2*y.variance))
}

// withoutEach is what the others say of y at each place, free of its own error,
// in the order of the pooled counts.
func (p *kriged) withoutEach() []gauss {
	k := p.latent
	if k.whole == nil {
		out := make([]gauss, len(k.xs))
		for i, x := range k.xs {
			out[k.id[i]] = gaussian(k.smoothed(x, k.ys[i], k.id[i]))
		}
		return out
	}
	again, _ := newSystem(k.Model, &k.seen, k.shift) // solved before
	return p.leftOut(again)
}

// leftOut is withoutEach by all, and spends the system.
func (p *kriged) leftOut(whole *system) []gauss {
	k := p.latent
	out := make([]gauss, len(k.xs))
	values, variances := whole.leaveOneOut()
	for i, noise := range k.seen.noise {
		out[k.id[i]] = gauss{values[i], max(0, variances[i]-noise)}
	}
	return out
}
