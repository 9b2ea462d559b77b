package interp

import (
	"math"
	"runtime"
	"slices"
	"sync"
)

// likeliest are processes with the likeliest parameters, one an offset.
type likeliest struct {
	all    []*kriged
	judges []int // counts by which the processes are weighed; nil is all
}

// kriged is a process by all counts, or by the nearest ones. Where it is by the
// nearest, what it expects is still by all where they are few enough to be solved for
// at once: the nearest 32 tell the variance well, and average too few errors where
// these are large beside what differs from place to place.
type kriged struct {
	process
	latent  *kriging  // of y
	weights []float64 // of the covariances with all counts in what differs from the mean; nil is by the nearest
	scratch *sync.Pool
}

// newLikeliest is nil where the equations cannot be solved.
func newLikeliest(pooled []Count, offsets []ChanceParameters, neighbors int) *likeliest {
	l := &likeliest{all: make([]*kriged, len(offsets))}
	near := newVecchia(pooled)
	if near != nil && len(near.order) < len(pooled) {
		l.judges = near.order
	}
	var wg sync.WaitGroup
	for i, p := range offsets {
		wg.Go(func() { l.all[i] = newKriged(pooled, p, neighbors, near, l.judges) })
	}
	wg.Wait()
	if slices.Contains(l.all, nil) {
		return nil
	}
	return l
}

func newKriged(pooled []Count, parameters ChanceParameters, neighbors int, near *vecchia, judges []int) *kriged {
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
	p.scratch = &sync.Pool{New: func() any { return &nearby{} }}
	if p.latent.Neighbors != AllNeighbors && len(pooled) <= wholeSystem {
		return p.expectingByAll()
	}
	if !p.solvable() {
		return nil
	}
	if p.latent.whole != nil {
		again, _ := newSystem(model, &p.latent.seen, p.latent.shift) // solved before
		p.left = p.leftOut(again)
		return p
	}
	p.leaveOut(judges)
	return p
}

// solvable looks whether the equations of every place can be solved. With errors of the
// variance N at least, no eigenvalue of the covariances of k counts is below N, and none
// is above their trace: where these are near enough, all k nearest bear solving.
func (p *kriged) solvable() bool {
	k := p.latent
	if k.Neighbors != AllNeighbors {
		least, most := slices.Min(k.seen.noise), slices.Max(k.seen.noise)
		trace := float64(k.Neighbors) * (k.Model.Sill() + most)
		if float64(k.Neighbors)*trace <= maxCondition/100*least { // in the 1-norm
			return true
		}
	}
	return k.wellConditioned()
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
	if k.whole != nil {
		return gaussian(k.smoothed(x, y, none))
	}
	told := p.byNearest(x, y, none)
	if p.weights == nil {
		return told
	}
	told.mean = k.mean.value
	e := exponentials()
	for i, w := range p.weights {
		dx, dy := k.xs[i]-x, k.ys[i]-y
		told.mean += float64(w * k.Model.PartialSill * e.matern32(math.Sqrt(float64(dx*dx)+float64(dy*dy))/k.Model.Range))
	}
	return told
}

func (l *likeliest) judging() []int { return l.judges }

func (l *likeliest) processes() (all []*process) {
	for _, k := range l.all {
		all = append(all, &k.process)
	}
	return all
}

// keep leaves those with weight, and works out what the counts say of each other where
// only the judges were asked.
func (l *likeliest) keep() {
	l.all = slices.DeleteFunc(l.all, func(k *kriged) bool { return k.Weight == 0 })
	if l.judges != nil {
		for _, k := range l.all {
			k.leaveOut(nil)
		}
	}
}

func (l *likeliest) tell(places [][2]float64, visit func(i int, p *process, y gauss)) {
	for i, at := range places {
		for _, k := range l.all {
			visit(i, &k.process, k.of(at[0], at[1]))
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
func (p ChanceParameters) above(level float64, y gauss) float64 { return p.bar(level).cleared(y) }

// bar is a level with the y of it, for who asks more than once.
type bar struct{ level, y float64 }

func (p ChanceParameters) bar(level float64) bar { return bar{level, math.Log(level + p.Offset)} }

// cleared is the chance that y is at or above it.
func (b bar) cleared(y gauss) float64 {
	if b.level <= 0 {
		return 1
	}
	short := b.y - y.mean
	if y.variance == 0 {
		switch {
		case short > 0:
			return 0
		case short <= 0:
			return 1
		}
	}
	_, beyond := normalTails().bothSides(short / math.Sqrt(y.variance))
	return beyond
}

// leaveOut works out what the others say of y at some of the pooled counts, free of their
// own errors; nil is all.
func (p *kriged) leaveOut(of []int) {
	k := p.latent
	if p.left == nil {
		p.left = make([]gauss, len(k.xs))
	}
	asked := make([]bool, len(k.xs))
	for _, id := range of {
		asked[id] = true
	}
	var wg sync.WaitGroup
	share := len(k.xs)/runtime.GOMAXPROCS(0) + 1
	for from := 0; from < len(k.xs); from += share {
		wg.Go(func() {
			for i := from; i < min(from+share, len(k.xs)); i++ {
				if id := k.id[i]; of == nil || asked[id] {
					p.left[id] = p.byNearest(k.xs[i], k.ys[i], id)
				}
			}
		})
	}
	wg.Wait()
}

// leftOut is what the others say of y at each of the pooled counts, free of its own error, by
// all at once. It spends the system.
func (p *kriged) leftOut(whole *system) []gauss {
	k := p.latent
	out := make([]gauss, len(k.xs))
	values, variances := whole.leaveOneOut()
	for i, noise := range k.seen.noise {
		out[k.id[i]] = gauss{values[i], max(0, variances[i]-noise)}
	}
	return out
}
