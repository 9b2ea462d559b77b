package assess_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func fieldsOf(t testing.TB, path string) []geo.Field {
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	return fields
}

func surveyOf(t testing.TB, opts survey.Options, paths ...string) *survey.Survey {
	s, err := survey.Read(given.Files(t, paths...), opts)
	require.NoError(t, err)
	return s
}

// demo is the map of a week by itself, which tests may look at and not change.
func demo(t testing.TB, week string) *assess.Result { return demoBy(t, week, assess.ChanceSettings{}) }

// demoBy is the same by some use of chances. Each is made once for all tests.
func demoBy(t testing.TB, week string, c assess.ChanceSettings) *assess.Result {
	asked := demoAsked{week, c}
	if demos[asked] == nil {
		demos[asked] = newDemo(t, asked, demoMemory())
	}
	return demos[asked]
}

type demoAsked struct {
	week    string
	chances assess.ChanceSettings
}

var demos = map[demoAsked]*assess.Result{}

// demoMemory keeps what does not go by the use of chances from one to the next. In CI each is
// worked out by itself.
var demoMemory = sync.OnceValue(func() *recall.Memory {
	if testkit.Strict() {
		return nil
	}
	return recall.New(100)
})

func newDemo(t testing.TB, asked demoAsked, memory *recall.Memory) *assess.Result {
	r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")),
		surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", asked.week)), assess.Settings{Chance: asked.chances, Memory: memory})
	require.NoError(t, err)
	return r
}

func TestDemoWeek2(t *testing.T) {
	r := demo(t, "week2.csv")
	require.Len(t, r.Fields, 2)
	pivot, corner := r.Fields[0], r.Fields[1]
	assert.Equal(t, 43, len(pivot.Stops))
	assert.Equal(t, 11, len(corner.Stops))
	assert.InDelta(t, 50.1e4, pivot.Area, 0.05e4)
	assert.Equal(t, 5.0, pivot.Settings.Cell)
	assert.Greater(t, pivot.Trust.Score.Skill, 0.3, "the hotspot was made to be found")
	assert.True(t, pivot.Trust.Believed())
	assert.Equal(t, 4, pivot.Hindsight.Over+corner.Hindsight.Over)
	var outside []assess.Stop
	for _, f := range r.Fields {
		assert.InEpsilon(t, f.Area, f.Map.Area, 1e-12)
		var sum float64
		for _, z := range f.Map.Zones {
			sum += z.Area
		}
		assert.InEpsilon(t, f.Area, sum, 1e-9)
		for _, s := range f.Stops {
			assert.NotEqual(t, zones.NoData, s.Zone)
			if s.Value >= 40 {
				assert.Equal(t, zones.Treat, s.Zone, s.Name)
			}
			if s.Outside > 0 {
				outside = append(outside, s)
			}
		}
	}
	require.Len(t, outside, 1)
	assert.InDelta(t, 4.4, outside[0].Outside, 0.1)
	assert.Equal(t, survey.Tally{Read: 54, Used: 54}, r.Tally())
}

func TestDemoWeek3SetsFaultsAside(t *testing.T) {
	r := demo(t, "week3.csv")
	assert.Equal(t, survey.Tally{Read: 59, Used: 56, SetAside: 3}, r.Tally())
	require.Len(t, r.Away, 1)
	assert.Equal(t, "50", r.Away[0].Name)
}

// Grids come from the field and the settings, so weeks lie on one another.
func TestWeeksShareTheirFrameAndGrid(t *testing.T) {
	a, b := demo(t, "week1.csv"), demo(t, "week2.csv")
	for i := range a.Fields {
		assert.Equal(t, a.Fields[i].Settings.Cell, b.Fields[i].Settings.Cell)
		assert.Equal(t, a.Fields[i].Area, b.Fields[i].Area)
	}
}

func TestTheSameInputGivesTheSameResult(t *testing.T) {
	a, err := json.Marshal(demo(t, "week2.csv").Fields[0].LonLat())
	require.NoError(t, err)
	for range 3 {
		b, err := json.Marshal(newDemo(t, demoAsked{week: "week2.csv"}, nil).Fields[0].LonLat())
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b))
	}
}

// The 1996 wheat aphids (the reference folder's SOURCE.md names source and
// licence) have no significant autocorrelation: neighbours predict a stop no
// better than the mean does, and the map must say so.
func TestAphidsOf1996AreNoBetterThanTheMean(t *testing.T) {
	fields := fieldsOf(t, testkit.Shared(t, "data", "insect-counts", "boundary_rect_anchored.geojson"))
	s := surveyOf(t, survey.Options{}, testkit.Shared(t, "data", "insect-counts", "aphids_lonlat_anchored.csv"))
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{Levels: assess.LevelSettings{TreatAt: 20, WatchAt: 5}})
	require.NoError(t, err)
	trust := r.Fields[0].Trust
	assert.False(t, trust.Believed())
	assert.LessOrEqual(t, trust.Score.Skill, 0.0)
	assert.False(t, trust.Believed())
	assert.NotEmpty(t, trust.Doubts)
}

