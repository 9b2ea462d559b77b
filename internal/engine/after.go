package engine

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// An AfterRequest asks, after a stop of a walk, whether to go on and where.
type AfterRequest struct {
	Setup
	Samples   []Source // so far
	Boundary  Source
	Only      string      // name of the field, where the boundary holds several
	StopPrice float64     // of one more stop, as part of treating a hectare
	Area      float64     // hectares; 0 is that of the field
	Last      *[2]float64 // where the walk stands, longitude and latitude; nil is at the last stop
}

// StopPrice is that of a stop where nobody tells it: some six minutes of an hour that
// costs as much as treating a hectare. Our choice, no source.
const StopPrice = 0.1

// mostHectares bounds the area of a field that a walk is weighed for.
const mostHectares = 100_000

// leastAfter is the number of stops before any answer, see [sampling.Worth].
const leastAfter = 12

// An AfterOutcome is what to do after a stop.
type AfterOutcome struct {
	report.After
	Says   []string
	Field  *assess.Field
	Result *assess.Result
	// Verdicts are that of the field, once there are enough stops.
	Verdicts []verdict.Verdict
	Next     *NextStop // nil where nothing tells: the next planned one

	sums decision.Sums // of the field's verdict
}

// NextStop is where a further stop tells most.
type NextStop struct {
	At            [2]float64 // longitude, latitude
	Walk, Bearing float64    // metres as the crow flies, degrees from north clockwise
	Extra         bool       // the counts chose its place, so that the mean goes without it: round a hot stop, or once enough of the field was walked
}

// After weighs one more stop against its walk. On means it goes by a map of the stops so
// far: enough from twelve spread ones on where the next saves less than its price. On
// shares it goes by the stop lines of tally.
func After(ctx context.Context, q AfterRequest) (*AfterOutcome, error) {
	if q.StopPrice == 0 {
		q.StopPrice = StopPrice
	}
	if err := q.Settings.Validate(); err != nil {
		return nil, err
	}
	if !(q.StopPrice > 0) || math.IsInf(q.StopPrice, 0) {
		return nil, usage(fmt.Errorf("--stop-price %v: want a price above 0, as part of treating a hectare", q.StopPrice))
	}
	if !(q.Area >= 0 && q.Area <= mostHectares) {
		return nil, usage(fmt.Errorf("area %v: want hectares, 0 to %d", q.Area, mostHectares))
	}
	g, err := q.ground(q.Boundary)
	if err != nil {
		return nil, err
	}
	field, err := oneField(g.Outlines, q.Only, q.Boundary.Base())
	if err != nil {
		return nil, err
	}
	if q.Last != nil {
		if err := near("last", *q.Last, field); err != nil {
			return nil, err
		}
	}
	counts, err := q.read(&g, q.Samples)
	if err != nil {
		return nil, err
	}
	m := morning{Setup: q.Setup}
	r, err := m.work(ctx, g, counts, nil)
	if err != nil {
		return nil, err
	}
	out := &AfterOutcome{Result: r}
	for _, f := range r.Fields {
		if f.Name == field.Name {
			out.Field = f
		}
	}
	if out.Field == nil || !out.Field.Scouted() {
		return nil, hinted(fmt.Errorf("no stop lies in field %s or near it", field.Name), "give the boundary of the field that was walked")
	}
	if !slices.ContainsFunc(out.Field.Stops, func(s assess.Stop) bool { return !s.Extra }) {
		out.After = report.After{Least: leastAfter}
		out.Says = []string{q.Settings.Said().Text("Only extra stops were counted, where it was hot: the planned ones tell what the field holds.")}
		return out, nil
	}
	for _, v := range m.answers {
		if v.Field == field.Name {
			out.sums = v.Sums // by the prices given
		}
	}
	weigh := out.byMap
	if out.Field.Statistic.Share() {
		weigh = out.byLines
	}
	if err := weigh(ctx, q); err != nil {
		return nil, err
	}
	if !out.Enough {
		return out, nil
	}
	for _, v := range m.answers {
		if v.Field == field.Name {
			out.Verdicts = append(out.Verdicts, v)
			out.heed(v, q)
		}
	}
	return out, nil
}

// heed goes on where the map's answer wants more, though no stop anywhere would be worth
// its walk.
func (o *AfterOutcome) heed(v verdict.Verdict, q AfterRequest) {
	if v.Kind != verdict.Undecided {
		return
	}
	o.Enough, o.More = false, v.More
	o.Says = []string{report.PlainAnswer(v, q.Settings.Said())}
	if v.More > 0 {
		o.Next = o.next(q, v)
	}
}

