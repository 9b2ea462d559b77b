package compare_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// frame puts the invented fields of these tests somewhere.
func frame(t testing.TB) geo.Frame {
	f, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	return f
}

// square is an invented field of 400 m by 400 m about the frame's centre.
func square(t testing.TB) geo.Field {
	xy := orb.MultiPolygon{{{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}, {-200, -200}}}}
	return geo.Field{Name: "Square", Boundary: frame(t).InversePolygons(xy)}
}

// stop is an invented count at a place of the square field.
type stop struct{ x, y, value float64 }

// assessed maps invented stops of a day.
func assessed(t testing.TB, date string, stops []stop, set assess.Settings) *assess.Result {
	t.Helper()
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves,date\n")
	for i, s := range stops {
		p := frame(t).Inverse(orb.Point{s.x, s.y})
		fmt.Fprintf(&b, "%d,%.9f,%.9f,%g,10,%s\n", i+1, p[0], p[1], math.Round(s.value*10), date)
	}
	counts, err := survey.Read(given.Table(b.String()), survey.Options{})
	require.NoError(t, err)
	set.KeepSurface = true
	r, err := assess.Run(t.Context(), []geo.Field{square(t)}, counts, set)
	require.NoError(t, err)
	return r
}

// lattice gives a stop every step metres, with values of a truth.
func lattice(step float64, truth func(x, y float64) float64) (out []stop) {
	for y := -200 + step/2; y < 200; y += step {
		for x := -200 + step/2; x < 200; x += step {
			out = append(out, stop{x, y, truth(x, y)})
		}
	}
	return out
}

func files(t testing.TB, fieldFile string, samples ...string) ([]geo.Field, []*survey.Survey) {
	t.Helper()
	c, err := geofile.Read(fieldFile, geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	var surveys []*survey.Survey
	for _, name := range samples {
		s, err := survey.Read(given.Files(t, name), survey.Options{})
		require.NoError(t, err)
		surveys = append(surveys, s)
	}
	return fields, surveys
}

func assessAll(t testing.TB, fields []geo.Field, surveys []*survey.Survey, set assess.Settings) (out []*assess.Result) {
	t.Helper()
	for _, s := range surveys {
		set.KeepSurface = true
		r, err := assess.Run(t.Context(), fields, s, set)
		require.NoError(t, err)
		out = append(out, r)
	}
	return out
}

// An invented patch, over 40 per leaf within its radius, grows 65 % of its area in
// a week (Backoulou et al. 2018, Southwest. Entomol. 43:823–832) and moves 30 m to
// the north-east. Counted every 12.5 m it keeps its number, the area is within 5 %
// and the bearing within 5°.
func TestAPatchIsFollowedFromCounts(t *testing.T) {
	patch := func(at, radius float64) func(x, y float64) float64 {
		return func(x, y float64) float64 { return max(0.1, 40*(2-math.Hypot(x-at, y-at)/radius)) }
	}
	const first = 60.0
	second := first * math.Sqrt(1.65)
	shift := 30 / math.Sqrt2
	r, err := compare.Run(t.Context(), []*assess.Result{
		assessed(t, "2031-08-14", lattice(12.5, patch(-40, first)), assess.Settings{}),
		assessed(t, "2031-08-21", lattice(12.5, patch(-40+shift, second)), assess.Settings{}),
	}, compare.Settings{})
	require.NoError(t, err)
	tracks := r.Fields[0].Tracks
	require.Len(t, tracks.Steps, 1)
	s := tracks.Steps[0]
	t.Logf("areas %.0f (truth %.0f) and %.0f (truth %.0f) m², moved %.1f m at %.1f°",
		s.Before, math.Pi*first*first, s.After, math.Pi*second*second, s.Metres, s.Bearing)
	assert.Equal(t, 1, s.ID)
	assert.Equal(t, change.Grew, s.Event)
	assert.InEpsilon(t, math.Pi*first*first, s.Before, 0.05)
	assert.InEpsilon(t, math.Pi*second*second, s.After, 0.05)
	assert.InDelta(t, 30, s.Metres, 3)
	assert.InDelta(t, 45, s.Bearing, 5)
}

// Six weeks of arthropods: fifteen rank correlations as R gives them, and every
// table adds up.
func TestSixWeeksOfArthropods(t *testing.T) {
	fields, surveys := files(t, testkit.Shared(t, "data", "insect-counts", "boundary_rect_anchored.geojson"),
		testkit.Shared(t, "data", "insect-counts", "arthropods_lonlat_anchored.csv"))
	days, without := compare.ByDay(surveys[0])
	require.Len(t, days, 6)
	assert.Empty(t, without)
	set := assess.Settings{Levels: assess.LevelSettings{TreatAt: 40, WatchAt: 20}, Statistic: assess.Statistic{Unit: "trap"}}
	r, err := compare.Run(t.Context(), assessAll(t, fields, days, set), compare.Settings{})
	require.NoError(t, err)
	f := r.Fields[0]
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "arthropods_week_correlations.csv"))
	require.Len(t, f.Correlations, table.Len())
	for row, c := range f.Correlations {
		want, _ := table.Number(t, row, "spearman_rho")
		assert.Equal(t, table.Text(t, row, "week_a"), fmt.Sprint(c.From+1))
		assert.Equal(t, table.Text(t, row, "week_b"), fmt.Sprint(c.To+1))
		assert.InDelta(t, want, c.Stops.Rho, 1e-12)
		assert.Equal(t, 63, c.Stops.N)
		assert.Greater(t, c.Surface.N, 1000)
		assert.True(t, c.Surface.Rho > -1 && c.Surface.Rho < 1)
	}
	for _, s := range append(f.Steps, f.Overall) {
		assert.InEpsilon(t, f.Area, s.Table.Total(), 1e-9)
		for _, c := range zones.Classes() {
			assert.InDelta(t, f.Visits[s.From].Assess.Map.Zone(c).Area, s.Table.From(c), 1e-8*f.Area)
			assert.InDelta(t, f.Visits[s.To].Assess.Map.Zone(c).Area, s.Table.To(c), 1e-8*f.Area)
		}
	}
}

