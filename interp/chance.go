package interp

import (
	"fmt"
	"math"
	"slices"
	"sync"
)

// A Count is what was found at a place, with what its error goes by.
type Count struct {
	X, Y  float64 // metres
	Mean  float64 // per unit (leaf, plant, trap), 0 or more; of a share 0 to 1
	Units float64 // counted on, above 0
	// Variance is that between the units of the place; 0 where it is not known. Of a
	// share it is not asked for, since the share tells it.
	Variance float64
}

// Defaults of [ChanceModel].
const (
	// DefaultChanceNeighbors is how many of the nearest counts a chance goes by
	// where there are more than a few hundred.
	DefaultChanceNeighbors = 32
	// chanceAll is up to how many counts every one goes into every chance: a
	// chance then has no steps where a neighbour comes or goes.
	chanceAll = 200
	// chanceFit is up to how many counts the parameters go by all of them.
	chanceFit = 500
)

// A ChanceModel gives the chance that the true mean at a place is at or above a
// level, from Gaussian processes on y = log(mean + c) with Matérn 3/2 covariance.
// Variance and range are found by restricted maximum likelihood (Patterson &
// Thompson 1971, Biometrika 58:545–554), the mean by generalised least squares,
// and the sampling error of each count is known: with m' = m + c counted on n
// units, the error of y has the variance (1/m' + κ)/n. There κ is how far units
// at one place differ beyond chance (variance m + κm²), from the counts that
// tell the variance between their units, and 0 (Poisson) where none does.
//
// With Binomial the means are shares p of units that have something or not, whose
// error is less the more have it. That of y then has the variance
// q(1 − q)/(n(p + c)²), the binomial one by the delta method, where
// q = (pn + 1/2)/(n + 1) stands for p, so that none and all of n units are not
// taken for known without error. Over binomial draws on 20 units at c = 1/40 its
// mean is 1.25, 0.96, 0.98 and 1.15 times the true variance at shares of 0.1, 0.3,
// 0.6 and 0.9, where 1/(n(p + c)) is 1.4, 1.4, 2.4 and 9.8 times.
//
// The offset c decides what lies between a heavy and an empty count. With a
// small one the ground thins out in steady proportion, as in fields that grew
// from many colonies; with one near the level it falls in equal steps, as at the
// rim of a sharp patch. Which holds cannot be known beforehand, so three processes
// are made, c being half of the smallest countable mean, half of the level and
// twice the level, and their chances are averaged with the weights that they earn
// by foretelling left-out counts: in proportion to the product of the chances that
// each gave to what was counted, at or above the level or below. That is
// pseudo-Bayesian model averaging (Yao, Vehtari, Simpson & Gelman 2018, Bayesian
// Analysis 13:917–1007, from memory, who set it apart from stacking, where the
// weights are those whose mixture foretells best).
type ChanceModel struct {
	Level float64 // in the unit of the means, above 0; of shares 1 at most
	// Binomial says that the means are shares of units, 0 to 1.
	Binomial bool
	// Offset above 0 makes one process with this c, in the unit of the means.
	Offset float64
	// Neighbors is how many of the nearest counts go into a chance; 0 is all up
	// to 200 counts and 32 above, AllNeighbors is all.
	Neighbors int
	// Seed picks the 500 counts by which parameters are found where there are
	// more.
	Seed uint64
}

// Validate reports settings that cannot be meant.
func (s ChanceModel) Validate() error {
	switch {
	case !(s.Level > 0 && s.Level <= maxValue):
		return fmt.Errorf("interp: level %g: want a finite number above 0", s.Level)
	case s.Binomial && s.Level > 1:
		return fmt.Errorf("interp: level %g of shares: want 1 at most", s.Level)
	case !(s.Offset >= 0 && s.Offset <= maxValue):
		return fmt.Errorf("interp: offset %g: want a finite number of 0 or more", s.Offset)
	case s.Neighbors < AllNeighbors:
		return fmt.Errorf("interp: %d neighbours: want 1 or more, or all", s.Neighbors)
	}
	return nil
}

// offsets lists the c to try.
func (s ChanceModel) offsets(pooled []Count) []float64 {
	if s.Offset > 0 {
		return []float64{s.Offset}
	}
	return []float64{halfCountable(pooled), s.Level / 2, s.Level * 2}
}

// Chances is a fitted [ChanceModel]. It is not changed after it was made, and
// any number of goroutines may share it.
type Chances struct {
	processes []*process
	at        []int // the place of each count, in the order of first appearance
	pooled    []Count
}

// ChanceParameters are what a [ChanceModel] found for one offset.
type ChanceParameters struct {
	Offset      float64 // c
	Aggregation float64 // κ
	Mean        float64 // of y, by generalised least squares over the counts of the fit
	Variance    float64 // of y about its mean
	Range       float64 // metres, the a of Matern32
	Weight      float64 // 0 to 1, of this process's chances

	binomial bool // errors are those of shares
}

