package engine

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A tallyGround is the field of a tally. Nil is none.
type tallyGround struct {
	field     geo.Field
	frame     geo.Frame
	ground    layout.Lattice // metres
	area      float64        // hectares
	threshold float64        // half-way between the low and the high value of a test; NaN of other plans
	stat      assess.Statistic
	notes     []string
}

// onField reads the field of a tally; nil where none was given.
func (q TallyCountsRequest) onField(p sampling.Plan, stat assess.Statistic) (*tallyGround, error) {
	if q.Field == nil {
		return nil, nil
	}
	field, notes, err := PlanRequest{PlanSettings: PlanSettings{Only: q.Only}, Boundary: *q.Field}.field()
	var several HintedError
	if errors.As(err, &several) && q.Only == "" {
		several.Hint = "choose one with --only NAME" // a tally is of one field
		err = several
	}
	if err != nil {
		return nil, err
	}
	g := &tallyGround{field: field, threshold: math.NaN(), stat: stat, notes: notes}
	if g.frame, err = geo.FrameOf(field.Boundary); err != nil {
		return nil, err
	}
	outline := g.frame.ForwardPolygons(field.Boundary)
	g.ground, g.area = assess.LatticeOf(outline), figures.Hectares(geo.Area(outline))
	if w, ok := p.Rule.(sampling.Wald); ok {
		g.threshold = (w.Low + w.High) / 2
		if stat.Share() {
			g.threshold *= 100
		}
	}
	return g, nil
}

// settings know the ground, and its area where none was given.
func (g *tallyGround) settings(set sampling.Settings) sampling.Settings {
	set.Ground = g.ground
	if set.Area == 0 {
		set.Area = g.area
	}
	return set
}

// inside are the stops in the field or within 15 m of it, as map has them, with a note on
// the others.
func (g *tallyGround) inside(all []bounded) (in []bounded, notes []string, err error) {
	locator, err := assess.NewLocator([]geo.Field{g.field})
	if err != nil {
		return nil, nil, err
	}
	for _, b := range all {
		if locator.Near(b.stop.Longitude, b.stop.Latitude) {
			in = append(in, b)
		}
	}
	switch out := len(all) - len(in); {
	case len(in) == 0:
		return nil, nil, hinted(fmt.Errorf("no stop lies in field %s or near it", g.field.Name), "give the boundary of the field that was walked, or --only NAME")
	case out > 0:
		notes = append(notes, fmt.Sprintf("%s not in field %s: left out", figures.Counted(out, "stop"), g.field.Name))
	}
	return in, notes, nil
}

// xy is a stop in metres; nil without a field.
func (g *tallyGround) xy(b bounded) *[2]float64 {
	if g == nil {
		return nil
	}
	at := [2]float64(g.frame.Forward([2]float64{b.stop.Longitude, b.stop.Latitude}))
	return &at
}

// byMap is an answer by what a map of the stops so far expects, where stops are priced,
// enough for a map and each tells what the plan asks for.
func (g *tallyGround) byMap(ctx context.Context, a sampling.Answer, set sampling.Settings, read *survey.Survey, all []bounded) (sampling.Answer, error) {
	if !(set.Price > 0) || !(g.threshold > 0) || a.Stops < assess.LeastStops {
		return a, nil
	}
	part := *read
	part.Stops = make([]survey.Stop, len(all))
	for i, b := range all {
		if b.least != b.most {
			return a, nil
		}
		part.Stops[i] = b.stop
	}
	r, err := assess.Run(ctx, []geo.Field{g.field}, &part, assess.Settings{Levels: assess.LevelSettings{TreatAt: g.threshold}, Statistic: g.stat})
	if err != nil {
		return a, err
	}
	sums := decision.Weigh(r.Fields[0].Losses(g.threshold), decision.Prices{})
	if !sums.Known() {
		return a, nil
	}
	return a.ByMap(set, sums.Regret(a.Stops)), nil
}

// next is where a further stop tells most, as plan --after has it; nil where counting is
// on shares, or too few stops were made to tell.
func (g *tallyGround) next(all []bounded) *[2]float64 {
	if g == nil || g.stat.Share() || !(g.threshold > 0) {
		return nil
	}
	known := plan.Known{Levels: []float64{g.threshold}}
	for _, b := range all {
		s := b.stop
		known.Stops = append(known.Stops, plan.Counted{Lonlat: [2]float64{s.Longitude, s.Latitude}, Mean: s.Mean(), Units: s.Units})
	}
	p, err := plan.After(g.field, plan.Settings{Stops: 1}, known)
	if err != nil { // too few stops, counts all alike, or ground too small for one: no place to name
		return nil
	}
	at := [2]float64(p.Stops[0].Lonlat)
	return &at
}