func TestTheDemonstration(t *testing.T) {
	demo := func(name string) string { return testkit.Testdata(t, "demo", name) }
	fields, surveys := files(t, demo("field.geojson"), demo("week3.csv"), demo("week1.csv"), demo("week2.csv"))
	r, err := compare.Run(t.Context(), assessAll(t, fields, surveys, assess.Settings{}), compare.Settings{Forecast: "2026-07-25"})
	require.NoError(t, err)
	require.NotEmpty(t, r.Fields)
	for _, f := range r.Fields {
		for k := 1; k < len(f.Visits); k++ {
			assert.Less(t, f.Visits[k-1].Date, f.Visits[k].Date, "visits stand in the order of their days")
		}
		for _, s := range f.Steps {
			t.Logf("%s %s → %s: %+v; %v", f.Name, f.Visits[s.From].Date, f.Visits[s.To].Date, s.Change, s.Unlike)
		}
		t.Logf("%s: pest-days %.0f (surface %.0f); go back by %s: %+v; forecast %+.0f", f.Name, f.PestDays.Stops, f.PestDays.Surface, f.Next.GoBackBy, f.Next.Why, f.Forecast.Treat)
		assert.LessOrEqual(t, f.Forecast.TreatSlowest, f.Forecast.Treat)
		assert.LessOrEqual(t, f.Forecast.Treat, f.Forecast.TreatQuick)
	}
	again, err := compare.Run(t.Context(), assessAll(t, fields, surveys, assess.Settings{}), compare.Settings{Forecast: "2026-07-25"})
	require.NoError(t, err)
	for i := range r.Fields {
		for k := range r.Fields[i].Steps {
			assert.Equal(t, r.Fields[i].Steps[k].Change, again.Fields[i].Steps[k].Change)
		}
	}
}

// Two visits of one invented truth to maps, with the counts Poisson: stands out in
// at most one of twenty.
func TestTheSameTruthTwice(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	truth := func(x, y float64) float64 { return 2 + 20*math.Exp(-(x*x+y*y)/8000) }
	noisy := func(x, y float64) float64 {
		m := truth(x, y) * 10
		return max(0, math.Round(m+math.Sqrt(m)*rng.NormFloat64())) / 10
	}
	const runs = 20
	out := 0
	for range runs {
		r, err := compare.Run(t.Context(), []*assess.Result{
			assessed(t, "2031-08-14", lattice(80, noisy), assess.Settings{}),
			assessed(t, "2031-08-21", lattice(80, noisy), assess.Settings{}),
		}, compare.Settings{Chance: paired.Settings{Permutations: 999, Resamples: 199}})
		require.NoError(t, err)
		s := r.Fields[0].Steps[0]
		if s.Change.StandsOut {
			out++
		}
	}
	assert.LessOrEqual(t, out, 4, "of 20 at 5 %%: five or more have a chance of 0.3 %%")
}