// The arthropods of the first week of 1996 do have a pattern.
func TestArthropodsOfWeekOneHaveOne(t *testing.T) {
	fields := fieldsOf(t, testkit.Shared(t, "data", "insect-counts", "boundary_rect_anchored.geojson"))
	r, err := assess.Run(t.Context(), fields, arthropods(t), assess.Settings{Levels: assess.LevelSettings{TreatAt: 20, WatchAt: 5}})
	require.NoError(t, err)
	trust := r.Fields[0].Trust
	assert.Equal(t, 63, trust.Stops)
	assert.True(t, trust.Believed(), "%v", trust.Doubts)
	assert.Greater(t, trust.Score.Skill, 0.0)
}

func arthropods(t *testing.T) *survey.Survey {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "insect-counts", "arthropods_lonlat_anchored.csv"))
	var text strings.Builder
	text.WriteString("stop,longitude,latitude,count\n")
	for row := range table.Len() {
		if table.Text(t, row, "date") == "1996-06-07" {
			fmt.Fprintf(&text, "%d,%s,%s,%s\n", row+1, table.Text(t, row, "lon"), table.Text(t, row, "lat"), table.Text(t, row, "count"))
		}
	}
	s, err := survey.Read(given.Table(text.String()), survey.Options{})
	require.NoError(t, err)
	return s
}

// two fields of about 100 m side by side, the second reaching 20 m into the
// first.
func twoFields() []geo.Field {
	box := func(lon float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{lon, 0}, {lon + 0.001, 0}, {lon + 0.001, 0.001}, {lon, 0.001}, {lon, 0}}}}
	}
	return []geo.Field{{Name: "West", Boundary: box(0)}, {Name: "East", Boundary: box(0.0008)}, {Name: "Far", Boundary: box(0.5)}}
}

func TestStopsGoToTheirField(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count\n"+
		"inside,0.0003,0.0005,1\nboth,0.0009,0.0005,2\neast,0.0015,0.0005,3\nnear,-0.0001,0.0005,4\nfar,-0.0002,0.0005,5\n"), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), twoFields(), s, assess.Settings{})
	require.NoError(t, err)
	names := func(f *assess.Field) (out []string) {
		for _, s := range f.Stops {
			out = append(out, s.Name)
		}
		return out
	}
	assert.Equal(t, []string{"inside", "both", "near"}, names(r.Fields[0]))
	assert.Equal(t, []string{"east"}, names(r.Fields[1]))
	assert.Empty(t, r.Fields[2].Stops)
	assert.False(t, r.Fields[2].Scouted())
	assert.Nil(t, r.Fields[2].Map, "ground without stops has no zone, clear least of all")
	assert.InDelta(t, 11.1, r.Fields[0].Stops[2].Outside, 0.1)
	require.Len(t, r.Away, 1)
	assert.Equal(t, "far", r.Away[0].Name)
	assert.Equal(t, survey.Tally{Read: 5, Used: 4, SetAside: 1}, r.Tally())
	assert.Equal(t, []string{`fields "West" and "East" overlap: 1 stop in both went to the first`}, r.Notes)
	assert.Equal(t, []assess.Doubt{assess.FewStops}, r.Fields[0].Trust.Doubts[:1])
}

