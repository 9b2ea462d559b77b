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
	"github.com/geocoris/geocoris/internal/recall"
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
	return assessedOn(t, func(stop) string { return date }, stops, set)
}

// mornings are what tests have assessed, many of them the same. In CI each works everything out
// by itself.
var mornings = recall.New(20)

// assessedOn are stops of days of their own.
func assessedOn(t testing.TB, date func(stop) string, stops []stop, set assess.Settings) *assess.Result {
	t.Helper()
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves,date\n")
	for i, s := range stops {
		p := frame(t).Inverse(orb.Point{s.x, s.y})
		fmt.Fprintf(&b, "%d,%.9f,%.9f,%g,10,%s\n", i+1, p[0], p[1], math.Round(s.value*10), date(s))
	}
	counts, err := survey.Read(given.Table(b.String()), survey.Options{})
	require.NoError(t, err)
	set.KeepSurface = true
	if !testkit.Strict() {
		set.Memory = mornings
	}
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
	runs := testkit.Few(20, 5)
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
	assert.LessOrEqual(t, out, testkit.Few(4, 2), "of 20 at 5 %%: five or more have a chance of 0.3 %%, three or more of 5 one of 0.1 %%")
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

	// A stop may be two people's: both have eyes of their own.
	second := &results[1].Fields[0].Stops[0]
	second.Records = append(slices.Clone(second.Records), second.Records[0])
	second.Records[len(second.Records)-1].Observer = "scout C"
	assert.Equal(t, []string{"scout C"}, unlike("scout A", "scout B")[0].Uncalibrated)
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