// Invented: the west half sprayed, everything outside doubled, inside a tenth of
// what it would be; so Henderson–Tilton must say 90 %.
func TestTheSprayInTheWest(t *testing.T) {
	before := func(x, y float64) float64 { return 20 + 5*math.Sin(x/40)*math.Cos(y/30) }
	after := func(x, y float64) float64 {
		if x < 0 {
			return before(x, y) * 2 * 0.1
		}
		return before(x, y) * 2
	}
	west := frame(t).InversePolygons(orb.MultiPolygon{{{{-250, -250}, {0, -250}, {0, 250}, {-250, 250}, {-250, -250}}}})
	first := assessed(t, "2031-08-14", lattice(40, before), assess.Settings{Levels: assess.LevelSettings{TreatAt: 22}})
	second := assessed(t, "2031-08-21", lattice(40, after), assess.Settings{Levels: assess.LevelSettings{TreatAt: 22}})
	r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{
		Treatments: []compare.Treatment{{Date: "2031-08-15", Ground: west, ReentryHours: 24}},
	})
	require.NoError(t, err)
	f := r.Fields[0]
	require.Len(t, f.Treatments, 1)
	got := f.Treatments[0]
	require.NotNil(t, got.Efficacy, got.Why)
	assert.Equal(t, "Henderson–Tilton", got.Efficacy.Formula)
	assert.InDelta(t, 90, got.Efficacy.Percent, 1)
	assert.LessOrEqual(t, got.Efficacy.Interval.Low, 90.5)
	assert.Equal(t, 50, got.Inside)
	assert.Equal(t, 50, got.Outside)
	treat := f.Visits[0].Assess.Map.Zone(zones.Treat).Area
	assert.InEpsilon(t, treat, got.Coverage.Hit+got.Coverage.Missed, 1e-8)
	assert.InEpsilon(t, 200*400, got.Coverage.Treated, 1e-6)
	assert.Greater(t, got.Coverage.Missed, 0.0)
	assert.Equal(t, 24.0, got.ReentryHours)

	r, err = compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{
		Treatments: []compare.Treatment{{Date: "2031-08-10", Ground: west}},
	})
	require.NoError(t, err)
	got = r.Fields[0].Treatments[0]
	assert.Equal(t, "Abbott", got.Efficacy.Formula, "no visit before it")
	assert.Nil(t, got.Coverage)
	assert.Zero(t, got.ReentryHours, "none is preset")
}

// Two invented passes overlap by 50 m of 200: the ground between is treated once.
func TestPassesMayOverlap(t *testing.T) {
	pass := func(from, to float64) orb.Polygon {
		return orb.Polygon{{{from, -100}, {to, -100}, {to, 100}, {from, 100}, {from, -100}}}
	}
	both := frame(t).InversePolygons(orb.MultiPolygon{pass(-150, 50), pass(0, 150)})
	features := []geo.Feature{{Geometry: both[0]}, {Geometry: both[1], Properties: geo.Properties{{Name: "reentry_hours", Value: int64(12)}}}}
	treatments, err := compare.Treatments(features, "2031-08-15")
	require.NoError(t, err)
	require.Len(t, treatments, 1, "features of one day and note are one treatment")
	assert.Equal(t, 12.0, treatments[0].ReentryHours)
	some := lattice(50, func(x, y float64) float64 { return 5 + x/100 })
	r, err := compare.Run(t.Context(), []*assess.Result{
		assessed(t, "2031-08-14", some, assess.Settings{}), assessed(t, "2031-08-21", some, assess.Settings{}),
	}, compare.Settings{Treatments: treatments})
	require.NoError(t, err)
	assert.InEpsilon(t, 300*200, r.Fields[0].Treatments[0].Coverage.Treated, 1e-6)
}

