package sampling

import (
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/stat"
)

// A Verdict is the answer after a stop.
type Verdict uint8

const (
	GoOn      Verdict = iota
	Over              // stop counting: over the threshold
	Under             // stop counting: under it
	Enough            // stop counting: the mean is known well enough
	Undecided         // stop counting: the most number of stops is reached
	Mappable          // stop counting: by the map the next stop is not worth its walk
)

// String is the verdict in words.
func (v Verdict) String() string {
	switch v {
	case Over:
		return "over"
	case Under:
		return "under"
	case Enough:
		return "enough"
	case Undecided:
		return "undecided"
	case Mappable:
		return "map"
	}
	return "go on"
}

// MarshalText writes the verdict in words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// A Rule says between which totals counting goes on, and how units scatter.
type Rule interface {
	// Bounds of the total after a number of units: at or below lower is Under,
	// at or above upper is what Above says.
	Bounds(units float64) (lower, upper float64)
	Above() Verdict
	// Variance of the count on one unit about a mean.
	Variance(mean float64) float64
	Validate() error
}

// Settings say when stops suffice. Zero fields mean the defaults.
type Settings struct {
	Least int // stops before any answer; [LeastStops], and never fewer
	Most  int // stops after which counting ends; 40
	// Planned is the number of stops of the whole walk where its places are not
	// known: a walk goes from one side to the other, so that only all of them have
	// crossed the field. 0 is a walk whose first stops are spread already.
	Planned int
	// Ground is the field in metres, for stops whose places are given; see
	// [Tally.AddAt]. Without points the walk is judged by Planned.
	Ground layout.Lattice
	// Area of the field in hectares and Price of a stop in treatments of a hectare
	// say how many more stops are worth their walk; see [Worth]. 0 does not ask.
	Area, Price float64
	// Independent takes every unit at its face value, as if no two were of one
	// stop, and answers from four stops on, wherever they lie: the plan as it was
	// published. It is here to be compared with.
	Independent bool
}

const (
	// leastStops: on invented fields with patches fewer stops called under in a
	// third to a half of the fields that were over. Our choice, no source.
	leastStops = 15
	leastPlain = 4  // at least 4 places in a field (Texas A&M AgriLife)
	mostStops  = 40 // our choice, no source
)

// LeastStops are those before any answer; fewer are never enough.
func LeastStops(independent bool) int {
	if independent {
		return leastPlain
	}
	return leastStops
}

func (s Settings) withDefaults() Settings {
	if s.Independent {
		s.Planned, s.Ground = 0, layout.Lattice{}
	}
	s.Least = max(s.Least, LeastStops(s.Independent))
	if s.Most <= 0 {
		s.Most = mostStops
	}
	s.Most = max(s.Most, s.Least, s.Planned)
	return s
}

// A Count is what was found at one stop: a total of insects, or of units at or
// above a tally, on a number of units.
type Count struct{ Total, Units float64 }

// A Tally evaluates a rule stop by stop.
//
// Stops are clusters. Let m be the mean over all units, and x and n the total and
// units of each of J stops. By the rule's own distribution the total would vary
// by N·V(m); by the stops it varies by J/(J−1)·Σ(x − m·n)², the variance of a
// ratio over clusters. Their quotient, never taken below 1, is the design effect,
// and the lines are asked at N and T divided by it (Rao & Scott 1992, Biometrics
// 48:577–585, for shares; the same argument for counts). Where nothing was found,
// or a share is the whole, no stop differs and the effect cannot be seen: each stop
// then counts as one unit.
//
// No answer comes before enough stops, nor before the walk has crossed the field:
// whoever comes from the clean side has seen nothing of the other.
type Tally struct {
	rule   Rule
	set    Settings
	counts []Count
	places [][2]float64 // of the stops, in metres; fewer than counts where one was not given
}

// NewTally begins a tally by a rule.
func NewTally(rule Rule, set Settings) (*Tally, error) {
	if err := rule.Validate(); err != nil {
		return nil, err
	}
	return &Tally{rule: rule, set: set.withDefaults()}, nil
}

// An Answer is what stands after a stop. All stops are in it.
type Answer struct {
	Verdict      Verdict
	Stops        int
	Least, Most  int     // stops
	Units, Total float64 // as counted
	Mean         float64 // Total / Units
	Over         int     // stops at or above the threshold of a test of means, half-way between its values; 0 of others
	DesignEffect float64 // how many units count for one; 1 or above
	Lower, Upper float64 // lines at the units counted, on the scale of Total
	Regret       float64 // by [Regret], of a test of a low against a high value; NaN where not known
	More         int     // stops that are worth their walk, about; 0 where none are or nobody asked
	Weighed      bool    // whether More was asked for and can be known
	Crossed      bool    // the walk has crossed the field, as far as is known
	Planned      int     // stops after which it has, where places are not known; else 0
	Spoken       float64 // share of the field, 0 to 1, that the stops speak for; NaN where not known
}

// Add takes in the next stop. Total must be finite and not negative, Units above
// 0; for shares Total may not be above Units.
func (t *Tally) Add(c Count) (Answer, error) {
	if err := t.check(c); err != nil {
		return Answer{}, err
	}
	t.counts = append(t.counts, c)
	return t.Answer(), nil
}

// AddAt is Add of a stop at a place in metres, of [Settings.Ground].
func (t *Tally) AddAt(place [2]float64, c Count) (Answer, error) {
	if err := t.check(c); err != nil {
		return Answer{}, err
	}
	if len(t.places) == len(t.counts) {
		t.places = append(t.places, place)
	}
	return t.Add(c)
}

