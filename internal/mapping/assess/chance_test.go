package assess_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
	"github.com/geocoris/geocoris/interp"
)

// pivotBy is the larger demo field in week 2, with 43 stops, by some use of
// chances.
func pivotBy(t testing.TB, c assess.ChanceSettings) *assess.Field {
	r := demoBy(t, "week2.csv", c)
	require.NotNil(t, r.Fields[0].Chance)
	return r.Fields[0]
}

func treatArea(f *assess.Field) float64 { return f.Map.Zone(zones.Treat).Area }

func TestEveryMapSaysWhatItIsExpectedToCatch(t *testing.T) {
	f := pivotBy(t, assess.ChanceSettings{})
	c := f.Chance
	assert.Equal(t, zones.Levels{TreatAt: 40, WatchAt: f.Settings.Levels.WatchAt}, f.Settings.Levels)
	assert.InDelta(t, treatArea(f), c.AtLevel.Area, 0.1*treatArea(f), "summed up by few nodes")
	assert.True(t, c.Expected > 1e4 && c.Expected < 20e4, "%g m²", c.Expected)
	assert.True(t, c.Caught > 0.3 && c.Caught < 1, "%g", c.Caught)
	assert.InEpsilon(t, (f.Area-(c.Expected-c.Unseen))*0.5/44, c.Unseen, 0.03, "half a stop of 43 and one more, where none is expected anyway")
	assert.Equal(t, f.Hindsight.Over, c.Hindsight.Over)
	stops, found := 0, 0
	for _, b := range c.Calibration {
		stops += b.Stops
		found += b.Found
		assert.True(t, b.Predicted >= b.From*float64(b.Stops) && b.Predicted <= b.To*float64(b.Stops))
	}
	assert.Equal(t, [2]int{43, 4}, [2]int{stops, found})
	full := pivotBy(t, assess.ChanceSettings{Surface: true}).Chance
	assert.InEpsilon(t, full.Expected, c.Expected, 0.03, "few nodes say about what all say")
}

func TestCatchTakesTheGroundAsked(t *testing.T) {
	plain := pivotBy(t, assess.ChanceSettings{})
	var before float64
	shares := []float64{0.95} // which others ask for as well
	if testkit.Strict() {
		shares = []float64{0.9, 0.95, 0.98}
	}
	for _, share := range shares {
		f := pivotBy(t, assess.ChanceSettings{Catch: share})
		assert.InDelta(t, share, f.Chance.Caught, 0.03)
		assert.Less(t, f.Settings.Levels.TreatAt, 40.0)
		assert.InEpsilon(t, plain.Settings.Levels.WatchAt/40, f.Settings.Levels.WatchAt/f.Settings.Levels.TreatAt, 1e-12)
		assert.Greater(t, treatArea(f), before)
		assert.InDelta(t, treatArea(f)-treatArea(plain), f.Chance.Added, 0.02*treatArea(f))
		before = treatArea(f)

		chance := pivotBy(t, assess.ChanceSettings{Catch: share, Surface: true})
		assert.InDelta(t, share, chance.Chance.Caught, 0.03)
		assert.Less(t, treatArea(chance), 1.02*treatArea(f), "by chance it takes the least ground, but for what stops carry")
	}
	low := pivotBy(t, assess.ChanceSettings{Catch: 0.01})
	assert.Equal(t, 40.0, low.Settings.Levels.TreatAt, "never above the treat level")
	assert.InEpsilon(t, treatArea(plain), treatArea(low), 1e-9)
}

func TestZonesByChance(t *testing.T) {
	f := pivotBy(t, assess.ChanceSettings{Surface: true})
	assert.Equal(t, zones.Levels{TreatAt: 0.3, WatchAt: 0.3}, f.Settings.Levels)
	for _, s := range f.Stops {
		if s.Value >= 40 {
			assert.Equal(t, zones.Treat, s.Zone, "stop %s holds %g", s.Name, s.Value)
		}
	}
	treat, clear := f.Map.Zone(zones.Treat), f.Map.Zone(zones.Clear)
	assert.Greater(t, treat.Mean, 30.0, "means are of the counts, not of chances")
	assert.Equal(t, f.Max, treat.Max)
	assert.Less(t, clear.Mean, 12.0)
	easy := pivotBy(t, assess.ChanceSettings{Surface: true, TreatAt: 0.2, WatchAt: 0.05})
	assert.Greater(t, treatArea(easy), treatArea(f))
	assert.Greater(t, easy.Chance.Caught, f.Chance.Caught)
	var sum float64
	for _, z := range easy.Map.Zones {
		sum += z.Area
	}
	assert.InEpsilon(t, easy.Area, sum, 1e-9)
}

