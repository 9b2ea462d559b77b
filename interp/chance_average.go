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
	n := len(pooled)
	apart := make([]float64, n*n)
	for i, x := range a.xs {
		a.distances(x, a.ys[i], apart[i*n:i*n+n])
	}
	var wg sync.WaitGroup
	for i := range rangesAveraged {
		wg.Go(func() { a.spectra[i] = a.ofRange(seen, apart, a.reaches[i]) })
	}
	wg.Wait()
	if slices.ContainsFunc(a.spectra, func(s []*spectrum) bool { return slices.Contains(s, nil) }) {
		return nil
	}
	a.scratch = &sync.Pool{New: func() any { return newTelling(n) }}
	return a
}

// ofRange makes the processes of a range; apart are the distances of the counts from one
// another, row by row.
func (a *average) ofRange(seen []*observation, apart []float64, reach float64) (all []*spectrum) {
	alike, work := make([]float64, len(apart)), reduceMemory(len(a.xs))
	correlations(apart, reach, alike)
	for _, o := range seen {
		s := newSpectrum(o, alike, work)
		if s != nil {
			for _, v := range variancesAveraged {
				s.add(v*o.spread, reach)
			}
		}
		all = append(all, s)
	}
	return all
}

// distances fills in those of a place from each count, in metres.
func (a *average) distances(x, y float64, into []float64) {
	for i, cx := range a.xs {
		dx, dy := cx-x, a.ys[i]-y
		into[i] = math.Sqrt(float64(dx*dx) + float64(dy*dy))
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

func (a *average) tell(places [][2]float64, visit func(i int, p *process, v gauss)) {
	t := a.scratch.Get().(*telling)
	defer a.scratch.Put(t)
	for from := 0; from < len(places); from += toldAtOnce {
		some := places[from:min(from+toldAtOnce, len(places))]
		a.tellSome(t, some, func(i int, p *process, v gauss) { visit(from+i, p, v) })
	}
}

// toldAtOnce is of how many places one spectrum after the other tells: each then stays in
// the processor's nearest memory.
const toldAtOnce = 16

// telling is memory for what is told of a few places.
type telling struct {
	apart, alike []float64    // distances and correlations of the places with the counts, row by row
	w            [2][]float64 // of two places
}

func newTelling(counts int) *telling {
	row := func(rows int) []float64 { return make([]float64, rows*counts) }
	return &telling{row(toldAtOnce), row(toldAtOnce), [2][]float64{row(1), row(1)}}
}

// tellSome is tell of [toldAtOnce] places at most.
func (a *average) tellSome(t *telling, places [][2]float64, visit func(i int, p *process, v gauss)) {
	n := len(a.xs)
	apart, alike := t.apart[:len(places)*n], t.alike[:len(places)*n]
	for i, p := range places {
		a.distances(p[0], p[1], apart[i*n:i*n+n])
	}
	for r, spectra := range a.spectra {
		far := true // as yet nobody asked for the correlations
		for _, s := range spectra {
			if len(s.members) == 0 {
				continue
			}
			if far {
				correlations(apart, a.reaches[r], alike)
				far = false
			}
			s.tell(alike, t.w, visit)
		}
	}
}
