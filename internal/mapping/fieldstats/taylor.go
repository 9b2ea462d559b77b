package fieldstats

import (
	"errors"
	"math"
)

// A PowerLaw is Taylor's: variance = a·mean^b (Taylor 1961, Nature 189:732–735).
type PowerLaw struct {
	A, B     float64
	LogAErr  float64 // standard error of log10 a
	BErr     float64 // standard error of b
	RSquared float64
	N        int // samples that had a mean and a variance above 0
}

// A Spread is the mean and variance of one field or one week.
type Spread struct{ Mean, Variance float64 }

// FitPowerLaw fits by least squares of log10 variance on log10 mean. Samples
// without a mean and variance above 0 are passed over; three others with more than
// one mean among them must remain.
func FitPowerLaw(samples []Spread) (PowerLaw, error) {
	var x, y []float64
	for _, s := range samples {
		if s.Mean > 0 && s.Variance > 0 && !math.IsInf(s.Mean, 0) && !math.IsInf(s.Variance, 0) {
			x, y = append(x, math.Log10(s.Mean)), append(y, math.Log10(s.Variance))
		}
	}
	if len(x) < 3 {
		return PowerLaw{}, errors.New("a power law needs three fields or weeks with a mean and a variance above 0")
	}
	mx, my := Mean(x), Mean(y)
	var sxx, sxy, syy float64
	for i := range x {
		dx, dy := x[i]-mx, y[i]-my
		sxx, sxy, syy = sxx+float64(dx*dx), sxy+float64(dx*dy), syy+float64(dy*dy)
	}
	if !(sxx > 1e-12) {
		return PowerLaw{}, errors.New("a power law needs fields or weeks of different means")
	}
	n := float64(len(x))
	b := sxy / sxx
	logA := my - float64(b*mx)
	residual := max(0, syy-float64(b*sxy))
	sigma := math.Sqrt(residual / (n - 2))
	p := PowerLaw{A: math.Pow(10, logA), B: b, N: len(x), RSquared: 1, BErr: sigma / math.Sqrt(sxx)}
	p.LogAErr = sigma * math.Sqrt(1/n+float64(mx*mx)/sxx)
	if syy > 0 {
		p.RSquared = 1 - residual/syy
	}
	return p, nil
}
