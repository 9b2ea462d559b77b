package compare

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/stat"
	"github.com/geocoris/geocoris/interp"
)

const (
	// furtherShare of the field over the treat level is what one should not be
	// late for. Judgement, no source.
	furtherShare = 0.05
	// forecastLevel is that of the range of a forecast.
	forecastLevel = 0.9
	// farForecast is how many days a forecast may look ahead without a warning:
	// twice the usual time between visits. Judgement, no source.
	farForecast = 2 * visit.Usual
)

// Next says when to look again, at the growth of the last step.
type Next struct {
	Basis    Basis   // the ground that the growth is measured on, and the mean of FieldDays
	Rate     float64 // per day, of shares that of their odds; NaN where no growth is known
	Interval paired.Interval
	Trusted  bool // the growth stands out from the noise
	// FieldDays until the mean of the stops, of those in ground that the growth is measured
	// on, reaches the treat level: 0 where it has, +Inf where it will not; at the
	// rate, and at the two ends of its interval.
	FieldDays, FieldSoonest, FieldLatest float64
	// TreatedDays and TreatedSoonest are the same of what was left in treated ground,
	// if that grew at the pace of the other: the treatment may hold it back. NaN where
	// no stops lie in such ground.
	TreatedDays, TreatedSoonest float64
	Days                        interp.Grid // the same at every node
	// Within is given for today alone where no growth is known.
	Within    []Ahead
	GoBackBy  string // ISO 8601, never after MapLook nor before the day after the last count
	GoodUntil string // day until which the map of the last visit is good; "" where it is not known
	MapLook   string // day of the next look that the map of the last visit asks for; "" where it is not known
	Why       Reason
}

// Ahead is how much of the scouted ground will have reached the treat level.
type Ahead struct {
	Days         int
	Share        float64 // of the scouted nodes, at the rate
	ShareSoonest float64 // at the quick end of its interval
}

func (r *Result) next(f *Field) Next {
	last := f.Steps[len(f.Steps)-1]
	v := f.Visits[len(f.Visits)-1]
	n := Next{Rate: last.Change.Rate, Interval: last.Change.Interval, Trusted: last.Change.Agrees()}
	level := v.Levels.TreatAt
	n.Basis = last.Basis
	quick, slow := n.ends()
	p := f.parting(f.Visits[last.From], v)
	mean, left := v.Assess.Mean, math.NaN()
	if n.Basis == Untreated || n.Basis == Regrowth {
		holds := p.holds(n.Basis)
		mean = stat.Mean(valuesOfStops(within(v, holds)))
		left = stat.Mean(valuesOfStops(within(v, func(at orb.Point) bool { return !holds(at) })))
	}
	n.FieldDays = change.DaysTo(level, mean, n.Rate, f.Scale)
	n.FieldSoonest = change.DaysTo(level, mean, quick, f.Scale)
	n.FieldLatest = change.DaysTo(level, mean, slow, f.Scale)
	n.TreatedDays = change.DaysTo(level, left, n.Rate, f.Scale)
	n.TreatedSoonest = change.DaysTo(level, left, quick, f.Scale)
	n.Days = change.DaysToGrid(v.Grid, level, n.Rate, f.Scale)
	soonest := change.DaysToGrid(v.Grid, level, quick, f.Scale)
	n.ahead(f.XY, soonest, change.DaysToGrid(v.Grid, level, 0, f.Scale))
	n.back(v, soonest, f.XY)
	n.lookAfter(v, f.sprays)
	n.whileTheMapIsGood(v)
	n.GoBackBy = max(n.GoBackBy, visit.After(v.Last, 1))
	return n
}

// ahead fills in what ground will have reached the level; of a growth that is not
// known, what has today.
func (n *Next) ahead(field orb.MultiPolygon, soonest, today interp.Grid) {
	if math.IsNaN(n.Rate) {
		now := shareWithin(today, field, 0)
		n.Within = []Ahead{{0, now, now}}
		return
	}
	for _, d := range []int{0, 3, visit.Usual, 2 * visit.Usual} {
		n.Within = append(n.Within, Ahead{d, shareWithin(n.Days, field, d), shareWithin(soonest, field, d)})
	}
}

