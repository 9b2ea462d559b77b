package call

import (
	"context"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// stopFacts are a stop to go to.
type stopFacts struct {
	Name  string     `json:"name"`
	At    [2]float64 `json:"at"`
	Leg   float64    `json:"leg_m"` // from the stop before, or from the start
	Extra bool       `json:"extra"`
}

type planFacts struct {
	Field    string      `json:"field"`
	Stops    []stopFacts `json:"stops"`
	Distance float64     `json:"walk_m"`
	Minutes  float64     `json:"minutes"`
	Says     []string    `json:"says"`
	Notes    []string    `json:"notes"`
}

// planSettings are those of plan that a page asks for.
type planSettings struct {
	Only    string      `json:"only"`
	Stops   int         `json:"stops"`
	Order   string      `json:"order"`
	Seed    uint64      `json:"seed"`
	Rule    string      `json:"rule"`
	Stage   string      `json:"stage"`
	Start   *[2]float64 `json:"start"`
	Inside  *float64    `json:"inside"`
	Heading *float64    `json:"heading"`
	OneWay  bool        `json:"one-way"`
	Pest    string      `json:"pest"`

	Language vocabulary.Language `json:"language"`
}

func (o planSettings) request() engine.PlanRequest {
	set := engine.PlanDefaults()
	set.Only, set.Stops, set.Rule, set.Stage, set.Start, set.Heading, set.OneWay, set.Pest, set.Language = o.Only, o.Stops, o.Rule, o.Stage, o.Start, o.Heading, o.OneWay, o.Pest, o.Language
	if o.Order != "" {
		set.Order = o.Order
	}
	if o.Seed != 0 {
		set.Seed = o.Seed
	}
	if o.Inside != nil {
		set.Inside = *o.Inside
	}
	return engine.PlanRequest{PlanSettings: set}
}

// mostStops bounds a walk on a page: the work grows faster than its stops.
const mostStops = 200

func plan(_ context.Context, r request) (any, []engine.File, error) {
	var o planSettings
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	if o.Stops > mostStops {
		return nil, nil, fmt.Errorf("%d stops: want 1 to %d, as a page cannot stop the work on more", o.Stops, mostStops)
	}
	q := o.request()
	var err error
	if q.Boundary, err = r.one(Boundary); err != nil {
		return nil, nil, err
	}
	if q.Rules, err = r.atMostOne(Rules); err != nil {
		return nil, nil, err
	}
	made, err := engine.PlanStops(q)
	if err != nil {
		return nil, nil, err
	}
	files, err := engine.PlanData(made.Plan)
	return factsOf(made), files, err
}

func factsOf(made *engine.PlanOutcome) planFacts {
	p := made.Plan
	facts := planFacts{
		Field: p.Field.Name, Stops: []stopFacts{}, Distance: rounded(p.Distance, 1), Minutes: rounded(p.Minutes, 1),
		Says: strings.Split(strings.TrimSpace(p.Text()), "\n"), Notes: some(made.Notes),
	}
	for i := range facts.Says {
		facts.Says[i] = strings.TrimSpace(facts.Says[i])
	}
	for _, s := range p.Stops {
		facts.Stops = append(facts.Stops, stopFacts{s.Name, s.Lonlat, rounded(s.Leg, 1), s.Extra || s.Edge})
	}
	return facts
}