// An invented field of 400 m falls from 100 to 5 everywhere but in a strip, sprayed
// in loads: the west to x = 0, the east from there on.
func TestOtherTreatmentsAreNoCheck(t *testing.T) {
	box := func(from, to float64) orb.Polygon {
		return frame(t).InversePolygons(orb.MultiPolygon{{{{from, -250}, {to, -250}, {to, 250}, {from, 250}, {from, -250}}}})[0]
	}
	load := func(from, to float64, date, note string) geo.Feature {
		return geo.Feature{Geometry: box(from, to), Properties: geo.Properties{{Name: "date", Value: date}, {Name: "note", Value: note}}}
	}
	before := func(x, y float64) float64 { return 100 + 5*math.Sin(x/40)*math.Cos(y/30) }
	const strip = 120 // from here on east nothing was sprayed, where the check is
	fell := func(x, y float64) float64 { return before(x, y) / 20 }
	strips := func(x, y float64) float64 {
		if x > strip {
			return before(x, y)
		}
		return fell(x, y)
	}
	const day, later = "2031-08-15", "2031-08-18"
	other := load(600, 700, day, "another field")
	for _, c := range []struct {
		name     string
		features []geo.Feature
		after    func(x, y float64) float64
		first    string // day of the first visit
		inside   []int  // stops of 100, of each treatment
		outside  []int
		efficacy float64 // NaN where there is no check
		gap      compare.Gap
		note     compare.Note
	}{
		{"two loads of one day", []geo.Feature{load(-250, 0, day, ""), load(0, 250, day, "")}, fell, "2031-08-14",
			[]int{100}, []int{0}, math.NaN(), compare.NoCheck, compare.Note{}},
		{"not beside one another in the file", []geo.Feature{load(-250, 0, day, ""), other, load(0, 250, day, "")}, fell, "2031-08-14",
			[]int{100}, []int{0}, math.NaN(), compare.NoCheck, compare.Note{}},
		{"two notes", []geo.Feature{load(-250, 0, day, "load 1"), load(0, 250, day, "load 2")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-15", "load 1", 50)},
		{"two days between the visits", []geo.Feature{load(-250, 0, day, ""), load(0, 250, later, "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-18", "", 50)},
		{"one on the day of the first count, made before it", []geo.Feature{load(-250, 0, "2031-08-14", ""), load(0, 250, later, "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-18", "", 50)},
		{"the other on the day of the first count", []geo.Feature{load(-250, 0, day, ""), load(0, 250, "2031-08-14", "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-15", "", 50)},
		{"two loads and a strip", []geo.Feature{load(-250, 0, day, "load 1"), load(0, strip, later, "load 2")}, strips, "2031-08-14",
			[]int{50, 30}, []int{20, 20}, 95, 0, outside("2031-08-15", "load 1", 30)},
		{"a treatment before the first visit is history", []geo.Feature{load(-250, strip, day, ""), load(strip, 250, "2031-08-10", "")}, strips, "2031-08-14",
			[]int{80, 20}, []int{20, 80}, 95, 0, compare.Note{}},
		{"no visit before", []geo.Feature{load(-250, 0, day, ""), load(0, 250, "2031-08-10", "")}, fell, "2031-08-22",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoneBefore, outside("2031-08-10", "", 50)},
		{"twice the same ground", []geo.Feature{load(-250, strip, day, ""), load(-250, strip, later, "")}, strips, "2031-08-14",
			[]int{80, 80}, []int{20, 20}, 95, 0, compare.Note{On: compare.InsideAlsoTreated, N: 80, Of: 80, Date: day}},
	} {
		t.Run(c.name, func(t *testing.T) {
			treatments, err := compare.Treatments(c.features, "")
			require.NoError(t, err)
			first, second := assessed(t, c.first, lattice(40, before), assess.Settings{}), assessed(t, "2031-08-21", lattice(40, c.after), assess.Settings{})
			r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Treatments: treatments})
			require.NoError(t, err)
			f := r.Fields[0]
			var single []compare.Treatment // as a season holds them
			for _, feature := range c.features {
				one, err := compare.Treatments([]geo.Feature{feature}, "")
				require.NoError(t, err)
				single = append(single, one...)
			}
			again, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Treatments: single})
			require.NoError(t, err)
			assert.Equal(t, f.Treatments, again.Fields[0].Treatments)
			require.Len(t, f.Treatments, len(c.inside))
			for i, got := range f.Treatments {
				assert.Equal(t, c.inside[i], got.Inside)
				assert.Equal(t, c.outside[i], got.Outside)
				assert.Equal(t, 100, got.Inside+got.Outside+got.LeftOut)
			}
			got := f.Treatments[0]
			if math.IsNaN(c.efficacy) {
				assert.Nil(t, got.Efficacy)
				require.NotNil(t, got.Why)
				assert.Equal(t, c.gap, got.Why.Gap)
				if c.gap == compare.NoCheck {
					assert.InDelta(t, 95, got.Why.Percent, 0.5)
				}
			} else {
				require.NotNil(t, got.Efficacy, got.Why)
				assert.InDelta(t, c.efficacy, got.Efficacy.Percent, 0.5)
			}
			if c.note.On != 0 {
				assert.True(t, slices.ContainsFunc(f.Notes, func(n compare.Note) bool {
					return n.On == c.note.On && n.Treatment.Date == c.note.Date && n.N == c.note.N && n.Of == c.note.Of &&
						n.Treatment.Note == c.note.Treatment.Note
				}), "%+v", c.note)
			}
		})
	}
}

// The day of a count is no day of a treatment, whatever an earlier hand-off called it.
func TestTheDayOfTheCountIsNotTaken(t *testing.T) {
	ground := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
	p := func(more ...string) (p geo.Properties) {
		for i := 0; i < len(more); i += 2 {
			p = append(p, geo.Property{Name: more[i], Value: more[i+1]})
		}
		return p
	}
	for name, properties := range map[string]geo.Properties{
		"of now": p("kind", "swath", "counted", "2031-08-14", "spray_on", "2031-08-16"), "of before": p("kind", "ground", "date", "2031-08-14"),
		"a date added": p("kind", "swath", "counted", "2031-08-14", "date", "2031-08-15"),
	} {
		treatments, err := compare.Treatments([]geo.Feature{{Geometry: ground, Properties: properties}}, "2031-08-15")
		require.NoError(t, err, name)
		assert.Equal(t, "2031-08-15", treatments[0].Date, name)
	}
	_, err := compare.Treatments([]geo.Feature{{Geometry: ground, Properties: p("kind", "ground", "date", "2031-08-14")}}, "")
	assert.ErrorContains(t, err, "does not tell its day")
	_, err = compare.Treatments([]geo.Feature{{Geometry: ground, Properties: p("date", "2031-08-14")}}, "2031-08-15")
	assert.ErrorContains(t, err, "2031-08-14, and --treated-on says 2031-08-15")
}

func TestTreatmentsRefuse(t *testing.T) {
	ground := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
	for _, c := range []struct {
		name string
		f    geo.Feature
		want string
	}{
		{"a point", geo.Feature{Geometry: orb.Point{1, 2}}, "no polygon"},
		{"no day", geo.Feature{Geometry: ground}, "--treated-on"},
		{"no such day", geo.Feature{Geometry: ground, Properties: geo.Properties{{Name: "date", Value: "2031-02-30"}}}, "2031-02-30"},
		{"hours in words", geo.Feature{Geometry: ground, Properties: geo.Properties{{Name: "date", Value: "2031-02-03"}, {Name: "reentry_hours", Value: "a day"}}}, "want a number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := compare.Treatments([]geo.Feature{c.f}, "")
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// noisy is a patch of invented numbers over 40 per leaf with scatter between stops.
func noisy(seed uint64) []stop {
	rng := rand.New(rand.NewPCG(seed, 2))
	return lattice(50, func(x, y float64) float64 {
		return math.Exp(rng.NormFloat64()/2) * max(0.5, 90*(1-math.Hypot(x+30, y-20)/160))
	})
}

// Where nothing grows a forecast is the last map, also where that is cut to catch a
// share of the ground over the level.
func TestForecastKeepsTheCutOfACatch(t *testing.T) {
	caught := assess.Settings{Chance: assess.ChanceSettings{Catch: 0.95}}
	for name, c := range map[string]struct {
		set  assess.Settings
		note bool
	}{
		"at the level": {assess.Settings{}, false},
		"catch":        {caught, false},
		"by chance":    {assess.Settings{Chance: assess.ChanceSettings{Surface: true}}, true},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := compare.Run(t.Context(), []*assess.Result{
				assessed(t, "2031-08-14", noisy(7), c.set), assessed(t, "2031-08-21", noisy(7), c.set),
			}, compare.Settings{Forecast: "2031-08-25"})
			require.NoError(t, err)
			f := r.Fields[0]
			last := f.Visits[1].Assess
			require.Zero(t, f.Next.Rate)
			noted := slices.ContainsFunc(f.Notes, func(n compare.Note) bool { return n.On == compare.CutsDiffer })
			if c.note {
				plain := assessed(t, "2031-08-21", noisy(7), assess.Settings{}).Fields[0]
				assert.InEpsilon(t, plain.Map.Zone(zones.Treat).Area, f.Forecast.Treat, 1e-9, "the counts cut at the level")
				assert.Contains(t, f.Notes, compare.Note{On: compare.CutsDiffer, Date: "2031-08-21"})
				return
			}
			assert.False(t, noted)
			assert.InEpsilon(t, last.Map.Zone(zones.Treat).Area, f.Forecast.Treat, 1e-9)
			assert.InEpsilon(t, last.Map.Zone(zones.Watch).Area, f.Forecast.Visit.Map.Zone(zones.Watch).Area, 1e-9)
			assert.Equal(t, name == "catch", last.Settings.Levels.TreatAt < r.Levels.TreatAt)
		})
	}
	r, err := compare.Run(t.Context(), []*assess.Result{
		assessed(t, "2031-08-14", noisy(7), caught), assessed(t, "2031-08-21", noisy(8), caught),
	}, compare.Settings{})
	require.NoError(t, err)
	assert.Equal(t, compare.CutValues, r.Fields[0].Steps[0].Unlike[0].In)
}

// Invented shares of ten leaves with one aphid or more: 30 % and a week later 50 %,
// odds of 3/7 and 1, so doubling every 5.7 days: four weeks on no forecast passes
// 100 %, where numbers that grow so would make 386.
func TestSharesAreForecastByTheirOdds(t *testing.T) {
	morning := func(date string, infested func(x float64) int) *assess.Result {
		var b strings.Builder
		b.WriteString("stop,plant,longitude,latitude,count,leaves,date\n")
		for i, s := range lattice(50, func(x, y float64) float64 { return x }) {
			p := frame(t).Inverse(orb.Point{s.x, s.y})
			for leaf := range 10 {
				count := 0
				if leaf < infested(s.x) {
					count = 3
				}
				fmt.Fprintf(&b, "%d,%d,%.9f,%.9f,%d,1,%s\n", i+1, leaf, p[0], p[1], count, date)
			}
		}
		counts, err := survey.Read(given.Table(b.String()), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), []geo.Field{square(t)}, counts, assess.Settings{
			KeepSurface: true,
			Statistic:   assess.Statistic{Unit: "leaf", Tally: 1}, Levels: assess.LevelSettings{TreatAt: 80, WatchAt: 40},
		})
		require.NoError(t, err)
		return r
	}
	r, err := compare.Run(t.Context(), []*assess.Result{
		morning("2031-08-14", func(x float64) int { return 3 + int(math.Copysign(1, x)) }), // 20 and 40 %
		morning("2031-08-21", func(x float64) int { return 5 + int(math.Copysign(1, x)) }), // 40 and 60 %
	}, compare.Settings{Forecast: "2031-09-18"})
	require.NoError(t, err)
	f := r.Fields[0]
	require.InDelta(t, 30, f.Visits[0].Assess.Mean, 1e-9)
	require.InDelta(t, 50, f.Visits[1].Assess.Mean, 1e-9)
	rate := math.Log(0.7/0.3) / 7
	assert.InDelta(t, rate, f.Next.Rate, 1e-9, "odds from 3/7 to 1")
	assert.True(t, f.Steps[0].Change.Odds)
	assert.InDelta(t, math.Log(4)/rate, f.Next.FieldDays, 1e-9, "odds from 1 to 4")
	for i, v := range f.Forecast.Visit.Surface.Value.Values {
		require.False(t, v > 100, "%g %% at node %d", v, i)
	}
	assert.Greater(t, f.Forecast.Visit.Map.Zone(zones.Treat).Mean, 80.0)
	assert.LessOrEqual(t, f.Forecast.Visit.Map.Zone(zones.Treat).Mean, 100.0)
	assert.True(t, f.Forecast.Odds)
	for i, d := range f.Next.Days.Values {
		if v := f.Visits[1].Grid.Surface.Value.Values[i]; !math.IsNaN(d) && v < 80 {
			require.InDelta(t, (math.Log(4)-math.Log(v/(100-v)))/rate, d, 1e-6)
		}
	}
}

func TestWarningsNameWhatDiffers(t *testing.T) {
	csv := func(date, observer, stage, leaf string, leaves int) string {
		var b strings.Builder
		b.WriteString("stop,longitude,latitude,count,leaves,date,observer,stage,leaf\n")
		for i := range 12 {
			p := frame(t).Inverse(orb.Point{float64(i%4)*80 - 120, float64(i/4)*80 - 80})
			fmt.Fprintf(&b, "%d,%.9f,%.9f,%d,%d,%s,%s,%s,%s\n", i, p[0], p[1], 10*(i+1), leaves, date, observer, stage, leaf)
		}
		return b.String()
	}
	var results []*assess.Result
	for _, text := range []string{csv("2031-08-14", "scout A", "4", "top", 10), csv("2031-08-21", "scout B", "5", "middle", 8)} {
		s, err := survey.Read(given.Table(text), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), []geo.Field{square(t)}, s, assess.Settings{KeepSurface: true})
		require.NoError(t, err)
		results = append(results, r)
	}
	unlike := func(calibrated ...string) []compare.Unlike {
		r, err := compare.Run(t.Context(), results, compare.Settings{Calibrated: func(name string) bool { return slices.Contains(calibrated, name) }})
		require.NoError(t, err)
		return r.Fields[0].Steps[0].Unlike
	}
	others := []compare.Unlike{
		{In: compare.LeafRules, Before: "top", After: "middle"}, {In: compare.Stages, Before: "4", After: "5"}, {In: compare.Effort, BeforeN: 10, AfterN: 8},
	}
	eyes := func(without ...string) compare.Unlike {
		return compare.Unlike{In: compare.Observers, Before: "scout A", After: "scout B", Uncalibrated: without}
	}
	assert.Equal(t, append([]compare.Unlike{eyes("scout B")}, others...), unlike("scout A"))
	assert.Equal(t, others, unlike("scout A", "scout B"))
	r, err := compare.Run(t.Context(), results, compare.Settings{})
	require.NoError(t, err)
	assert.Equal(t, eyes("scout A", "scout B"), r.Fields[0].Steps[0].Unlike[0])
}

