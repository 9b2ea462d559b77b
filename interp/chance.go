package interp

import (
	"cmp"
	"fmt"
	"math"
	"slices"
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
	// chanceExact is up to how many counts the likelihood is exact.
	chanceExact = 300
)

// A ChanceModel gives the chance that the true mean at a place is at or above a
// level, from Gaussian processes on y = log(mean + c) with Matérn 3/2 covariance.
// The mean is found by generalised least squares, and the sampling error of each
// count is known: with m' = m + c counted on n units, the error of y has the
// variance (1/m' + κ)/n. There κ is how far units at one place differ beyond chance
// (variance m + κm²), from the counts that tell the variance between their units,
// and 0 (Poisson) where none does.
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
// rim of a sharp patch. Which holds cannot be known beforehand, so three are
// taken: half of the smallest countable mean, half of the level and twice the level.
//
// A dozen or a hundred counts leave range and variance wide open, and who takes the
// likeliest is too sure of low chances. So up to 200 counts the chances are those of
// a net of ranges and variances for each offset, averaged with weights that they
// earn by their restricted likelihood (Patterson & Thompson 1971, Biometrika
// 58:545–554) and by foretelling left-out counts: the product of the chances that
// each gave to what was counted, at or above the level or below. Both are tempered,
// as counts beside each other say partly the same: within an offset to the fourth
// root of the likelihood and the square root of the product. Among offsets the
// product of the averaged chances decides alone: the likelihood of a continuous y is
// great for many empty counts and a small c, and takes a sharp rim for a slope. Averaging by left-out chances is pseudo-Bayesian model averaging (Yao,
// Vehtari, Simpson & Gelman 2018, Bayesian Analysis 13:917–1007, from memory); the
// powers are ours, from invented fields.
//
// Above 200 counts, and with one Offset or so many Neighbors, there is one process
// an offset, with the likeliest parameters: above 300 by Vecchia's likelihood. All
// places then share the one mean. Above 3,000 counts so many of them, spread over the
// ground, decide on parameters and weights.
type ChanceModel struct {
	Level float64 // in the unit of the means, above 0; of shares 1 at most
	// Binomial says that the means are shares of units, 0 to 1.
	Binomial bool
	// Offset above 0 makes one process with this c, in the unit of the means, and the
	// likeliest parameters.
	Offset float64
	// Neighbors is how many of the nearest counts go into a chance; 0 is all up
	// to 200 counts and 32 above, AllNeighbors is all.
	Neighbors int

	likeliest bool // parameters in place of an average over them, also of few counts
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
	ensemble
	members []*process // of it, those with weight
	place   []int      // of each count, in the order of first appearance
	pooled  []Count
	nearest *neighbors
}

// ensemble are processes that tell of any place.
type ensemble interface {
	processes() []*process
	judging() []int // counts by which the processes are weighed; nil is all
	keep()          // drops the processes without weight
	// tell goes through what the processes say of each place, in their order.
	tell(places [][2]float64, visit func(i int, p *process, y gauss))
}

// process is a Gaussian process on y = log(mean + c).
type process struct {
	ChanceParameters
	likelihood float64 // logarithm of the restricted likelihood, up to a constant of the offset
	left       []gauss // what the others say of y at each place, free of its own error, in the order of the pooled counts
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

// Parameters returns what was found, offset by offset: where parameters are
// averaged their mean by weight, of variance and range the geometric one.
func (c *Chances) Parameters() (all []ChanceParameters) {
	for _, p := range c.members {
		at := slices.IndexFunc(all, func(known ChanceParameters) bool { return known.Offset == p.Offset })
		if at < 0 {
			at = len(all)
			all = append(all, ChanceParameters{Offset: p.Offset, Aggregation: p.Aggregation, binomial: p.binomial})
		}
		sum := &all[at]
		sum.Weight += p.Weight
		sum.Mean += float64(p.Weight * p.Mean)
		sum.Variance += float64(p.Weight * math.Log(p.Variance))
		sum.Range += float64(p.Weight * math.Log(p.Range))
	}
	for i := range all {
		p := &all[i]
		p.Mean, p.Variance, p.Range = p.Mean/p.Weight, math.Exp(p.Variance/p.Weight), math.Exp(p.Range/p.Weight)
	}
	slices.SortFunc(all, func(a, b ChanceParameters) int { return cmp.Compare(a.Offset, b.Offset) })
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
	c.pooled, c.place = poolCounts(counts)
	if len(c.pooled) < 3 {
		return nil, fmt.Errorf("interp: counts at %d places: want 3 or more for a model of chance", len(c.pooled))
	}
	if c.ensemble = s.ensemble(c.pooled); c.ensemble == nil {
		return nil, fmt.Errorf("interp: the chances of %d counts cannot be worked out: their places or efforts are too far apart in size", len(c.pooled))
	}
	c.weigh(s.Level)
	c.nearest = placesOf(c.pooled)
	return c, nil
}

// ensemble is nil where the equations cannot be solved.
func (s ChanceModel) ensemble(pooled []Count) ensemble {
	var offsets []ChanceParameters
	for _, c := range s.offsets(pooled) {
		p := ChanceParameters{Offset: c, binomial: s.Binomial}
		if !s.Binomial {
			p.Aggregation = aggregation(pooled)
		}
		offsets = append(offsets, p)
	}
	few := len(pooled) <= chanceAll
	if few && s.Offset == 0 && s.Neighbors <= 0 && !s.likeliest {
		if a := newAverage(pooled, offsets); a != nil {
			return a
		}
		return nil
	}
	if s.Neighbors == 0 {
		s.Neighbors = DefaultChanceNeighbors
		if few {
			s.Neighbors = AllNeighbors
		}
	}
	if l := newLikeliest(pooled, offsets, s.Neighbors); l != nil {
		return l
	}
	return nil
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

// placesOf finds the counts near a place.
func placesOf(pooled []Count) *neighbors {
	places := make([]Sample, len(pooled))
	for i, c := range pooled {
		places[i] = Sample{X: c.X, Y: c.Y}
	}
	return newNeighbors(places)
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

func (o over) Predict(x, y float64) float64 {
	if !reachable(x, y) {
		return math.NaN()
	}
	var all [1]float64
	o.predict([][2]float64{{x, y}}, all[:])
	return all[0]
}

// predict adds up the chances of places within reach, into 0 for each.
func (o over) predict(places [][2]float64, chances []float64) {
	o.tell(places, func(i int, p *process, y gauss) { chances[i] += float64(p.Weight * p.above(o.level, y)) })
	for i, chance := range chances {
		chances[i] = min(chance, 1) // weights add up to 1 but for rounding
	}
}

func (o over) PredictWithDistance(x, y float64) (chance, distance float64) {
	if !reachable(x, y) {
		return math.NaN(), math.NaN()
	}
	return o.Predict(x, y), o.nearest.nearestOther(none, Sample{X: x, Y: y})
}

// WithUnseen raises a chance, 0 to 1, by that of ground which no count tells of: a
// patch that lies between the stops leaves no trace in them. Of n places none of
// which met one, a share of ½/(n + 1) is thought to hold one, the median of what a
// share may be of which n draws show none being about 0.7/(n + 1). It makes chances
// and sums of them true on average over fields; ground is not to be ranked or cut by
// it, as it is the same everywhere.
func (c *Chances) WithUnseen(chance float64) float64 {
	return 1 - float64((1-chance)*(1-0.5/float64(len(c.pooled)+1)))
}