// byMap weighs by what deciding after the stops so far is expected to cost.
func (o *AfterOutcome) byMap(_ context.Context, q AfterRequest) error {
	f := o.Field
	stops := f.Planned()
	o.After = report.After{Stops: len(stops), Least: leastAfter, Crossed: f.Layout.Crossed(), Spoken: f.Layout.Share}
	area := q.Area
	if area == 0 {
		area = figures.Hectares(f.Area)
	}
	if sums := o.sums; o.Stops >= assess.LeastStops && sums.Known() {
		w := sampling.Worth{Area: area, Regret: sums.Regret(o.Stops), Stops: o.Stops, Price: q.StopPrice}
		if err := w.Validate(); err != nil {
			return usage(err)
		}
		o.Enough, o.More = o.Crossed && w.Enough(), w.More(mostMore)
	}
	o.Says = []string{report.AfterText(o.After, q.Settings.Said())}
	if !o.Enough {
		o.Next = o.next(q, verdict.Verdict{})
	}
	if o.Next != nil {
		o.Next.Extra = o.Crossed && o.Stops >= o.Least
	}
	return nil
}

// mostMore bounds how many further stops are spoken of.
const mostMore = 100

// byLines goes by the stop lines of a tally round the level of the rule.
func (o *AfterOutcome) byLines(ctx context.Context, q AfterRequest) error {
	set := TallyDefaults()
	set.Rule, set.Stage, set.Language = q.Settings.Rule, q.Settings.Stage, q.Settings.Language
	if set.Rule == "" {
		return usage(errors.New("a share wants a rule, so that its stop lines are known: give --rule"))
	}
	if given := stagesOf(o.Result.Survey.Stops); set.Stage == "" && len(given) == 1 {
		set.Stage = given[0].band
	}
	if len(q.Samples) != 1 {
		return usage(errors.New("want one table of counts"))
	}
	t, err := TallyCounts(ctx, TallyCountsRequest{TallySettings: set, Counts: q.Samples[0], Field: &q.Boundary, Only: o.Field.Name})
	if err != nil {
		return err
	}
	a := t.Answers[len(t.Answers)-1]
	o.After = report.After{Stops: a.Stops, Least: a.Least, Crossed: a.Crossed, Spoken: a.Spoken, Enough: a.Done()}
	o.Says = []string{strings.TrimSpace(a.Line())}
	return nil
}

// next is where a further stop tells most, or where the verdict asks for one; nil where too few stops were made to tell, all
// say the same, or there is no room.
func (o *AfterOutcome) next(q AfterRequest, v verdict.Verdict) *NextStop {
	f := o.Field
	known := plan.Known{Levels: []float64{f.Levels.TreatAt, f.Levels.WatchAt}, Fill: v.Fill}
	last := q.Last
	for _, s := range f.Stops {
		at := [2]float64{s.Longitude, s.Latitude}
		known.Stops = append(known.Stops, plan.Counted{Lonlat: at, Mean: s.Value, Units: s.Units, Extra: s.Extra})
		if slices.Contains(v.Round, s.Name) {
			known.Round = append(known.Round, at)
		} else if slices.Contains(v.InsideOf, s.Name) {
			known.Beside = append(known.Beside, at)
		}
	}
	if n := len(f.Stops); last == nil {
		last = &[2]float64{f.Stops[n-1].Longitude, f.Stops[n-1].Latitude}
	}
	want := 1
	if hot := len(known.Round); hot > 0 {
		want = hot * verdict.Settings{}.WithDefaults().LeastInside
	} else if hot := len(known.Beside); hot > 0 {
		want = hot
	}
	p, err := plan.After(f.Field, plan.Settings{Stops: want, Inside: PlanDefaults().Inside}, known)
	if err != nil {
		return nil
	}
	at := o.farthest(p.Stops)
	a, b := f.Frame.Forward(*last), f.Frame.Forward(at)
	n := &NextStop{At: at, Walk: math.Hypot(b[0]-a[0], b[1]-a[1]), Extra: v.More > 0 && !v.Fill}
	n.Bearing = math.Mod(math.Atan2(b[0]-a[0], b[1]-a[1])*180/math.Pi+360, 360)
	return n
}

// farthest is the one of the places that lies farthest from all stops made.
func (o *AfterOutcome) farthest(places []plan.Stop) (at [2]float64) {
	most := math.Inf(-1)
	for _, p := range places {
		xy, near := o.Field.Frame.Forward(p.Lonlat), math.Inf(1)
		for _, s := range o.Field.Stops {
			near = min(near, math.Hypot(s.XY[0]-xy[0], s.XY[1]-xy[1]))
		}
		if near > most+0.5 { // metres, so that rounding does not choose
			most, at = near, p.Lonlat
		}
	}
	return at
}
