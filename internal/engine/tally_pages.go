//go:build !small

package engine

import (
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// A TallyCardOutcome is the stop lines of a plan, to be carried.
type TallyCardOutcome struct {
	Card  fieldwork.Card
	Files []File
}

// TallyCard is the pocket card of a plan with so many leaves, or what else is looked at, at a stop.
func TallyCard(o TallySettings, perStop float64) (*TallyCardOutcome, error) {
	t, err := NewTally(o)
	if err != nil {
		return nil, err
	}
	perStop /= float64(vocabulary.UnitOf(t.Words.Plan.Unit).Size)
	if err := (sampling.Walk{PerStop: perStop}).Validate(); err != nil {
		return nil, usage(err)
	}
	card := fieldwork.Card{Tally: t.Words, Set: o.stops(), PerStop: perStop}
	files, err := render([]rendering{{"card.html", card.WriteHTML}})
	return &TallyCardOutcome{card, files}, err
}

// A TallyCurvesRequest asks what a plan does over a range of true values.
type TallyCurvesRequest struct {
	TallySettings
	PerStop    float64 // leaves, or what else is looked at
	Clustering float64 // correlation of leaves of a stop (shares), or how far stops vary as part of the mean (counts)
	Runs       int     // walks simulated for each value
	Seed       uint64
}

// A TallyCurvesOutcome is what was simulated.
type TallyCurvesOutcome struct {
	Curves fieldwork.Curves
	Files  []File
}

// TallyCurves simulates it.
func TallyCurves(q TallyCurvesRequest) (*TallyCurvesOutcome, error) {
	t, err := NewTally(q.TallySettings)
	if err != nil {
		return nil, err
	}
	walk := sampling.Walk{Stops: q.stops(), PerStop: q.PerStop / float64(vocabulary.UnitOf(t.Words.Plan.Unit).Size), Clustering: q.Clustering, Runs: q.Runs, Seed: q.Seed}
	points, err := sampling.Simulate(t.Words.Plan.Rule, walk, sampling.Range(t.Words.Plan.Rule))
	if err != nil {
		return nil, usage(err)
	}
	curves := fieldwork.Curves{Tally: t.Words, Walk: walk, Points: points}
	files, err := render([]rendering{{"curves.csv", curves.WriteCSV}, {"curves.svg", curves.WriteSVG}})
	return &TallyCurvesOutcome{curves, files}, err
}
