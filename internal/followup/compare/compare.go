// Package compare takes several mornings in the same fields to what a grower asks
// at the second one: what grew, what died, whether the spray worked, and when to
// look again. It knows the order of the steps; the measuring is done by change
// and paired.
//
// Visits are put in the order of their days. All are assessed with the same
// settings, so only the ground differs.
package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/interp"
)

// DefaultWithin is how far apart in metres two stops may lie and be one place:
// twice what two phones under open sky may disagree by ([layout.PhoneError] each).
const DefaultWithin = 15

// Settings say how visits are compared. The zero value is the documented default
// throughout.
type Settings struct {
	Within     float64 // metres between matched stops; 0 is 15
	ByName     bool    // match stops by their names, wherever they lie
	Chance     paired.Settings
	Forecast   string // ISO 8601 day to forecast; "" for none
	Treatments []Treatment
	Newest     string // day of the newest visit, be it to other fields; "" where none is told
	// Calibrated says whether the counts of an observer, by name, "" for rows that
	// tell none, were corrected by a calibration; nil is nobody.
	Calibrated func(observer string) bool
}

// A Treatment is a record of ground that was treated.
type Treatment struct {
	Date         string           // ISO 8601
	Ground       orb.MultiPolygon // degrees, valid
	Note         string
	ReentryHours float64 // as read off the label by the person; 0 where not given
}

// Validate reports settings that cannot be meant.
func (s Settings) Validate() error {
	if !(s.Within >= 0) || math.IsInf(s.Within, 0) {
		return fmt.Errorf("distance %g m to match stops: want a number of 0 or more", s.Within)
	}
	if s.Forecast != "" {
		if _, err := dayNumber(s.Forecast); err != nil {
			return fmt.Errorf("forecast: %w", err)
		}
	}
	for _, t := range s.Treatments {
		if _, err := dayNumber(t.Date); err != nil {
			return fmt.Errorf("treatment: %w", err)
		}
		if !(t.ReentryHours >= 0) || math.IsInf(t.ReentryHours, 0) {
			return fmt.Errorf("treatment of %s: re-entry after %g hours: want a number of 0 or more", t.Date, t.ReentryHours)
		}
	}
	return s.Chance.Validate()
}

// A Result is what several visits say of all fields.
type Result struct {
	Fields    []*Field
	Pest      string
	Statistic assess.Statistic
	Levels    assess.Levels // of the last day; of a field see [Field.Levels]
	Settings  Settings
	LeftOut   []LeftOut // fields that were scouted fewer than twice
	Notes     []string  // of those who ran it; none from here
}

// A Field is what several visits say of one field.
type Field struct {
	geo.Field
	Area         float64 // m²
	Visits       []*Visit
	Steps        []*Step // from each visit to the next
	Overall      *Step   // from the first to the last; nil where that is the only step
	Correlations []Correlation
	Tracks       *change.Tracks
	PestDays     CumulativePestDays
	Next         Next
	Behind       string    // day of the newest visit of all, where that did not come here; "" where it did
	Forecast     *Forecast // nil where none was asked for or none can be made
	Treatments   []TreatmentResult
	Again        *Again // nil where no treatment was so late that it counts
	Notes        []Note

	Frame geo.Frame
	XY    orb.MultiPolygon // metres
	// Scale is what growth is measured on: numbers, or the odds of shares in %. Its
	// least is half the smallest countable mean, or share.
	Scale paired.Scale

	sprays []sprayed // treatments that touch it
}

// Levels are those of the last visit: what is to come is judged by them.
func (f *Field) Levels() assess.Levels { return f.Visits[len(f.Visits)-1].Levels }

// CountAgain reports whether the map of the last visit was no longer good when other fields
// were counted after it: what it says to do is of another day.
func (f *Field) CountAgain() bool {
	return f.Next.GoodUntil != "" && f.Next.GoodUntil < f.Behind
}

// Overdue reports whether the day to go back by was past when other fields were counted.
func (f *Field) Overdue() bool { return f.Next.GoBackBy != "" && f.Next.GoBackBy < f.Behind }

// Several reports whether fields go by other levels than one another, as those of other
// growth stages do.
func (r *Result) Several() bool {
	return slices.ContainsFunc(r.Fields, func(f *Field) bool { return f.Levels() != r.Fields[0].Levels() })
}

// A Visit is one morning in one field.
type Visit struct {
	Date   string // of most stops, ISO 8601
	Last   string // of the last stops: what was sprayed that day or later, none of them has seen
	Assess *assess.Field
	Of     *assess.Result // that it is of
	Levels assess.Levels  // may go by the growth stage
	Grid   change.Visit

	last float64 // the day of Last
}