// Parameters returns what was found, offset by offset.
func (c *Chances) Parameters() (all []ChanceParameters) {
	for _, p := range c.processes {
		all = append(all, p.ChanceParameters)
	}
	return all
}

// Fit finds the parameters. It copies the counts; those that share a place are
// put together. Fewer than three places, numbers that are not finite, means
// below 0, shares above 1 and no effort are errors. Counts that are all alike are none: chances
// then go by their mean and their errors.
func (s ChanceModel) Fit(counts []Count) (*Chances, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := s.checkCounts(counts); err != nil {
		return nil, err
	}
	c := &Chances{}
	c.pooled, c.at = poolCounts(counts)
	if len(c.pooled) < 3 {
		return nil, fmt.Errorf("interp: counts at %d places: want 3 or more for a model of chance", len(c.pooled))
	}
	if s.Neighbors == 0 {
		s.Neighbors = DefaultChanceNeighbors
		if len(c.pooled) <= chanceAll {
			s.Neighbors = AllNeighbors
		}
	}
	offsets := s.offsets(c.pooled)
	c.processes = make([]*process, len(offsets))
	var wg sync.WaitGroup
	for k, offset := range offsets {
		wg.Go(func() { c.processes[k] = newProcess(c.pooled, offset, s) })
	}
	wg.Wait()
	if slices.Contains(c.processes, nil) {
		return nil, fmt.Errorf("interp: the chances of %d counts cannot be worked out: their places or efforts are too far apart in size", len(c.pooled))
	}
	c.weigh(s.Level)
	return c, nil
}

// checkCounts refuses counts that no model can take.
func (s ChanceModel) checkCounts(counts []Count) error {
	for i, c := range counts {
		if err := check([]Sample{{X: c.X, Y: c.Y, Value: c.Mean}}); err != nil {
			return fmt.Errorf("interp: count %d: mean %g at %g, %g: want finite numbers", i+1, c.Mean, c.X, c.Y)
		}
		switch {
		case c.Mean < 0:
			return fmt.Errorf("interp: count %d has the mean %g: want 0 or more", i+1, c.Mean)
		case s.Binomial && c.Mean > 1:
			return fmt.Errorf("interp: count %d has the share %g: want 1 at most", i+1, c.Mean)
		case !(c.Units > 0 && c.Units <= maxValue):
			return fmt.Errorf("interp: count %d is of %g units: want a finite number above 0", i+1, c.Units)
		case !(c.Variance >= 0 && c.Variance <= maxValue*maxValue):
			return fmt.Errorf("interp: count %d has the variance %g between units: want a finite number of 0 or more", i+1, c.Variance)
		}
	}
	return nil
}

// poolCounts puts counts at one place together: means and variances by effort.
func poolCounts(counts []Count) (pooled []Count, at []int) {
	means, variances := make([]Sample, len(counts)), make([]Sample, len(counts))
	for i, c := range counts {
		means[i] = Sample{X: c.X, Y: c.Y, Value: c.Mean, Weight: c.Units}
		variances[i] = Sample{X: c.X, Y: c.Y, Value: c.Variance, Weight: c.Units}
	}
	m, at := pool(means)
	v, _ := pool(variances)
	for i := range m {
		pooled = append(pooled, Count{X: m[i].X, Y: m[i].Y, Mean: m[i].Value, Units: m[i].Weight, Variance: v[i].Value})
	}
	return pooled, at
}

// halfCountable is half of the mean that one find on the median effort makes.
func halfCountable(counts []Count) float64 {
	units := make([]float64, len(counts))
	for i, c := range counts {
		units[i] = c.Units
	}
	slices.Sort(units)
	return 0.5 / units[len(units)/2]
}

// aggregation is κ of the variance m + κm² between units, by moments over all
// counts that tell their variance, 0 or more.
func aggregation(counts []Count) float64 {
	var excess, squares float64
	for _, c := range counts {
		if c.Variance > 0 {
			excess += c.Variance - c.Mean
			squares += float64(c.Mean * c.Mean)
		}
	}
	if !(excess > 0 && squares > 0) {
		return 0
	}
	return excess / squares
}

// Over returns a predictor of the chance, 0 to 1, that the true mean is at or
// above a level in the unit of the means; NaN for a place that is not finite or
// beyond 1e100 m. A level of 0 or less is reached everywhere. The weights are
// those for the model's own level.
func (c *Chances) Over(level float64) DistancePredictor { return over{c, level} }

type over struct {
	*Chances
	level float64
}

func (o over) Predict(x, y float64) (chance float64) {
	if !reachable(x, y) {
		return math.NaN()
	}
	for _, p := range o.processes {
		if p.Weight > 0 {
			chance += float64(p.Weight * p.above(o.level, gaussian(p.latent.smoothed(x, y, none))))
		}
	}
	return min(chance, 1) // weights add up to 1 but for rounding
}

func (o over) PredictWithDistance(x, y float64) (chance, distance float64) {
	if !reachable(x, y) {
		return math.NaN(), math.NaN()
	}
	return o.Predict(x, y), o.processes[0].latent.nearestOther(none, Sample{X: x, Y: y})
}
