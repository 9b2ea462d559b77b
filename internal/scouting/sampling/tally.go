package sampling

import (
	"fmt"
	"math"

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
	Least int // stops before any answer; 4, and never fewer (Texas A&M AgriLife: at least 4 places in a field)
	Most  int // stops after which counting ends; 40
	// Independent takes every unit at its face value, as if no two were of one
	// stop. It is here to be compared with.
	Independent bool
}

const (
	leastStops = 4
	mostStops  = 40 // ten times the least; our choice, no source
)

func (s Settings) withDefaults() Settings {
	s.Least = max(s.Least, leastStops)
	if s.Most <= 0 {
		s.Most = mostStops
	}
	s.Most = max(s.Most, s.Least)
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
// 48:577–585, for shares; the same argument for counts).
type Tally struct {
	rule   Rule
	set    Settings
	counts []Count
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
	DesignEffect float64 // how many units count for one; 1 or above
	Lower, Upper float64 // lines at the units counted, on the scale of Total
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
	return Tally{rule: t.rule, set: t.set, counts: append([]Count(nil), t.counts...)}
}

func (t *Tally) check(c Count) error {
	if !(c.Units > 0) || math.IsInf(c.Units, 0) {
		return fmt.Errorf("%v units counted: want a number above 0", c.Units)
	}
	if !(c.Total >= 0) || math.IsInf(c.Total, 0) {
		return fmt.Errorf("a total of %v: want 0 or more", c.Total)
	}
	if w, ok := t.rule.(Wald); ok && w.Distribution == Binomial && c.Total > c.Units {
		return fmt.Errorf("%v of %v units: more than were looked at", c.Total, c.Units)
	}
	return nil
}

// Answer is the answer after the stops so far.
func (t *Tally) Answer() Answer {
	a := Answer{Stops: len(t.counts), Least: t.set.Least, Most: t.set.Most, DesignEffect: 1}
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
	a.Verdict = t.verdict(a)
	return a
}

func (t *Tally) verdict(a Answer) Verdict {
	switch {
	case a.Stops < a.Least:
		return GoOn
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
		return 1 // nothing was found, or every unit is at or above the tally
	}
	clusters := make([]stat.Cluster, len(t.counts))
	for i, c := range t.counts {
		clusters[i] = stat.Cluster{Total: c.Total, Units: c.Units}
	}
	return stat.DesignEffect(clusters, expected)
}