// By loss, ground is treated where leaving it is expected to cost a treatment or more, and
// as by chance where a stop over the level stands.
func TestZonesByLoss(t *testing.T) {
	f := pivotBy(t, assess.ChanceSettings{Surface: true, Loss: true})
	assert.Equal(t, zones.Levels{TreatAt: 1, WatchAt: 0.3}, f.Settings.Levels)
	assert.True(t, f.Chance.ByLoss && f.Chance.BySurface)
	for _, s := range f.Stops {
		if s.Value >= 40 {
			assert.Equal(t, zones.Treat, s.Zone, "stop %s holds %g", s.Name, s.Value)
		}
	}
	var pays, treated, wrong float64
	for _, p := range f.Losses(40) {
		if p.Loss >= 1 {
			pays += p.Area
		}
		if p.Treat {
			treated += p.Area
		}
		if p.Treat != (p.Loss >= 1) {
			wrong += p.Area
		}
	}
	assert.Positive(t, pays)
	assert.InEpsilon(t, treated, treatArea(f), 0.01)
	assert.Less(t, wrong, 0.15*pays, "but for least patches, and what stops carry")
	byChance := pivotBy(t, assess.ChanceSettings{Surface: true}).Chance
	assert.Equal(t, byChance.Hindsight, f.Chance.Hindsight, "chances tell the same")
	assert.Equal(t, byChance.Expected, f.Chance.Expected)
}

func TestChanceSettingsRefuse(t *testing.T) {
	for want, c := range map[string]assess.ChanceSettings{
		"catch 1:":                   {Catch: 1},
		"catch NaN":                  {Catch: math.NaN()},
		"treat-chance -0.1":          {Surface: true, TreatAt: -0.1},
		"go with the chance surface": {TreatAt: 0.4},
		"both say where to cut":      {Surface: true, TreatAt: 0.4, Catch: 0.9},
		"goes with the surface":      {Loss: true},
		"says where to cut":          {Surface: true, Loss: true, Catch: 0.9},
		"leave out treat-chance":     {Surface: true, Loss: true, TreatAt: 0.4},
	} {
		assert.ErrorContains(t, c.Validate(), want)
		assert.ErrorContains(t, assess.Settings{Chance: c}.Validate(), want)
	}
}

// Too few stops bear no model: the map stands without it, and asking for it is
// an error.
func TestChanceOfFewStops(t *testing.T) {
	square := orb.MultiPolygon{{{{0, 50}, {0.003, 50}, {0.003, 50.002}, {0, 50.002}, {0, 50}}}}
	field := geo.Field{Name: "invented", Boundary: square}
	two := &survey.Survey{Stops: []survey.Stop{
		{Name: "a", Longitude: 0.001, Latitude: 50.001, Total: 900, Units: 20, Records: make([]survey.Record, 1)},
		{Name: "b", Longitude: 0.002, Latitude: 50.001, Total: 10, Units: 20, Records: make([]survey.Record, 1)},
	}}
	r, err := assess.Run(t.Context(), []geo.Field{field}, two, assess.Settings{})
	require.NoError(t, err)
	assert.Nil(t, r.Fields[0].Chance)
	_, err = assess.Run(t.Context(), []geo.Field{field}, two, assess.Settings{Chance: assess.ChanceSettings{Catch: 0.9}})
	assert.ErrorContains(t, err, "chances: ")
	assert.ErrorContains(t, err, "2 places: want 3 or more")
	assert.NotContains(t, err.Error(), "interp:")
}