// lookAfter brings the day to go back by forward where the last treatment wants
// another look sooner, and says what the day rests on where no growth is known.
func (n *Next) lookAfter(v *Visit, sprays []sprayed) {
	since, date := math.Inf(1), ""
	for _, s := range sprays {
		if ago := v.last - s.day; ago > 0 && ago < since {
			since, date = ago, s.Date
		}
	}
	if date == "" {
		return
	}
	if by := visit.After(v.Last, lookUntil-since); since < lookFrom && by < n.GoBackBy {
		n.GoBackBy = by
		n.Why = Reason{Cause: SecondLook, Treated: date}
		return
	}
	n.Why.Unsure = n.Basis == NoGround
}

// ends are the quick and the slow end of the growth; without an interval both
// are the rate itself.
func (n Next) ends() (quick, slow float64) {
	if !n.Interval.Known() {
		return n.Rate, n.Rate
	}
	return n.Interval.High, n.Interval.Low
}

// back sets the day to go back by: the usual one, sooner where colonies are there
// or where, at the quick end, a further part of the field would be over the level.
func (n *Next) back(v *Visit, soonest interp.Grid, field orb.MultiPolygon) {
	days := visit.Usual
	n.Why = Reason{Days: visit.Usual}
	if v.colonies() {
		days = visit.Settled
		n.Why = Reason{Cause: Colonies, Days: visit.Settled}
	}
	now := shareWithin(soonest, field, 0)
	for d := 1; d < days; d++ {
		if shareWithin(soonest, field, d) >= now+furtherShare {
			days = d
			n.Why = Reason{Cause: QuickGrowth, Share: furtherShare}
		}
	}
	n.GoBackBy = visit.After(v.Date, float64(days))
}

// whileTheMapIsGood brings the day to go back by forward to that until which the map of
// the last visit is good, as its verdict has it; of one that is good no longer, to the day
// after it.
func (n *Next) whileTheMapIsGood(v *Visit) {
	days := v.Assess.Days()
	if len(days) == 0 {
		return
	}
	l := v.Levels
	until := visit.After(days[0], visit.GoodFor(l.TreatAt, l.WatchAt, l.Doubling, visit.Usual))
	if until == "" {
		return
	}
	n.GoodUntil = until
	why := Reason{Cause: MapGoodUntil}
	if until <= v.Last {
		why.Cause = MapLook
	}
	if look := visit.NextLook(v.Last, math.Inf(1), until); look < n.GoBackBy {
		n.GoBackBy, n.Why = look, why
	}
}

// Heed takes in the day of the next look that the map of the last visit asks for, "" for
// none, and brings the day to go back by forward to it; and until when it says that it is
// good, "" where it does not.
func (n *Next) Heed(look, goodUntil string) {
	n.MapLook = look
	if goodUntil != "" {
		n.GoodUntil = goodUntil
	}
	if look != "" && look < n.GoBackBy {
		n.GoBackBy, n.Why = look, Reason{Cause: MapLook}
	}
}

// colonies reports whether the map has ground to treat, or to watch for more than
// being unscouted. Lines of zones are simplified, which adds some square metres to
// unscouted ground, so without a stop at the watch level less than the least patch,
// or than a hundredth of the unscouted ground, is no colony.
func (v *Visit) colonies() bool {
	const slack = 0.01
	m := v.Assess.Map
	if m.Zone(zones.Treat).Area > 0 || v.Assess.Max >= v.Levels.WatchAt {
		return true
	}
	return m.Zone(zones.Watch).Area-m.Unscouted > max(v.zoneSettings().MinArea, slack*m.Unscouted)
}

