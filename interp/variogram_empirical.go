package interp

import (
	"fmt"
	"math"
)

// Defaults of [VariogramSettings]: as far as a third of the diagonal of the
// samples' box, in fifteen bins (the custom of gstat, Pebesma 2004, Comput.
// Geosci. 30:683–691).
const (
	cutoffDiagonals = 1.0 / 3
	cutoffBins      = 15
)

// maxBins bounds the bins of a variogram, which come from outside settings.
const maxBins = 10000

// A Lag is what pairs of samples about as far apart say.
type Lag struct {
	Distance     float64 // metres, mean of the pairs
	Semivariance float64 // half the mean squared difference of the pairs
	Pairs        int
}

// An EmpiricalVariogram holds the lags that have pairs, nearest first.
type EmpiricalVariogram []Lag

// VariogramSettings say how pairs are put together. The zero value is a third
// of the diagonal of the samples' box, in fifteen bins.
type VariogramSettings struct {
	Cutoff float64 // metres, largest distance of a pair; 0 is a third of the diagonal
	Width  float64 // metres of a bin; 0 is a fifteenth of the cutoff
}

// Empirical is the method-of-moments variogram (Matheron 1962) of samples,
// pooled first ([Pool]). A bin holds the pairs farther apart than its lower end,
// up to and with its upper one. No pairs within the cutoff is an error, and so
// are samples that are not finite. The work grows with the square of the number
// of samples.
func (s VariogramSettings) Empirical(samples []Sample) (EmpiricalVariogram, error) {
	if err := check(samples); err != nil {
		return nil, err
	}
	pooled := Pool(samples)
	s, err := s.settle(pooled)
	if err != nil {
		return nil, err
	}
	bins := make([]Lag, int(math.Ceil(s.Cutoff/s.Width)))
	for i, a := range pooled {
		for _, b := range pooled[:i] {
			s.enter(bins, a, b)
		}
	}
	var lags EmpiricalVariogram
	for _, b := range bins {
		if b.Pairs > 0 {
			n := float64(b.Pairs)
			lags = append(lags, Lag{b.Distance / n, b.Semivariance / n, b.Pairs})
		}
	}
	if len(lags) == 0 {
		return nil, fmt.Errorf("interp: no two of %d samples are within %g m of each other; give a larger cutoff", len(pooled), s.Cutoff)
	}
	return lags, nil
}

// enter adds a pair to the sums of its bin.
func (s VariogramSettings) enter(bins []Lag, a, b Sample) {
	dx, dy, dz := a.X-b.X, a.Y-b.Y, a.Value-b.Value
	h := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if !(h <= s.Cutoff) {
		return
	}
	bin := &bins[max(0, min(len(bins)-1, int(math.Ceil(h/s.Width))-1))]
	bin.Distance += h
	bin.Semivariance += float64(0.5 * dz * dz)
	bin.Pairs++
}

// settle fills in zero fields and refuses what cannot be meant.
func (s VariogramSettings) settle(pooled []Sample) (VariogramSettings, error) {
	if s.Cutoff == 0 {
		s.Cutoff = cutoffDiagonals * diagonal(pooled)
	}
	if s.Width == 0 {
		s.Width = s.Cutoff / cutoffBins
	}
	switch {
	case len(pooled) < 2:
		return s, fmt.Errorf("interp: a variogram of %d place: want 2 or more", len(pooled))
	case !(s.Cutoff > 0) || math.IsInf(s.Cutoff, 0):
		return s, fmt.Errorf("interp: cutoff %g m: want a distance above 0", s.Cutoff)
	case !(s.Width > 0) || s.Cutoff/s.Width > maxBins:
		return s, fmt.Errorf("interp: bins of %g m up to %g m: want a width above 0 and at most %d bins", s.Width, s.Cutoff, maxBins)
	}
	return s, nil
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
