package compare

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/change"
	"github.com/geocoris/geocoris/internal/paired"
	"github.com/geocoris/geocoris/internal/zones"
	"github.com/geocoris/geocoris/interp"
)

const (
	// usualVisit is the usual time to the next visit, and colonyVisit where the
	// pest has settled, as the verdict has them: extension advice for sorghum aphids
	// (every 3 to 4 days, Texas A&M AgriLife).
	usualVisit, colonyVisit = 7, 3
	// furtherShare of the field over the treat level is what one should not be
	// late for. Judgement, no source.
	furtherShare = 0.05
	// farForecast is how many days a forecast may look ahead without a warning:
	// twice the usual time between visits. Judgement, no source.
	farForecast = 14
)

// Next says when to look again, at the growth of the last step.
type Next struct {
	Rate     float64 // per day, of shares that of their odds; NaN where no growth is known
	Interval paired.Interval
	Trusted  bool // the growth stands out from the noise
	// FieldDays until the mean of the stops reaches the treat level: 0 where it
	// has, +Inf where it will not; at the rate, and at the two ends of its
	// interval.
	FieldDays, FieldSoonest, FieldLatest float64
	Days                                 interp.Grid // the same at every node
	Within                               []Ahead
	GoBackBy                             string // ISO 8601
	Why                                  string
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
	level := r.Levels.TreatAt
	quick, slow := n.ends()
	n.FieldDays = change.DaysTo(level, v.Assess.Mean, n.Rate, f.Scale)
	n.FieldSoonest = change.DaysTo(level, v.Assess.Mean, quick, f.Scale)
	n.FieldLatest = change.DaysTo(level, v.Assess.Mean, slow, f.Scale)
	n.Days = change.DaysToGrid(v.Grid, level, n.Rate, f.Scale)
	soonest := change.DaysToGrid(v.Grid, level, quick, f.Scale)
	for _, d := range []int{0, 3, usualVisit, 2 * usualVisit} {
		n.Within = append(n.Within, Ahead{d, shareWithin(n.Days, f.XY, d), shareWithin(soonest, f.XY, d)})
	}
	n.back(v, soonest, f.XY)
	return n
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
	days := usualVisit
	n.Why = fmt.Sprintf("the usual %d days", usualVisit)
	if v.Assess.Map.Zone(zones.Treat).Area > 0 || v.Assess.Map.Zone(zones.Watch).Area > v.Assess.Map.Unscouted {
		days = colonyVisit
		n.Why = fmt.Sprintf("colonies are there: %d days", colonyVisit)
	}
	now := shareWithin(soonest, field, 0)
	for d := 1; d < days; d++ {
		if shareWithin(soonest, field, d) >= now+furtherShare {
			days = d
			n.Why = fmt.Sprintf("at the quick end of the growth measured, which a map of one morning does not know, a further %.0f %% of the ground may reach the treat level by then", 100*furtherShare)
		}
	}
	n.GoBackBy = dayAfter(v.Date, float64(days))
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
	Odds         bool    // of shares, whose odds grow
	Days         float64 // after the last visit
	Visit        change.Visit
	Ground       map[zones.Class]orb.MultiPolygon // degrees
	Treat        float64                          // m² of treat ground, at the rate
	TreatSlowest float64                          // at the ends of its interval
	TreatQuick   float64
}

// Says is what must stand beside a forecast wherever it is shown.
func (f Forecast) Says() string {
	what := "everything grows"
	if f.Odds {
		what = "the odds of all shares grow"
	}
	return fmt.Sprintf("forecast for %s, not an observation: %s alike, nothing moves, nothing is sprayed", f.Date, what)
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
		f.Notes = append(f.Notes, "no growth is known, so there is no forecast")
		return nil
	case ahead > farForecast:
		f.Notes = append(f.Notes, fmt.Sprintf("the forecast looks %s ahead, more than %d: growth seldom lasts so long", days(ahead), farForecast))
	}
	if _, ok := last.cuts(); !ok {
		f.Notes = append(f.Notes, fmt.Sprintf("the zones of %s go by chance, those of the forecast by the counts at the levels: do not set their areas against each other", last.Date))
	}
	if !f.Next.Trusted {
		f.Notes = append(f.Notes, "the forecast rests on a growth that does not stand out from the noise")
	}
	out := &Forecast{Date: r.Settings.Forecast, Odds: f.Scale.Shares(), Days: ahead}
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
	out.Ground = out.Visit.Map.LonLat(f.Frame)
	f.Forecast = out
	return nil
}