func TestRunRefuses(t *testing.T) {
	s := func(text string) *survey.Survey {
		s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\n"+text), survey.Options{})
		require.NoError(t, err)
		return s
	}
	half := -0.5
	for name, c := range map[string]struct {
		text string
		set  assess.Settings
		want string
	}{
		"no stop in a field":    {"a,5,5,1,1\n", assess.Settings{}, "no stop lies in a field or within 15 m of one; the first, a, is at 5.000000, 5.000000"},
		"in the next zone":      {"b,20,5,1,1\na,6.0005,0.0005,1,1\n", assess.Settings{}, "the stops lie 1 zone of UTM east of the field, so counts or boundary were read in the wrong zone: look at --utm"},
		"two zones west":        {"a,-11.9995,0.0005,1,1\n", assess.Settings{}, "the stops lie 2 zones of UTM west of the field"},
		"a visit too soon":      {"a,0.0005,0.0005,90,2\n", assess.Settings{Levels: assess.LevelSettings{NextVisit: 0.5}}, "next-visit 0.5: want 1 day or more"},
		"watch above treat":     {"a,0.0005,0.0005,90,2\n", assess.Settings{Levels: assess.LevelSettings{TreatAt: 10, WatchAt: 20}}, "watch-at 20: want it below treat-at, which is 10"},
		"no usable row":         {"a,5,5,x,1\n", assess.Settings{}, "no row can be used"},
		"no share given":        {"a,0.0005,0.0005,90,2\n", assess.Settings{Statistic: assess.Statistic{Tally: 50}, Levels: assess.LevelSettings{TreatAt: 20, WatchAt: 5}}, "-:2: stop a counts several leaves on one row and does not say how many had 50 or more"},
		"another pest":          {"a,0.0005,0.0005,90,2\n", assess.Settings{}, "give --treat-at"},
		"a negative cell":       {"a,0.0005,0.0005,90,2\n", assess.Settings{Cell: -1}, "cell -1"},
		"a cell far too small":  {"a,0.0005,0.0005,90,2\n", assess.Settings{Cell: 0.001}, `field "West": cells of 0.001 m make`},
		"an endless margin":     {"a,0.0005,0.0005,90,2\n", assess.Settings{Margin: math.Inf(1)}, "margin"},
		"a negative tolerance":  {"a,0.0005,0.0005,90,2\n", assess.Settings{Simplify: &half}, "simplify -0.5"},
		"a tally below nothing": {"a,0.0005,0.0005,90,2\n", assess.Settings{Statistic: assess.Statistic{Tally: -1}}, "tally -1"},
	} {
		t.Run(name, func(t *testing.T) {
			counted := s(c.text)
			if name == "another pest" {
				counted.Pest = "lygus bug"
			}
			_, err := assess.Run(t.Context(), twoFields(), counted, c.set)
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

// How fast the pest of the published level grows says nothing of another.
func TestAnotherPestHasNoKnownGrowth(t *testing.T) {
	doubling := func(pest string) [2]float64 {
		s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\na,0.0002,0.0002,900,10\nb,0.0006,0.0002,10,10\n"), survey.Options{})
		require.NoError(t, err)
		s.Pest = pest
		r, err := assess.Run(t.Context(), twoFields(), s, assess.Settings{Levels: assess.LevelSettings{TreatAt: 40, WatchAt: 10}})
		require.NoError(t, err)
		return [2]float64{r.Levels.Doubling, r.Fields[0].Levels.Doubling}
	}
	assert.Zero(t, doubling("lygus bug"))
	assert.Positive(t, doubling("sorghum aphid")[0])
	assert.Positive(t, doubling("sorghum aphid")[1])
}

// What the others foretell of a stop goes without its own count: it never lies beyond
// theirs.
func TestAStopIsPredictedByTheOthers(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\na,0.0002,0.0002,900,10\nb,0.0006,0.0002,10,10\nc,0.0002,0.0006,20,10\nd,0.0006,0.0006,30,10\n"), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), twoFields(), s, assess.Settings{})
	require.NoError(t, err)
	stops := r.Fields[0].Stops
	require.Len(t, stops, 4)
	for i, of := range [][2]float64{{1, 3}, {2, 90}, {1, 90}, {1, 90}} {
		assert.Greater(t, stops[i].LeftOut, of[0], "stop %d", i)
		assert.Less(t, stops[i].LeftOut, of[1], "stop %d", i)
	}
	assert.Equal(t, 90.0, stops[0].Value)
}

func TestRadiusLeavesTheRestToWatch(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count\na,0.0003,0.0005,1\nb,0.0004,0.0006,2\n"), survey.Options{})
	require.NoError(t, err)
	set := assess.Settings{}
	set.IDW.Radius = 20
	r, err := assess.Run(t.Context(), twoFields(), s, set)
	require.NoError(t, err)
	m := r.Fields[0].Map
	assert.Greater(t, m.Zone(zones.Clear).Area, 1200.0)
	assert.Less(t, m.Zone(zones.Clear).Area, 2200.0, "two discs of 20 m that overlap")
	assert.Greater(t, m.Zone(zones.Watch).Area, 10000.0)
}

func TestTuneSaysWhatItPicked(t *testing.T) {
	set := assess.Settings{Tune: true}
	r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")),
		surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv")), set)
	require.NoError(t, err)
	pivot := r.Fields[0]
	assert.True(t, pivot.Settings.Tuned)
	assert.LessOrEqual(t, pivot.Trust.Score.RMSE, demo(t, "week2.csv").Fields[0].Trust.Score.RMSE)
}

func BenchmarkRunDemo(b *testing.B) {
	fields := fieldsOf(b, testkit.Testdata(b, "demo", "field.geojson"))
	s := surveyOf(b, survey.Options{}, testkit.Testdata(b, "demo", "week2.csv"))
	for b.Loop() {
		if _, err := assess.Run(b.Context(), fields, s, assess.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}
