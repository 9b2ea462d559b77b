package interp

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat"
)

// The net of parameters over which chances are averaged: ranges as shares of the
// diagonal of the counts' box, variances as multiples of that of y. Without the longest
// range and the great variances the steady fall from an edge is lost; finer nets, and
// errors taken as half or twice what they are known to be, did no better on invented
// fields.
var (
	rangesAveraged    = [...]float64{0.025, 0.065, 0.17, 0.45, 1}
	variancesAveraged = [...]float64{0.3, 1, 3, 9, 27}
)

// observation is what was counted as the processes of one offset see it.
type observation struct {
	ChanceParameters
	y, noise      []float64
	shift, spread float64 // mean of y and variance about it, or that of its errors where y is all alike
}

func newObservation(p ChanceParameters, pooled []Count) *observation {
	o := &observation{ChanceParameters: p}
	for _, c := range pooled {
		o.y, o.noise = append(o.y, math.Log(c.Mean+p.Offset)), append(o.noise, p.noise(c.Mean, c.Units))
	}
	o.shift = stat.Mean(o.y, nil)
	o.spread = spreadOf(o.y, o.noise, o.shift)
	return o
}

// spreadOf is the variance of values, or of their errors where they are all alike.
func spreadOf(values, noise []float64, mean float64) float64 {
	v := stat.MomentAbout(2, values, mean, nil)
	if v <= rounding*(1+float64(mean*mean)) {
		return stat.Mean(noise, nil)
	}
	return v
}

// average are processes of several offsets, ranges and variances, by all counts.
type average struct {
	xs, ys  []float64
	reaches []float64     // metres
	spectra [][]*spectrum // by range, then by offset
	scratch *sync.Pool
}

// newAverage is nil where there is no solution.
func newAverage(pooled []Count, offsets []ChanceParameters) *average {
	a := &average{spectra: make([][]*spectrum, len(rangesAveraged))}
	samples := make([]Sample, len(pooled))
	for i, c := range pooled {
		a.xs, a.ys = append(a.xs, c.X), append(a.ys, c.Y)
		samples[i] = Sample{X: c.X, Y: c.Y}
	}
	var seen []*observation
	for _, p := range offsets {
		seen = append(seen, newObservation(p, pooled))
	}
	for _, share := range rangesAveraged {
		a.reaches = append(a.reaches, share*diagonal(samples))
	}
	var wg sync.WaitGroup
	for i := range rangesAveraged {
		wg.Go(func() { a.spectra[i] = a.ofRange(seen, a.reaches[i]) })
	}
	wg.Wait()
	if slices.ContainsFunc(a.spectra, func(s []*spectrum) bool { return slices.Contains(s, nil) }) {
		return nil
	}
	a.scratch = &sync.Pool{New: func() any { return &[2][]float64{make([]float64, len(pooled)), make([]float64, len(pooled))} }}
	return a
}

// ofRange makes the processes of a range.
func (a *average) ofRange(seen []*observation, reach float64) (all []*spectrum) {
	n := len(a.xs)
	alike := make([]float64, n*n)
	for i, x := range a.xs {
		a.correlate(x, a.ys[i], reach, alike[i*n:i*n+n])
	}
	for _, o := range seen {
		s := newSpectrum(o, alike)
		if s != nil {
			for _, v := range variancesAveraged {
				s.add(v*o.spread, reach)
			}
		}
		all = append(all, s)
	}
	return all
}

// correlate fills in the correlation of a place with each count.
func (a *average) correlate(x, y, reach float64, into []float64) {
	for i, cx := range a.xs {
		dx, dy := cx-x, a.ys[i]-y
		into[i] = Matern32.shape(math.Sqrt(float64(dx*dx)+float64(dy*dy)) / reach)
	}
}

func (a *average) judging() []int { return nil }

func (a *average) processes() (all []*process) {
	for _, s := range slices.Concat(a.spectra...) {
		for _, m := range s.members {
			all = append(all, &m.process)
		}
	}
	return all
}

// keep drops what has no weight.
func (a *average) keep() {
	for _, s := range slices.Concat(a.spectra...) {
		s.keep()
	}
}

func (a *average) tell(x, y float64, visit func(p *process, v gauss)) {
	l := a.scratch.Get().(*[2][]float64)
	defer a.scratch.Put(l)
	alike, w := l[0], l[1]
	for i, spectra := range a.spectra {
		far := true // as yet nobody asked for the correlations
		for _, s := range spectra {
			if len(s.members) == 0 {
				continue
			}
			if far {
				a.correlate(x, y, a.reaches[i], alike)
				far = false
			}
			multiply(s.rows, alike, w)
			for _, m := range s.members {
				visit(&m.process, m.of(w))
			}
		}
	}
}