// Among several fields one with too few stops is mapped without chances, and it is said;
// the others are mapped as by themselves.
func TestOneFieldOfSeveralBearsNoChances(t *testing.T) {
	demo := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	counts := surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv"))
	single := geo.Field{Name: "Pond", Boundary: orb.MultiPolygon{{{{0, 50}, {0.003, 50}, {0.003, 50.002}, {0, 50.002}, {0, 50}}}}}
	counts.Stops = append(counts.Stops, survey.Stop{Name: "a", Longitude: 0.001, Latitude: 50.001, Total: 900, Units: 20, Records: make([]survey.Record, 1)})
	plain, err := assess.Run(t.Context(), append(demo, single), counts, assess.Settings{})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(plain.Notes, "\n"), "chances", "nobody asked")
	for _, c := range []assess.ChanceSettings{{Surface: true}, {Surface: true, Loss: true}, {Catch: 0.9}}[:testkit.Few(3, 1)] {
		want := demoBy(t, "week2.csv", c)
		set := assess.Settings{Chance: c}
		got, err := assess.Run(t.Context(), append(demo, single), counts, set)
		require.NoError(t, err)
		assert.Nil(t, got.Fields[2].Chance)
		assert.NotNil(t, got.Fields[2].Map)
		assert.Contains(t, got.Notes, `field "Pond": mapped without chances, which its counts do not bear: stops at 1 place: want 3 or more`)
		for i, f := range want.Fields {
			assert.Equal(t, f.LonLat(), got.Fields[i].LonLat())
		}
		assert.Equal(t, plain.Fields[2].LonLat(), got.Fields[2].LonLat())

		set.Only = []string{"Pond"}
		_, err = assess.Run(t.Context(), append(demo, single), counts, set)
		assert.ErrorContains(t, err, `field "Pond": chances: stops at 1 place: want 3 or more`)
		set.OfMany = true
		_, err = assess.Run(t.Context(), append(demo, single), counts, set)
		assert.NoError(t, err)
	}
}

// Where next to nothing is expected over there is nothing to catch: the cut stays
// at the treat level.
func TestCatchOfNothing(t *testing.T) {
	for _, c := range []assess.ChanceSettings{{Catch: 0.95}, {Catch: 0.95, Surface: true}} {
		corner := demoBy(t, "week2.csv", c).Fields[1]
		require.Less(t, corner.Chance.Expected-corner.Chance.Unseen, 0.01*corner.Area)
		assert.Zero(t, treatArea(corner))
	}
}

// A single leaf with 45 among stops of 20 leaves with few: the model does not
// believe that the ground is over, and the stop is treated all the same.
func TestStopsCarryOnTheChanceSurface(t *testing.T) {
	square := orb.MultiPolygon{{{{0, 50}, {0.003, 50}, {0.003, 50.002}, {0, 50.002}, {0, 50}}}}
	s := &survey.Survey{}
	for i := range 12 {
		s.Stops = append(s.Stops, survey.Stop{
			Name: "few", Longitude: 0.0003 + 0.0008*float64(i%4), Latitude: 50.0003 + 0.0007*float64(i/4),
			Total: float64(20 + 3*(i%5)), Units: 20, Records: make([]survey.Record, 1),
		})
	}
	s.Stops = append(s.Stops, survey.Stop{Name: "one leaf", Longitude: 0.0015, Latitude: 50.001, Total: 45, Units: 1, Records: make([]survey.Record, 1)})
	r, err := assess.Run(t.Context(), []geo.Field{{Name: "invented", Boundary: square}}, s, assess.Settings{Chance: assess.ChanceSettings{Surface: true}})
	require.NoError(t, err)
	f := r.Fields[0]
	assert.Less(t, f.Chance.Expected-f.Chance.Unseen, 0.1*f.Area)
	assert.Equal(t, zones.Treat, f.Stops[12].Zone)
	assert.Less(t, treatArea(f), 0.1*f.Area)
}

