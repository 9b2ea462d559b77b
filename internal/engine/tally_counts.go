package engine

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A TallyCountsRequest asks for the answers of a tally along a table of counts.
type TallyCountsRequest struct {
	TallySettings
	Counts Source
	Apart  float64 // metres below which stops count as one place
	// Field is the boundary of the field: stops are then judged by where they lie in it,
	// and by what a map of them expects. Nil is no field.
	Field *Source
	Only  string // its name, where the boundary holds several
}

// A TallyCountsOutcome is the answers after the stops of a table, until counting may end.
type TallyCountsOutcome struct {
	Words    fieldwork.Tally
	Problems []survey.Problem // rows that were set aside
	Notes    []string         // on stops that do not tell what the plan asks for
	Answers  []TallyAnswer
	Next     *[2]float64 // where to go next, longitude and latitude; nil where nothing tells
}

// TallyCounts answers the stops of a table of counts, in their order. Stops that
// leave open what the plan asks for do not end it.
func TallyCounts(ctx context.Context, q TallyCountsRequest) (*TallyCountsOutcome, error) {
	q.OnField = q.Field != nil
	t, err := NewTally(q.TallySettings)
	if err != nil {
		return nil, err
	}
	if !(q.Apart >= 0) || math.IsInf(q.Apart, 0) {
		return nil, usage(fmt.Errorf("--apart %v: want metres of 0 or more", q.Apart))
	}
	stat, err := q.statistic(t.Words.Plan)
	if err != nil {
		return nil, usage(err)
	}
	unit := stat.Unit
	if unit == "" && !t.Words.Share() { // of shares the plants or leaves that count are told
		unit = t.Words.Plan.Unit
	}
	read, err := survey.Read([]Source{q.Counts}, survey.Options{Pest: q.Pest, Unit: unit, Shares: t.Words.Share(), Parts: stat.Part != "" || stat.Sign != ""})
	if err != nil {
		return nil, err
	}
	out := &TallyCountsOutcome{Words: t.Words, Problems: read.Problems}
	all, notes, err := t.counted(planned(read.Stops), stat)
	if out.Notes = notes; err != nil {
		return out, err
	}
	if n := len(read.Stops) - len(planned(read.Stops)); n > 0 {
		out.Notes = append(out.Notes, report.ExtraStopsText(n))
	}
	set := q.stops()
	ground, err := q.onField(t.Words.Plan, stat)
	if err != nil {
		return nil, err
	}
	if ground != nil {
		set = ground.settings(set)
		var left []string
		if all, left, err = ground.inside(all); err != nil {
			return nil, err
		}
		out.Notes = slices.Concat(out.Notes, ground.notes, left)
	}
	pair, err := newTallyPair(t.Words.Plan.Rule, set)
	if err != nil {
		return nil, err
	}
	for i, place := range places(all, q.Apart) {
		a, err := pair.take(place, ground.xy(all[i]), all[i])
		if err == nil && ground != nil {
			a, err = ground.byMap(ctx, a, set, read, all[:i+1])
		}
		if err != nil {
			return out, fmt.Errorf("%s: stop %s: %w", q.Counts.Name, all[i].stop.Name, err)
		}
		out.Answers = append(out.Answers, TallyAnswer{a, t.Words})
		if a.Verdict != sampling.GoOn {
			return out, nil
		}
	}
	out.Next = ground.next(all)
	return out, nil
}

// planned are stops but the extra ones, which stand where more was to be learnt; all
// where there are no others.
func planned(stops []survey.Stop) []survey.Stop {
	out := slices.DeleteFunc(slices.Clone(stops), func(s survey.Stop) bool { return s.Extra })
	if len(out) == 0 {
		return stops
	}
	return out
}

// places are the numbers, from 0, of the places at which stops were counted.
func places(all []bounded, apart float64) []int {
	at := make([][2]float64, len(all))
	for i, b := range all {
		at[i] = [2]float64{b.stop.Longitude, b.stop.Latitude}
	}
	return sampling.Spread(at, apart)
}
