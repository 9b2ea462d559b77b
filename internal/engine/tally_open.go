package engine

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// statistic is what a plan asks of a stop: that of its rule, where it has one.
func (o TallySettings) statistic(p sampling.Plan) (assess.Statistic, error) {
	if o.Plan != "" || o.Rule == "" {
		return assess.Statistic{Tally: p.AtOr}, nil // of whatever is counted on
	}
	book, err := RuleBook(nil)
	if err != nil {
		return assess.Statistic{}, err
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return assess.Statistic{}, err
	}
	level, err := rule.At(o.Stage)
	_, statistic := assess.ByRule(level, assess.LevelSettings{})
	return statistic, err
}

// A bounded count is the least and the most that a stop may tell: both are its count
// where it tells what the plan asks for.
type bounded struct {
	stop        survey.Stop
	least, most sampling.Count
}

// counted are stops as the plan counts. Those whose leaves were counted together leave
// open how many are at or above the tally: leaving them out would leave out the worst, so
// they are taken at both ends. What was not counted at all is left out. Notes name both.
func (t *Tally) counted(stops []survey.Stop, stat assess.Statistic) (all []bounded, notes []string, err error) {
	share := t.Words.Share()
	if share && !stat.Share() {
		return nil, nil, hinted(errors.New("the plan does not say from which count on a leaf counts"), "give --tally")
	}
	open := 0
	for _, s := range stops {
		b := bounded{s, sampling.Count{Total: s.Total, Units: s.Units}, sampling.Count{Total: s.Total, Units: s.Units}}
		value, known := stat.At(s)
		switch {
		case !share && !known:
			notes = append(notes, stat.WhyMissing(s)+"; not used")
			continue
		case share:
			if stat.ByPlants(s) && s.Plants > 0 {
				b.least.Units, b.most.Units = float64(s.Plants), float64(s.Plants)
			}
			b.least.Total, b.most.Total = value/100*b.least.Units, value/100*b.most.Units
		}
		if !known {
			open++
			b.least.Total, b.most.Total = ends(stat, s, b.most.Units)
			notes = append(notes, fmt.Sprintf("stop %s does not say which of its %g were at or above the tally: from %g to %g, and both are tried",
				s.Name, b.most.Units, b.least.Total, b.most.Total))
		}
		all = append(all, b)
	}
	if len(all) == open {
		return nil, notes, hinted(errors.New("no stop says what the plan asks for: which leaves or plants are at or above the tally"),
			"use a plan on counts, or write one row for each leaf, or plants and plants_over")
	}
	return all, notes, nil
}

// ends are how many of the units of a stop may be at or above the tally: of leaves that
// were counted together no more than the sum allows.
func ends(stat assess.Statistic, s survey.Stop, units float64) (least, most float64) {
	if stat.Tally == 0 || math.IsNaN(s.Total) || stat.ByPlants(s) {
		return 0, units
	}
	if s.Mean() >= stat.Tally {
		least = 1
	}
	return least, min(units, math.Floor(s.Total/stat.Tally))
}

// A tallyPair answers for the least and the most that open stops may tell.
type tallyPair struct{ least, most *sampling.Tally }

func newTallyPair(rule sampling.Rule, set sampling.Settings) (p tallyPair, err error) {
	if p.least, err = sampling.NewTally(rule, set); err != nil {
		return p, err
	}
	p.most, err = sampling.NewTally(rule, set)
	return p, err
}

// take takes in a stop at a place, from 0, that may have been counted at before; xy is it
// in metres, nil without a field. Where the ends say otherwise the answer is to go on, as
// far as stops may.
func (p tallyPair) take(place int, xy *[2]float64, b bounded) (sampling.Answer, error) {
	add := func(t *sampling.Tally, c sampling.Count) (sampling.Answer, error) {
		switch {
		case place < t.Answer().Stops:
			return t.Join(place, c)
		case xy != nil:
			return t.AddAt(*xy, c)
		}
		return t.Add(c)
	}
	a, err := add(p.least, b.least)
	if err != nil {
		return a, err
	}
	other, err := add(p.most, b.most)
	switch {
	case a.Verdict == other.Verdict:
	case a.Stops >= a.Most:
		a.Verdict = sampling.Undecided
	default:
		a.Verdict = sampling.GoOn
	}
	return a, err
}