// Join adds units to a stop counted before, by its number from 0. So do rows
// that lie too near a stop to be one of their own.
func (t *Tally) Join(stop int, c Count) (Answer, error) {
	if stop < 0 || stop >= len(t.counts) {
		return Answer{}, fmt.Errorf("there is no stop %d yet to add to", stop+1)
	}
	if err := t.check(c); err != nil {
		return Answer{}, err
	}
	t.counts[stop].Total += c.Total
	t.counts[stop].Units += c.Units
	return t.Answer(), nil
}

// Copy returns a tally of the same stops that goes its own way.
func (t *Tally) Copy() Tally {
	return Tally{rule: t.rule, set: t.set, counts: slices.Clone(t.counts), places: slices.Clone(t.places)}
}

func (t *Tally) check(c Count) error {
	if !(c.Units > 0) || math.IsInf(c.Units, 0) {
		return fmt.Errorf("%v units counted: want a number above 0", c.Units)
	}
	if !(c.Total >= 0) || math.IsInf(c.Total, 0) {
		return fmt.Errorf("a total of %v: want 0 or more", c.Total)
	}
	if w, ok := t.rule.(Wald); ok && w.Distribution == Binomial && c.Total > c.Units {
		return fmt.Errorf("%v of %v cannot be: more than were looked at; type how many have it / how many were looked at, such as 2/10, or the count on each", c.Total, c.Units)
	}
	return nil
}

// Answer is the answer after the stops so far.
func (t *Tally) Answer() Answer {
	a := Answer{Stops: len(t.counts), Least: t.set.Least, Most: t.set.Most, DesignEffect: 1}
	t.crossing(&a)
	for _, c := range t.counts {
		a.Total += c.Total
		a.Units += c.Units
	}
	if a.Stops == 0 {
		return a
	}
	a.Mean = a.Total / a.Units
	if !t.set.Independent {
		a.DesignEffect = t.designEffect(a)
	}
	lower, upper := t.rule.Bounds(a.Units / a.DesignEffect)
	a.Lower, a.Upper = lower*a.DesignEffect, upper*a.DesignEffect
	a.Over = t.over()
	t.weigh(&a)
	a.Verdict = t.verdict(a)
	return a
}

// over counts the stops at or above the threshold of a test of means. Of a share few units
// at a stop tell nothing of it.
func (t *Tally) over() (n int) {
	w, ok := t.rule.(Wald)
	if !ok || w.Distribution == Binomial {
		return 0
	}
	for _, c := range t.counts {
		if 2*c.Total >= (w.Low+w.High)*c.Units {
			n++
		}
	}
	return n
}

// weigh says how many more stops are worth their walk; the threshold is half-way
// between the low and the high value of a test.
func (t *Tally) weigh(a *Answer) {
	w, ok := t.rule.(Wald)
	a.Regret = math.NaN()
	if !ok {
		return
	}
	means := make([]float64, len(t.counts))
	for i, c := range t.counts {
		means[i] = c.Total / c.Units
	}
	a.Regret = Regret(means, (w.Low+w.High)/2)
	worth := Worth{Area: t.set.Area, Regret: a.Regret, Stops: a.Stops, Price: t.set.Price}
	if a.Weighed = worth.Validate() == nil && worth.Price > 0 && !math.IsNaN(a.Regret); a.Weighed {
		a.More = worth.More(mostMore)
	}
}

// mostMore bounds how many further stops are spoken of.
const mostMore = 100

// ByMap is an answer where a map of the stops so far tells what deciding by it would
// cost beyond knowing everything, regret in treatments of a hectare: whether the next
// stop is worth its walk ends the counting, and not on which side of the threshold the
// mean lies. Without area or price it stays as it is.
func (a Answer) ByMap(set Settings, regret float64) Answer {
	w := Worth{Area: set.Area, Regret: regret, Stops: a.Stops, Price: set.Price}
	if w.Validate() != nil || !(w.Price > 0) || math.IsNaN(regret) {
		return a
	}
	a.Regret, a.Weighed, a.More = regret, true, w.More(mostMore)
	switch {
	case a.Crossed && w.Enough():
		a.Verdict = Mappable
	case a.Verdict == Over || a.Verdict == Under:
		a.Verdict = GoOn
		if a.Stops >= a.Most {
			a.Verdict = Undecided
		}
	}
	return a
}

// crossing says whether the walk has crossed the field.
func (t *Tally) crossing(a *Answer) {
	a.Spoken = math.NaN()
	if len(t.set.Ground.Points) > 0 && len(t.places) == len(t.counts) {
		l := t.set.Ground.Of(t.places)
		a.Spoken, a.Crossed = l.Share, l.Crossed()
		return
	}
	a.Planned = t.set.Planned
	a.Crossed = a.Stops >= a.Planned
}

func (t *Tally) verdict(a Answer) Verdict {
	switch {
	case a.Stops < a.Least:
		return GoOn
	case !a.Crossed && a.Stops < a.Most:
		return GoOn
	case !a.Crossed:
		return Undecided
	case a.Total >= a.Upper:
		return t.rule.Above()
	case a.Total <= a.Lower:
		return Under
	case a.Stops >= a.Most:
		return Undecided
	}
	return GoOn
}

func (t *Tally) designEffect(a Answer) float64 {
	if a.Stops < 2 {
		return 1
	}
	expected := a.Units * t.rule.Variance(a.Mean)
	if !(expected > 0) {
		return max(1, a.Units/float64(a.Stops)) // nothing was found, or every unit is at or above the tally
	}
	clusters := make([]stat.Cluster, len(t.counts))
	for i, c := range t.counts {
		clusters[i] = stat.Cluster{Total: c.Total, Units: c.Units}
	}
	return stat.DesignEffect(clusters, expected)
}