// CumulativePestDays are what the crop has had to bear over all visits, in counts per unit times
// days.
type CumulativePestDays struct {
	Stops   float64     // from the means of the stops
	Surface float64     // from the mean of the grid inside the field
	Grid    interp.Grid // NaN where a visit had no stop near
}

// Run compares the visits: results of assessing the same fields with the same
// settings, one for each visit, in any order, with their surfaces kept.
func Run(ctx context.Context, results []*assess.Result, set Settings) (*Result, error) {
	if err := set.Validate(); err != nil {
		return nil, err
	}
	if len(results) < 2 {
		return nil, errors.New("one visit is nothing to compare: want two or more")
	}
	if set.Within == 0 {
		set.Within = DefaultWithin
	}
	r := &Result{Pest: results[0].Survey.Pest, Statistic: results[0].Statistic, Levels: results[0].Levels, Settings: set}
	for _, other := range results {
		switch {
		case len(other.Fields) != len(results[0].Fields):
			return nil, errors.New("the visits were assessed with different fields")
		case other.Statistic != r.Statistic:
			return nil, fmt.Errorf("the visits were assessed by different statistics, %s and %s; assess all by one rule", r.Statistic, other.Statistic)
		case other.Several() && slices.ContainsFunc(other.Fields, func(f *assess.Field) bool { return f.Scouted() && f.Statistic != r.Statistic }):
			return nil, fmt.Errorf("the fields of %s were assessed by different statistics, as their growth stages ask: compare the fields of each stage by themselves", strings.Join(other.Survey.Dates, ", "))
		case !samePest(other.Survey.Pest, r.Pest):
			return nil, fmt.Errorf("the visits are of different pests, %q and %q: choose one with --pest", r.Pest, other.Survey.Pest)
		}
	}
	r.Levels = latest(results).Levels
	for i := range results[0].Fields {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		f, err := r.field(results, i)
		if err != nil {
			return nil, fmt.Errorf("field %q: %w", results[0].Fields[i].Name, err)
		}
		if n := len(f.Visits); n < 2 {
			r.LeftOut = append(r.LeftOut, LeftOut{f.Name, n})
			continue
		}
		r.Fields = append(r.Fields, f)
	}
	if len(r.Fields) > 0 && !r.Several() {
		r.Levels = r.Fields[0].Levels()
	}
	if len(r.Fields) == 0 {
		return nil, errors.New("no field was scouted on two days or more")
	}
	return r, nil
}

// latest is the result of the last day; levels may go by the growth stage, and what
// is to come is judged by the last.
func latest(results []*assess.Result) *assess.Result {
	last, day := results[0], ""
	for _, r := range results {
		if n := len(r.Survey.Dates); n > 0 && r.Survey.Dates[n-1] >= day {
			last, day = r, r.Survey.Dates[n-1]
		}
	}
	return last
}

func samePest(a, b string) bool {
	return strings.EqualFold(a, b) || assess.IsSorghumAphid(a) && assess.IsSorghumAphid(b)
}

// field compares one field; with fewer than two visits nothing is measured.
func (r *Result) field(results []*assess.Result, i int) (f *Field, err error) {
	f = &Field{Field: results[0].Fields[i].Field, Area: results[0].Fields[i].Area}
	for _, result := range results {
		if !result.Fields[i].Scouted() {
			continue
		}
		v, err := f.visit(result.Fields[i])
		if err != nil {
			return nil, err
		}
		v.Of = result.Of(result.Fields[i])
		v.Levels = v.Of.Levels
		f.Visits = append(f.Visits, v)
	}
	if len(f.Visits) < 2 {
		return f, nil
	}
	slices.SortStableFunc(f.Visits, func(a, b *Visit) int { return strings.Compare(a.Date, b.Date) })
	for k := 1; k < len(f.Visits); k++ {
		if f.Visits[k].Date == f.Visits[k-1].Date {
			return nil, fmt.Errorf("%s and %s: two visits on %s in field %q: put them into one file if they are one walk, or correct the day of one",
				filesOf(f.Visits[k-1]), filesOf(f.Visits[k]), f.Visits[k].Date, f.Name)
		}
	}
	f.Scale = scaleOf(f.Visits, r.Statistic)
	return f, r.measure(f)
}