// A line that every map has is not missing where there are very many fields.
func TestManyFieldsHaveTheirExpectedGround(t *testing.T) {
	demo := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	counts := surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv"))
	far := geo.Field{Name: "Far", Boundary: orb.MultiPolygon{{{{1, 1}, {1.001, 1}, {1.001, 1.001}, {1, 1}}}}} // invented, no stops
	fields := append([]geo.Field(nil), demo...)
	for len(fields) < 101 {
		fields = append(fields, far)
	}
	few, err := assess.Run(t.Context(), demo, counts, assess.Settings{})
	require.NoError(t, err)
	many, err := assess.Run(t.Context(), fields, counts, assess.Settings{})
	require.NoError(t, err)
	require.NotNil(t, many.Fields[0].Chance)
	assert.Equal(t, fmt.Sprint(*few.Fields[0].Chance), fmt.Sprint(*many.Fields[0].Chance)) // as text, for NaN outside the field
	assert.Equal(t, few.Notes, many.Notes)
}

// What is decided by is the field's own: expected losses and trust do not depend on how
// many other fields are in the run.
func TestManyFieldsChangeNothingThatDecides(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	counts := surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv"))
	alone, err := assess.Run(t.Context(), fields, counts, assess.Settings{})
	require.NoError(t, err)
	for len(fields) < 101 {
		fields = append(fields, geo.Field{Name: "Far", Boundary: orb.MultiPolygon{{{{1, 1}, {1.001, 1}, {1.001, 1.001}, {1, 1}}}}}) // invented, no stops
	}
	many, err := assess.Run(t.Context(), fields, counts, assess.Settings{})
	require.NoError(t, err)
	require.False(t, math.IsNaN(alone.Fields[0].Trust.Saves))
	assert.Equal(t, alone.Fields[0].Trust, many.Fields[0].Trust)
	for _, level := range []float64{alone.Levels.TreatAt, 25} {
		assert.Equal(t, alone.Fields[0].Losses(level), many.Fields[0].Losses(level))
	}
}

// walkOfLeaves is an invented survey of 36 stops of ten leaves each, one a row; more
// and more leaves from west to east have 60. With plants, two leaves are of one.
func walkOfLeaves(plants bool) string {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,plant,leaf,count\n")
	for i := range 36 {
		for leaf := range 10 {
			count, plant := 3, leaf
			if leaf < 1+i%6*9/5 {
				count = 60
			}
			if plants {
				plant = leaf / 2
			}
			fmt.Fprintf(&b, "s%d,%.6f,%.6f,%d,%d,%d\n", i, 0.0003+0.0005*float64(i%6), 50.0002+0.0003*float64(i/6), plant, leaf, count)
		}
	}
	return b.String()
}

// The chances of a share are those of shares, with its own number of units.
func TestChancesOfAShareTakeItForOne(t *testing.T) {
	square := []geo.Field{{Name: "invented", Boundary: orb.MultiPolygon{{{{0, 50}, {0.003, 50}, {0.003, 50.002}, {0, 50.002}, {0, 50}}}}}}
	for name, c := range map[string]struct {
		stat   assess.Statistic
		plants bool
		units  float64
	}{
		"leaves": {assess.Statistic{Tally: 50}, false, 10},
		"plants": {assess.Statistic{Unit: "plant", Part: "leaf", Tally: 50}, true, 5},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := survey.Read(given.Table(walkOfLeaves(c.plants)), survey.Options{})
			require.NoError(t, err)
			r, err := assess.Run(t.Context(), square, s, assess.Settings{Statistic: c.stat, Levels: assess.LevelSettings{TreatAt: 60, WatchAt: 30}})
			require.NoError(t, err)
			f := r.Fields[0]
			require.NotNil(t, f.Chance)
			var counts []interp.Count
			for _, s := range f.Stops {
				counts = append(counts, interp.Count{X: s.XY[0], Y: s.XY[1], Mean: s.Value / 100, Units: c.units})
			}
			model, err := interp.ChanceModel{Level: 0.6, Binomial: true}.Fit(counts)
			require.NoError(t, err)
			want := model.Over(0.6)
			answered := 0
			for i, got := range f.Chance.Grid.Values {
				if !math.IsNaN(got) {
					answered++
					x, y := f.Chance.Grid.Node(i%f.Chance.Grid.Cols, i/f.Chance.Grid.Cols)
					require.InDelta(t, model.WithUnseen(want.Predict(x, y)), got, 1e-12)
				}
			}
			assert.Greater(t, answered, 100)
		})
	}
}