// shareWithin is the share of known nodes that reach the level within days.
func shareWithin(g interp.Grid, field orb.MultiPolygon, days int) float64 {
	var all, over float64
	for i := range change.NodesInside(g.Lattice, field) {
		switch v := g.Values[i]; {
		case math.IsNaN(v):
		case v <= float64(days):
			over++
			all++
		default:
			all++
		}
	}
	return over / max(1, all)
}

// A Forecast is the field as it would be on a day. It is no observation.
type Forecast struct {
	Date         string
	Basis        Basis   // the ground that the growth is measured on
	Odds         bool    // of shares, whose odds grow
	Days         float64 // after the last visit
	Visit        change.Visit
	Ground       map[zones.Class]orb.MultiPolygon // degrees
	Treat        float64                          // m² of treat ground, at the rate
	TreatSlowest float64                          // by the ends of its interval and the doubt of the map
	TreatQuick   float64
	TreatTreated float64 // m² of Treat in treated ground, at the rate
}

func (r *Result) forecast(f *Field) error {
	if r.Settings.Forecast == "" {
		return nil
	}
	day, err := dayNumber(r.Settings.Forecast)
	if err != nil {
		return err
	}
	last := f.Visits[len(f.Visits)-1]
	ahead := day - last.Grid.Day
	switch {
	case ahead <= 0:
		return fmt.Errorf("forecast for %s: the last visit was on %s; want a later day", r.Settings.Forecast, last.Date)
	case math.IsNaN(f.Next.Rate):
		f.Notes = append(f.Notes, Note{On: NoForecast})
		return nil
	case ahead > farForecast:
		f.Notes = append(f.Notes, Note{On: FarForecast, Days: ahead, Of: farForecast})
	}
	if _, ok := last.cuts(); !ok {
		f.Notes = append(f.Notes, Note{On: CutsDiffer, Date: last.Date})
	}
	if !f.Next.Trusted {
		f.Notes = append(f.Notes, Note{On: ForecastUnsure})
	}
	out := &Forecast{Date: r.Settings.Forecast, Basis: f.Next.Basis, Odds: f.Scale.Shares(), Days: ahead}
	quick, slow := f.Next.ends()
	set := last.zoneSettings()
	for _, part := range []struct {
		rate float64
		area *float64
	}{{slow, &out.TreatSlowest}, {quick, &out.TreatQuick}, {f.Next.Rate, &out.Treat}} {
		if out.Visit, err = change.Forecast(f.XY, last.Grid, part.rate, ahead, f.Scale, set); err != nil {
			return err
		}
		*part.area = out.Visit.Map.Zone(zones.Treat).Area
	}
	doubt(f, out)
	if out.TreatTreated, err = f.inTreated(out.Visit.Map); err != nil {
		return err
	}
	out.Ground = out.Visit.Map.LonLat(f.Frame)
	f.Forecast = out
	return nil
}

// doubt widens the range of a forecast by that of the map itself: by how many of the
// stops, grown alike, would be over.
func doubt(f *Field, out *Forecast) {
	over, field := 0, geo.Area(f.XY)
	for _, s := range out.Visit.Samples {
		if s.Value >= f.Levels().TreatAt {
			over++
		}
	}
	stops := fieldstats.AreaOver(over, len(out.Visit.Samples), field, out.Treat, forecastLevel)
	joined := change.InDoubt(out.Treat, field, change.Range{Low: out.TreatSlowest, High: out.TreatQuick}, change.Range(stops))
	out.TreatSlowest, out.TreatQuick = joined.Low, joined.High
}

// inTreated is how much of the treat ground of a map, in m², lies in ground that was
// treated between the last two visits or in the days before.
func (f *Field) inTreated(m *zones.Map) (float64, error) {
	last := f.Steps[len(f.Steps)-1]
	treated, err := f.parting(f.Visits[last.From], f.Visits[last.To]).all()
	if err != nil || treated == nil {
		return 0, err
	}
	c, err := change.Cover(f.XY, m, treated)
	return c.Hit, err
}