// filesOf are the files of a visit's counts, in their order.
func filesOf(v *Visit) string {
	var names []string
	for _, s := range v.Assess.Stops {
		for i := range s.Records {
			if name := s.Records[i].File; !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return strings.Join(names, ", ")
}

// visit lays one morning on the field's lattice.
func (f *Field) visit(a *assess.Field) (*Visit, error) {
	date, last, err := dayOf(a.Stops)
	if err != nil {
		return nil, err
	}
	if len(a.Days()) > 1 {
		f.Notes = append(f.Notes, Note{On: SeveralDays, Date: date})
	}
	if n := a.MarkedExtra(); n > 0 {
		f.Notes = append(f.Notes, Note{On: ExtraStops, Date: date, N: n})
	}
	for _, t := range a.Together {
		f.Notes = append(f.Notes, Note{On: StandTogether, Date: date, Stop: a.Stops[t.At].Name, Together: &t})
	}
	ground, err := a.Metric()
	if err != nil {
		return nil, err
	}
	f.Frame, f.XY = ground.Frame, ground.XY
	number, err := dayNumber(date)
	if err != nil {
		return nil, err
	}
	lastNumber, err := dayNumber(last)
	if err != nil {
		return nil, err
	}
	return &Visit{Date: date, Last: last, last: lastNumber, Assess: a, Grid: change.Visit{
		Day: number, Surface: ground.Surface, Samples: ground.Samples, Map: a.Map, Reach: a.Settings.Reach,
	}}, nil
}

// scaleOf is the scale of numbers, or of shares.
func scaleOf(visits []*Visit, stat assess.Statistic) paired.Scale {
	units := 0.0
	for _, v := range visits {
		for _, s := range v.Assess.Stops {
			units = max(units, s.Units)
		}
	}
	if stat.Share() {
		const all = 100 // %
		// The share of a stop with one unit is 0 or all: a quarter keeps them apart.
		return paired.Scale{Least: min(all/units/2, all/4.0), Whole: all}
	}
	return paired.Scale{Least: 0.5 / units}
}

// measure fills in everything once the visits are in order.
func (r *Result) measure(f *Field) error {
	if err := r.spray(f); err != nil {
		return err
	}
	for k := 1; k < len(f.Visits); k++ {
		s, err := r.step(f, k-1, k)
		if err != nil {
			return err
		}
		f.Steps = append(f.Steps, s)
	}
	if len(f.Visits) > 2 {
		s, err := r.step(f, 0, len(f.Visits)-1)
		if err != nil {
			return err
		}
		f.Overall = s
	}
	var err error
	if f.Correlations, err = r.correlate(f); err != nil {
		return err
	}
	if f.Tracks, err = change.Track(f.XY, f.grids()); err != nil {
		return err
	}
	if f.PestDays, err = f.cumulativePestDays(); err != nil {
		return err
	}
	f.Next = r.next(f)
	if f.Visits[len(f.Visits)-1].Last < r.Settings.Newest {
		f.Behind = r.Settings.Newest
	}
	f.sayTreated()
	if err := r.forecast(f); err != nil {
		return err
	}
	r.treatments(f)
	f.Again, err = f.again()
	return err
}

func (f *Field) grids() []change.Visit {
	out := make([]change.Visit, len(f.Visits))
	for i, v := range f.Visits {
		out[i] = v.Grid
	}
	return out
}

func (f *Field) cumulativePestDays() (b CumulativePestDays, err error) {
	var days, means []float64
	for _, v := range f.Visits {
		days, means = append(days, v.Grid.Day), append(means, v.Assess.Mean)
	}
	if b.Stops, err = change.PestDays(days, means); err != nil {
		return b, err
	}
	if b.Grid, err = change.PestDaysGrid(f.grids()); err != nil {
		return b, err
	}
	b.Surface = change.Mean(b.Grid, f.XY)
	return b, nil
}

// cuts are the values of the counts' surface that a visit's zones are cut at: below
// the levels where a share of the ground over them is to be caught. ok is false
// where the zones go by chance.
func (v *Visit) cuts() (cuts zones.Levels, ok bool) {
	if c := v.Assess.Chance; c != nil && c.BySurface {
		return v.Levels.Levels, false
	}
	return v.Assess.Settings.Levels, true
}

// zoneSettings are those that a visit's map was built with; where it went by chance
// they cut the counts at the levels, as a forecast has no chances.
func (v *Visit) zoneSettings() zones.Settings {
	u := v.Assess.Settings
	cuts, _ := v.cuts()
	return zones.Settings{Levels: cuts, Reach: u.Reach, Margin: u.Margin, MinArea: u.MinArea, Simplify: u.Simplify}
}
