package assess_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func level(t *testing.T, name, stage string) rules.Level {
	t.Helper()
	b, err := rules.Published()
	require.NoError(t, err)
	r, err := b.Named(name)
	require.NoError(t, err)
	l, err := r.At(stage)
	require.NoError(t, err)
	return l
}

// The level that stands in for sorghum aphids is the one marked so among the
// published rules, and so is its growth.
func TestThePresetIsThePublishedDefault(t *testing.T) {
	b, err := rules.Published()
	require.NoError(t, err)
	r, ok := b.Default("sorghum aphid")
	require.True(t, ok)
	l := level(t, r.Name, "")
	preset := demo(t, "week2.csv").Levels
	assert.True(t, preset.Preset)
	assert.Equal(t, l.Treat, preset.TreatAt)
	assert.Contains(t, preset.TreatSource, r.Source)
	assert.Equal(t, r.DoublingDays, preset.Doubling)
	assert.Contains(t, preset.WatchSource, r.DoublingSource)
	assert.Equal(t, r.RevisitDays, preset.NextVisit)
	for _, pest := range []string{"sugarcane aphid", "SCA", "m. sacchari", "greenbug", ""} {
		assert.Equal(t, assess.IsSorghumAphid(pest), rules.SamePest("sorghum aphid", pest), pest)
	}
}

func TestByRule(t *testing.T) {
	set, stat := assess.ByRule(level(t, "sorghum-aphid-texas-mean", "boot"), assess.LevelSettings{})
	assert.Equal(t, assess.Statistic{Unit: "leaf"}, stat)
	assert.Equal(t, 50.0, set.TreatAt)
	assert.Equal(t, 4.2, set.Doubling)
	assert.Zero(t, set.WatchAt, "growth sets it")

	set, stat = assess.ByRule(level(t, "sorghum-aphid-kansas", "boot"), assess.LevelSettings{NextVisit: 4})
	assert.Equal(t, assess.Statistic{Unit: "plant", Tally: 101, Part: "leaf"}, stat)
	assert.Equal(t, "% of plants with a leaf at or above 101", stat.String())
	assert.Equal(t, 15.0, set.WatchAt)
	assert.Contains(t, set.WatchSource, "no source")
	assert.Equal(t, 4.0, set.NextVisit)

	set, _ = assess.ByRule(level(t, "sorghum-aphid-kansas", "boot"), assess.LevelSettings{WatchAt: 3})
	assert.Equal(t, 3.0, set.WatchAt)
	assert.Empty(t, set.WatchSource)
	set, _ = assess.ByRule(level(t, "cotton-aphid", ""), assess.LevelSettings{Doubling: 2})
	assert.Equal(t, 2.0, set.Doubling)
	assert.Empty(t, set.DoublingSource)
}