func TestLevelsMayGoByTheStage(t *testing.T) {
	some := lattice(50, func(x, y float64) float64 { return 5 + x/20 })
	a := assessed(t, "2031-08-14", some, assess.Settings{Levels: assess.LevelSettings{TreatAt: 10, WatchAt: 5}})
	b := assessed(t, "2031-08-21", some, assess.Settings{Levels: assess.LevelSettings{TreatAt: 12, WatchAt: 5}})
	r, err := compare.Run(t.Context(), []*assess.Result{b, a}, compare.Settings{})
	require.NoError(t, err)
	assert.Equal(t, 12.0, r.Levels.TreatAt, "what is to come is judged by the last")
	assert.Equal(t, []compare.Unlike{{In: compare.LevelPairs}}, r.Fields[0].Steps[0].Unlike)
}

func TestRunRefuses(t *testing.T) {
	some := lattice(100, func(x, y float64) float64 { return 5 })
	a, b := assessed(t, "2031-08-14", some, assess.Settings{}), assessed(t, "2031-08-21", some, assess.Settings{})
	other := assessed(t, "2031-08-21", some, assess.Settings{Statistic: assess.Statistic{Unit: "plant"}, Levels: assess.LevelSettings{TreatAt: 40}})
	undated := assessed(t, "", some, assess.Settings{})
	for _, c := range []struct {
		name    string
		results []*assess.Result
		set     compare.Settings
		want    string
	}{
		{"one visit", []*assess.Result{a}, compare.Settings{}, "two or more"},
		{"one day twice", []*assess.Result{a, a}, compare.Settings{}, "two visits on 2031-08-14"},
		{"another statistic", []*assess.Result{a, other}, compare.Settings{}, "different statistics"},
		{"no days", []*assess.Result{a, undated}, compare.Settings{}, "--dates"},
		{"forecast of the past", []*assess.Result{a, b}, compare.Settings{Forecast: "2031-08-21"}, "later day"},
		{"forecast of no day", []*assess.Result{a, b}, compare.Settings{Forecast: "soon"}, "2031-08-21"},
		{"distance", []*assess.Result{a, b}, compare.Settings{Within: -1}, "distance"},
		{"treatment without a day", []*assess.Result{a, b}, compare.Settings{Treatments: []compare.Treatment{{}}}, "treatment"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := compare.Run(t.Context(), c.results, c.set)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// Treated ground is in a field by a square metre of it, wherever the field is one of
// several.
func TestTreatmentsOutsideAllFields(t *testing.T) {
	strip := func(note string, from, to float64) compare.Treatment {
		ring := orb.Ring{{from, -50}, {to, -50}, {to, 50}, {from, 50}, {from, -50}}
		return compare.Treatment{Date: "2031-08-15", Note: note, Ground: frame(t).InversePolygons(orb.MultiPolygon{{ring}})}
	}
	other := geo.Field{Name: "Other", Boundary: frame(t).InversePolygons(orb.MultiPolygon{{{{600, -200}, {800, -200}, {800, 200}, {600, 200}, {600, -200}}}})}
	all := []compare.Treatment{
		strip("inside", 0, 50), strip("over the edge", 150, 250), strip("by two square metres", 199.98, 300), strip("at the edge", 200, 300),
		strip("between", 300, 500), strip("the other", 650, 700), strip("far", 90_000, 90_100),
	}
	out, err := compare.Outside([]geo.Field{square(t), other}, all)
	require.NoError(t, err)
	var notes []string
	for _, o := range out {
		notes = append(notes, o.Note)
	}
	assert.Equal(t, []string{"at the edge", "between", "far"}, notes)
	assert.Equal(t, "2031-08-15 (far)", out[2].Named())
}

// outside is the note on stops that are no check for a treatment.
func outside(day, note string, stops int) compare.Note {
	return compare.Note{On: compare.OutsideElsewhere, Date: day, N: stops, Treatment: compare.Treatment{Note: note}}
}

// Ground that was walked twice was treated as that walked once, and a hole that reaches
// over the edge of the ground was not treated beyond it.
func TestTreatedGroundIsReadAsFieldsAre(t *testing.T) {
	once := orb.Ring{{-150, -100}, {50, -100}, {50, 100}, {-150, 100}, {-150, -100}}
	twice := append(append(orb.Ring{}, once...), once[1:]...)
	over := orb.Ring{{0, -20}, {120, -20}, {120, 20}, {0, 20}, {0, -20}}
	results := []*assess.Result{
		assessed(t, "2031-08-14", lattice(40, func(_, _ float64) float64 { return 12 }), assess.Settings{}),
		assessed(t, "2031-08-21", lattice(40, func(_, _ float64) float64 { return 9 }), assess.Settings{}),
	}
	for name, c := range map[string]struct {
		ground orb.Polygon
		area   float64
	}{
		"once":               {orb.Polygon{once}, 200 * 200},
		"twice":              {orb.Polygon{twice}, 200 * 200},
		"hole over the edge": {orb.Polygon{once, over}, 200*200 - 50*40},
	} {
		treatment := compare.Treatment{Date: "2031-08-15", Ground: frame(t).InversePolygons(orb.MultiPolygon{c.ground})}
		outside, err := compare.Outside([]geo.Field{square(t)}, []compare.Treatment{treatment})
		require.NoError(t, err)
		assert.Empty(t, outside, name)
		r, err := compare.Run(t.Context(), results, compare.Settings{Treatments: []compare.Treatment{treatment}, Chance: quickly})
		require.NoError(t, err)
		require.Len(t, r.Fields[0].Treatments, 1, name)
		assert.InEpsilon(t, c.area, r.Fields[0].Treatments[0].Coverage.Treated, 1e-6, name)
	}
}
