package sampling

import (
	"fmt"
	"math"
)

// A Walk is a simulated field and how it is walked. Zero fields mean the
// defaults.
type Walk struct {
	Stops   Settings
	PerStop float64 // units at a stop; 10 (5 plants, 2 leaves each: Texas A&M AgriLife)
	// Clustering makes units of one stop alike. For shares it is the correlation
	// of two units of one stop, 0 to below 1, by a beta distribution of the stops'
	// shares; for counts the coefficient of variation of the stops' means about
	// that of the field, by a gamma distribution. 0 is independent units.
	Clustering float64
	Runs       int // 2,000
	Seed       uint64
}

func (w Walk) withDefaults() Walk {
	if w.PerStop == 0 {
		w.PerStop = 10
	}
	if w.Runs == 0 {
		w.Runs = 2000
	}
	return w
}

// Validate says what is wrong with a walk.
func (w Walk) Validate() error {
	w = w.withDefaults()
	switch {
	case !(w.PerStop >= 1 && w.PerStop <= 1e4) || w.PerStop != math.Floor(w.PerStop):
		return fmt.Errorf("%v units at a stop: want a whole number of 1 or more", w.PerStop)
	case !(w.Clustering >= 0 && w.Clustering < 10):
		return fmt.Errorf("clustering %v: want 0 or more", w.Clustering)
	case w.Runs < 1 || w.Runs > 1e6:
		return fmt.Errorf("%d runs: want 1 to 1,000,000", w.Runs)
	}
	return nil
}

// A Performance is what a plan does in fields of one true value.
type Performance struct {
	Value                   float64 // true mean or share
	Over, Under, Undecided  float64 // parts of the runs; Enough counts as neither
	Stops, Units            float64 // mean number
	OverMargin, StopsMargin float64 // standard errors of Over and Stops by the simulation
}

// Simulate walks fields of each true value as often as asked. The operating
// characteristic at a value is 1 − Over, the average stop number Stops. The same
// seed gives the same answers.
func Simulate(rule Rule, walk Walk, values []float64) ([]Performance, error) {
	if err := rule.Validate(); err != nil {
		return nil, err
	}
	if err := walk.Validate(); err != nil {
		return nil, err
	}
	walk = walk.withDefaults()
	out := make([]Performance, len(values))
	for i, v := range values {
		f := field{draws: newDraws(walk.Seed + uint64(i)), rule: rule, walk: walk, value: v}
		if err := f.check(); err != nil {
			return nil, err
		}
		out[i] = f.perform(walk.Stops)
	}
	return out, nil
}

// Range is a range of true values worth a look: from a quarter of the low to
// beyond the high value of a test; for fixed precision, means of 1 to 100.
func Range(rule Rule) []float64 {
	w, ok := rule.(Wald)
	if !ok {
		return []float64{1, 2, 5, 10, 20, 40, 70, 100}
	}
	low, high := w.Low, w.High
	values := []float64{low / 4, low / 2, low * 3 / 4, low}
	for i := 1; i <= 3; i++ {
		values = append(values, low+(high-low)*float64(i)/4)
	}
	values = append(values, high)
	for i := 1; i <= 4; i++ {
		if v := high + (high-low)*float64(i)/4; w.Distribution != Binomial || v <= 1 {
			values = append(values, v)
		}
	}
	return values
}

// field is one simulated field.
type field struct {
	draws
	rule  Rule
	walk  Walk
	value float64
}

func (f field) check() error {
	w, _ := f.rule.(Wald)
	_, wald := f.rule.(Wald)
	share := wald && w.Distribution == Binomial
	switch {
	case !(f.value >= 0) || math.IsInf(f.value, 0):
		return fmt.Errorf("a true value of %v: want 0 or more", f.value)
	case share && f.value > 1:
		return fmt.Errorf("a true share of %v: want 1 at the most", f.value)
	case share && f.walk.Clustering >= 1:
		return fmt.Errorf("clustering %v: a correlation is below 1", f.walk.Clustering)
	}
	return nil
}

func (f field) perform(set Settings) Performance {
	p := Performance{Value: f.value}
	squares := 0.0
	for range f.walk.Runs {
		a := f.run(set)
		switch a.Verdict {
		case Over:
			p.Over++
		case Under:
			p.Under++
		case Undecided:
			p.Undecided++
		}
		p.Stops += float64(a.Stops)
		p.Units += a.Units
		squares += float64(a.Stops * a.Stops)
	}
	n := float64(f.walk.Runs)
	p.Over, p.Under, p.Undecided, p.Stops, p.Units = p.Over/n, p.Under/n, p.Undecided/n, p.Stops/n, p.Units/n
	p.OverMargin = math.Sqrt(p.Over * (1 - p.Over) / n)
	p.StopsMargin = math.Sqrt(max(0, squares/n-p.Stops*p.Stops) / n)
	return p
}

func (f field) run(set Settings) Answer {
	t := &Tally{rule: f.rule, set: set.withDefaults()}
	for {
		t.counts = append(t.counts, Count{Total: f.stop(), Units: f.walk.PerStop})
		if a := t.Answer(); a.Verdict != GoOn {
			return a
		}
	}
}

// stop draws the total of one stop. Sums of independent negative binomial counts
// are negative binomial again, so a stop is one draw.
func (f field) stop() float64 {
	n := f.walk.PerStop
	if w, ok := f.rule.(Wald); ok && w.Distribution == Binomial {
		return f.binomial(n, f.stopShare())
	}
	mean := f.value
	if cv := f.walk.Clustering; cv > 0 && mean > 0 {
		shape := 1 / (cv * cv)
		mean *= f.gamma(shape) / shape
	}
	excess := f.rule.Variance(mean) - mean
	if mean <= 0 || !(excess > 0) {
		return f.poisson(n * mean)
	}
	k := mean * mean / excess
	return f.poisson(mean / k * f.gamma(n*k))
}

func (f field) stopShare() float64 {
	rho, p := f.walk.Clustering, f.value
	if rho == 0 || p == 0 || p == 1 {
		return p
	}
	s := 1/rho - 1
	return f.beta(p*s, (1-p)*s)
}