func TestCanFeed(t *testing.T) {
	const head = "stop,longitude,latitude,"
	for name, c := range map[string]struct{ rule, stage, text, want string }{
		"a mean from stops":             {"sorghum-aphid-mean-40", "", "count,leaves\na,1,1,30,10\n", ""},
		"plants with a leaf, by leaves": {"sorghum-aphid-kansas", "boot", "plant,leaf,count\na,1,1,1,low,30\n", ""},
		"any on plants, leaves put up":  {"sorghum-aphid-kansas", "2", "plant,count,leaves\na,1,1,1,30,2\n", ""},
		"plants without a name":         {"sorghum-aphid-kansas", "2", "count,leaves\na,1,1,30,10\n", "the samples lack the column plant: want a row for each leaf"},
		"a tally without leaves":        {"sorghum-aphid-kansas", "boot", "count,leaves\na,1,1,30,10\n", "the samples lack the columns plant and leaf"},
		"a sign":                        {"sorghum-aphid-north-carolina", "boot", "plant,leaf,count\na,1,1,1,low,30\n", "lack a column for honeydew and colonies on each plant"},
		"leaves for a mean of plants":   {"soybean-aphid", "", "leaf,count\na,1,1,low,30\n", "the samples name leaves; put the rows of a plant together"},
		"plants for a mean of plants":   {"soybean-aphid", "", "plant,count\na,1,1,1,300\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := survey.Read(given.Table(head+c.text), survey.Options{})
			require.NoError(t, err)
			require.NotEmpty(t, s.Stops, "%v", s.Problems)
			err = assess.CanFeed(level(t, c.rule, c.stage), s)
			if c.want == "" {
				assert.NoError(t, err)
				return
			}
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// Two plants at each stop, one of them with a leaf of 60: half of the plants, and
// not a quarter of the leaves.
func TestAShareOfPlantsIsMapped(t *testing.T) {
	text := "stop,longitude,latitude,plant,leaf,count\n"
	for _, place := range []string{"a,0.0003,0.0003", "b,0.0006,0.0003", "c,0.0003,0.0006"} {
		text += place + ",1,low,60\n" + place + ",1,top,0\n" + place + ",2,low,30\n" + place + ",2,top,30\n"
	}
	s, err := survey.Read(given.Table(text), survey.Options{})
	require.NoError(t, err)
	l := level(t, "sorghum-aphid-high-plains", "boot")
	require.NoError(t, assess.CanFeed(l, s))
	var set assess.Settings
	set.Levels, set.Statistic = assess.ByRule(l, assess.LevelSettings{})
	r, err := assess.Run(t.Context(), twoFields(), s, set)
	require.NoError(t, err)
	for _, stop := range r.Fields[0].Stops {
		assert.Equal(t, 50.0, stop.Value)
		assert.Equal(t, zones.Treat, stop.Zone)
	}
	assert.Equal(t, 20.0, r.Levels.TreatAt)
	assert.Equal(t, 10.0, r.Levels.WatchAt)
	assert.Contains(t, r.Levels.TreatSource, "AgriLife")

	s, err = survey.Read(given.Table("stop,longitude,latitude,plant,count,leaves\na,0.0003,0.0003,1,60,2\n"), survey.Options{})
	require.NoError(t, err)
	_, err = assess.Run(t.Context(), twoFields(), s, set)
	assert.ErrorContains(t, err, "-:2: stop a does not say for each plant whether a leaf had 50 or more")
	assert.Error(t, assess.Statistic{Part: "leaf"}.Validate())
}

// +65 % of area a week is a radius 1.285 times as long (Backoulou et al. 2018,
// Southwest. Entomol. 43:823–832).
func TestGrowthOf(t *testing.T) {
	r := demo(t, "week2.csv")
	var largest float64
	for _, p := range r.Fields[0].Map.Zone(zones.Treat).Polygons {
		largest = max(largest, geo.Area(orb.MultiPolygon{p}))
	}
	radius := math.Sqrt(largest / math.Pi)
	week, err := assess.GrowthOf(r, 7)
	require.NoError(t, err)
	assert.InDelta(t, 0.285*radius, week[0].Margin, 0.001*radius)
	assert.Equal(t, 7.0, week[0].Days)
	now, err := assess.GrowthOf(r, 0)
	require.NoError(t, err)
	assert.Zero(t, now[0])
	for _, days := range []float64{-1, 29, math.NaN()} {
		_, err = assess.GrowthOf(r, days)
		assert.ErrorContains(t, err, "want 0 to 28")
	}
}

// Two fields, each with levels and statistic of its own: the result as one of them sees
// it has the field's, and what it was made of stays as it is.
func TestLevelsByField(t *testing.T) {
	text := "stop,longitude,latitude,plants,plants_over,at_or_above\n"
	for i, place := range []string{"a,0.0003,0.0003", "b,0.0006,0.0003", "c,0.0003,0.0006"} {
		text += place + ",10," + []string{"2", "2", "1"}[i] + ",\n"
	}
	fields := twoFields()
	s, err := survey.Read(given.Table(text+"z,0.0015,0.0003,10,3,\n"), survey.Options{Unit: "plant", Shares: true})
	require.NoError(t, err)
	stages := map[string]string{fields[0].Name: "boot", fields[1].Name: "dough"}
	heard := map[string]int{}
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{ByField: func(field string, stops []survey.Stop) (assess.LevelSettings, assess.Statistic, error) {
		heard[field] = len(stops)
		set, stat := assess.ByRule(level(t, "sorghum-aphid-high-plains", stages[field]), assess.LevelSettings{})
		return set, stat, nil
	}})
	require.NoError(t, err)
	assert.Equal(t, map[string]int{fields[0].Name: 3, fields[1].Name: 1}, heard)
	assert.True(t, r.Several())
	assert.Equal(t, 20.0, r.Levels.TreatAt, "of the first with stops")
	assert.Equal(t, 20.0, r.Of(r.Fields[0]).Levels.TreatAt)
	own := r.Of(r.Fields[1])
	assert.Equal(t, 30.0, own.Levels.TreatAt)
	assert.Equal(t, "% of plants with honeydew and colonies", own.Statistic.String())
	assert.Equal(t, 20.0, r.Levels.TreatAt)
	assert.Equal(t, zones.Treat, r.Fields[0].Stops[0].Zone, "20 % at the level of 20")
	assert.Equal(t, zones.Watch, r.Fields[0].Stops[2].Zone, "10 % at the watch level")
	assert.Equal(t, zones.Treat, r.Fields[1].Stops[0].Zone, "30 % at the level of 30")
	assert.Equal(t, 10, r.Fields[1].Stops[0].Plants)
}
