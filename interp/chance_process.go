package interp

import "math"

// process is a Gaussian process on y = log(mean + c) for one c.
type process struct {
	ChanceParameters
	latent *kriging // of y
}

// newProcess is nil where the equations cannot be solved.
func newProcess(pooled []Count, offset float64, s ChanceModel) *process {
	p := &process{ChanceParameters: ChanceParameters{Offset: offset, binomial: s.Binomial}}
	if !s.Binomial {
		p.Aggregation = aggregation(pooled)
	}
	model := p.likeliest(pooled, s.Seed)
	samples := make([]Sample, len(pooled))
	for i, c := range pooled {
		samples[i] = Sample{X: c.X, Y: c.Y, Value: math.Log(c.Mean + offset)}
	}
	p.latent = newKriging(OrdinaryKriging{Model: model, Neighbors: s.Neighbors}, samples)
	p.latent.seen.noise = make([]float64, len(pooled))
	for i, id := range p.latent.id {
		p.latent.seen.noise[i] = p.noise(pooled[id].Mean, pooled[id].Units)
	}
	if !p.latent.wellConditioned() {
		return nil
	}
	return p
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
// in the order of the cells.
func (p *process) withoutEach() []gauss {
	k := p.latent
	out := make([]gauss, len(k.xs))
	if k.whole == nil {
		for i, x := range k.xs {
			out[i] = gaussian(k.smoothed(x, k.ys[i], k.id[i]))
		}
		return out
	}
	again, _ := newSystem(k.Model, &k.seen, k.shift) // solved before; leaveOneOut spends it
	values, variances := again.leaveOneOut()
	for i, noise := range k.seen.noise {
		out[i] = gauss{values[i], max(0, variances[i]-noise)}
	}
	return out
}
