package engine

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A TallyCountsRequest asks for the answers of a tally along a table of counts.
type TallyCountsRequest struct {
	TallySettings
	Counts Source
	Apart  float64 // metres below which stops count as one place
}

// A TallyCountsOutcome is the answers after the stops of a table, until counting may end.
type TallyCountsOutcome struct {
	Words    fieldwork.Tally
	Problems []survey.Problem // rows that were set aside
	Answers  []TallyAnswer
}

// TallyCounts answers the stops of a table of counts, in their order. A stop that the
// plan cannot count is an error; the answers before it come all the same.
func TallyCounts(q TallyCountsRequest) (*TallyCountsOutcome, error) {
	t, err := NewTally(q.TallySettings)
	if err != nil {
		return nil, err
	}
	read, err := survey.Read([]Source{q.Counts}, survey.Options{Pest: q.Pest})
	if err != nil {
		return nil, err
	}
	at := make([][2]float64, len(read.Stops))
	for i, s := range read.Stops {
		at[i] = [2]float64{s.Longitude, s.Latitude}
	}
	places := sampling.Spread(at, q.Apart)
	out := &TallyCountsOutcome{Words: t.Words, Problems: read.Problems}
	for i, s := range read.Stops {
		c, err := t.count(s)
		if err != nil {
			return out, err
		}
		a, err := t.at(places[i], c)
		if err != nil {
			return out, fmt.Errorf("%s: stop %s: %w", q.Counts.Name, s.Name, err)
		}
		out.Answers = append(out.Answers, a)
		if a.Done() {
			break
		}
	}
	return out, nil
}

// at takes in what was counted at a place, by its number from 0.
func (t *Tally) at(place int, c sampling.Count) (TallyAnswer, error) {
	enter := t.tally.Add
	if place < t.Stops() {
		enter = func(c sampling.Count) (sampling.Answer, error) { return t.tally.Join(place, c) }
	}
	a, err := enter(c)
	return TallyAnswer{a, t.Words}, err
}

// count is a stop as the plan counts.
func (t *Tally) count(s survey.Stop) (sampling.Count, error) {
	if !t.Words.Share() {
		return sampling.Count{Total: s.Total, Units: s.Units}, nil
	}
	least := t.Words.Plan.AtOr
	if least <= 0 {
		return sampling.Count{}, hinted(errors.New("the plan does not say from which count on a leaf counts"), "give --tally")
	}
	share, ok := s.Share(least)
	if !ok {
		return sampling.Count{}, hinted(fmt.Errorf("stop %s holds leaves counted together: which have %v or more is not told", s.Name, least),
			"use a plan on counts, or one row for each leaf")
	}
	return sampling.Count{Total: share * s.Units, Units: s.Units}, nil
}
