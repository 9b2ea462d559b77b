package verdict_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
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

func demo(t testing.TB, week string, set assess.Settings) *assess.Result {
	s, err := survey.Read(given.Files(t, testkit.Testdata(t, "demo", week)), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")), s, set)
	require.NoError(t, err)
	return r
}

// The invented demonstration: a hotspot in the first field, quiet in the second.
func TestDemoWeek2(t *testing.T) {
	r := demo(t, "week2.csv", assess.Settings{})
	all, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	require.Len(t, all, 2)
	pivot, corner := all[0], all[1]
	assert.Equal(t, verdict.SpotSpray, pivot.Kind, pivot.Line)
	assert.Equal(t, "2026-07-18", pivot.On)
	assert.Equal(t, "2026-07-22", pivot.GoodUntil)
	assert.Less(t, pivot.High, 40.0)
	assert.Greater(t, pivot.Low, 0.0)
	assert.InDelta(t, r.Fields[0].Mean, pivot.Stats.Mean, 1e-12)
	assert.Equal(t, 4, pivot.Over)
	assert.Equal(t, "Corner block", corner.Field)
	assert.Equal(t, verdict.LookAgain, corner.Kind, corner.Line)
	assert.Equal(t, "2026-07-21", corner.On, "4.2·log2(40/14.6) = 6.1 days")
	again, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	for i := range all {
		assert.Equal(t, all[i].Stats.Interval, again[i].Stats.Interval, "the same draws")
		assert.Equal(t, all[i].Stats.Moran, again[i].Stats.Moran)
	}
}

func TestMoneyOfTheDemo(t *testing.T) {
	r := demo(t, "week2.csv", assess.Settings{})
	perHa := 1.0 / geo.SquareMetresPerHectare
	all, err := verdict.Of(r, verdict.Settings{Money: &verdict.Money{Cost: 30 * perHa, SpotJob: 60, Price: 150, Loss: 0.01 * perHa, Control: 0.9}})
	require.NoError(t, err)
	c := all[0].Costs
	require.NotNil(t, c)
	f := r.Fields[0]
	ha := func(m2 float64) float64 { return m2 * perHa }
	assert.InEpsilon(t, 30*ha(f.Area), c.Whole, 1e-12)
	assert.InEpsilon(t, 30*ha(all[0].TreatArea)+60, c.Spot, 1e-12)
	assert.InEpsilon(t, 150*0.01*0.9*f.Mean*ha(f.Area), c.WholeAverts, 1e-12)
	assert.InEpsilon(t, 150*0.01*0.9*all[0].TreatMean*ha(all[0].TreatArea), c.SpotAverts, 1e-12)
	assert.InDelta(t, 30*ha(f.Chance.Added), c.Added, 1e-9)
	assert.True(t, c.Pays())
	assert.Zero(t, all[1].Costs.SpotAverts, "no treat ground")

	dear, err := verdict.Of(r, verdict.Settings{Money: &verdict.Money{Cost: 30 * perHa, SpotJob: 5000}})
	require.NoError(t, err)
	assert.Equal(t, "leave", dear[0].Line, "a spot job costs more than the field, and that more than is lost")
	cheap, err := verdict.Of(r, verdict.Settings{Money: &verdict.Money{Cost: 30 * perHa, Price: 1, Loss: 0.01 * perHa}})
	require.NoError(t, err)
	assert.Equal(t, "does-not-pay", cheap[0].Line)
	assert.False(t, cheap[0].Costs.Pays())

	r.Fields[0].Chance = nil
	unknown, err := verdict.Of(r, verdict.Settings{Money: &verdict.Money{Cost: 1}})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(unknown[0].Costs.Added), "no chances tell")

	r = demo(t, "week2.csv", assess.Settings{})
	r.Statistic.Tally = 50
	_, err = verdict.Of(r, verdict.Settings{Money: &verdict.Money{Cost: 1, Price: 1, Loss: 1}})
	assert.ErrorContains(t, err, "the break-even test wants a mean")
}

// The 1996 wheat aphids have no pattern; a threshold that some stops reach must
// not lead to a spot spray (the reference folder's SOURCE.md names the source).
func TestNoSpotFromAMapWithoutSkill(t *testing.T) {
	s, err := survey.Read(given.Files(t, testkit.Shared(t, "data", "insect-counts", "aphids_lonlat_anchored.csv")), survey.Options{})
	require.NoError(t, err)
	fields := fieldsOf(t, testkit.Shared(t, "data", "insect-counts", "boundary_rect_anchored.geojson"))
	for _, treat := range []float64{6, 10, 20, 30, 60} {
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{Levels: assess.LevelSettings{TreatAt: treat, WatchAt: treat / 4}})
		require.NoError(t, err)
		all, err := verdict.Of(r, verdict.Settings{})
		require.NoError(t, err)
		assert.False(t, all[0].Believed)
		assert.NotEqual(t, verdict.SpotSpray, all[0].Kind, "%g", treat)
		assert.NotEqual(t, verdict.NoSpray, all[0].Kind, "%g", treat)
	}
}

// square is an invented field of about 500 m by 500 m; stops at given metres from
// its south-west corner.
func square(t *testing.T, stops [][3]float64) *assess.Result {
	const degree = 111_320.0
	side := 500 / degree
	c, err := geofile.Decode("square.geojson", strings.NewReader(fmt.Sprintf(
		`{"type":"Polygon","coordinates":[[[0,0],[%[1]g,0],[%[1]g,%[1]g],[0,%[1]g],[0,0]]]}`, side)), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	text := "stop,longitude,latitude,count,leaves\n"
	for i, p := range stops {
		text += fmt.Sprintf("%d,%.9f,%.9f,%g,10\n", i+1, p[0]/degree, p[1]/degree, p[2])
	}
	s, err := survey.Read(given.Table(text), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
	require.NoError(t, err)
	return r
}

func TestNoVerdictFromTheEdgeAlone(t *testing.T) {
	var stops [][3]float64
	for i := range 20 { // along the southern edge, all far over the threshold
		stops = append(stops, [3]float64{20 + 23*float64(i), 4, 900})
	}
	all, err := verdict.Of(square(t, stops), verdict.Settings{})
	require.NoError(t, err)
	assert.Equal(t, verdict.Undecided, all[0].Kind)
	assert.Equal(t, "few-inside", all[0].Line)
	assert.Equal(t, 4, all[0].More)
	assert.Empty(t, all[0].On, "the samples tell no day")
}

// Hot stops 4 m inside the edge, nothing within: look inside beside them.
func TestAHotEdgeIsNotAHotField(t *testing.T) {
	var stops [][3]float64
	for i := range 25 {
		stops = append(stops, [3]float64{50 + 100*float64(i%5), 50 + 100*float64(i/5), 20})
	}
	for i := range 5 {
		stops = append(stops, [3]float64{50 + 100*float64(i), 4, 900})
	}
	all, err := verdict.Of(square(t, stops), verdict.Settings{})
	require.NoError(t, err)
	assert.Equal(t, "edge-hot", all[0].Line)
	assert.Equal(t, verdict.Undecided, all[0].Kind)
	assert.Equal(t, 5, all[0].More)
	assert.Equal(t, 5, all[0].Over)
	assert.Zero(t, all[0].OverInside)
	assert.Equal(t, 5, all[0].Stats.Edge.EdgeStops)
}

// Every stop of the edge is hot with a cold one beside it 6 m farther in, and one in
// the middle is hot: the mean is surely over, the inside is not, the map is of no
// use. Nobody is told to wait because the mean is below.
func TestAnEdgeInfestationWithoutAMapToBelieve(t *testing.T) {
	var stops [][3]float64
	for i := range 5 {
		along := 50 + 100*float64(i)
		for _, in := range []struct{ metres, count float64 }{{4, 1800}, {10, 20}} {
			far := 500 - in.metres
			stops = append(stops, [3]float64{along, in.metres, in.count}, [3]float64{along, far, in.count},
				[3]float64{in.metres, along, in.count}, [3]float64{far, along, in.count})
		}
	}
	stops = append(stops, [3]float64{250, 250, 900}, [3]float64{150, 150, 0}, [3]float64{150, 350, 0}, [3]float64{350, 150, 0}, [3]float64{350, 350, 0})
	all, err := verdict.Of(square(t, stops), verdict.Settings{})
	require.NoError(t, err)
	v := all[0]
	require.False(t, v.Believed)
	require.Greater(t, v.Low, 40.0)
	require.Less(t, v.Stats.Edge.InteriorMean, 40.0)
	require.Equal(t, 1, v.OverInside)
	assert.Equal(t, "over-by-edge", v.Line)
	assert.Equal(t, verdict.Undecided, v.Kind)
	assert.Equal(t, 20, v.More, "one beside each hot stop of the edge")
}

// A very hot stop, or three of them apart, among stops of nearly nothing: by its few
// stops the mean may be over, so nobody is told to leave it without a walk round them.
func TestFewVeryHotStopsAreWalkedRound(t *testing.T) {
	for line, hot := range map[string]map[int]float64{"one-over": {8: 1100}, "few-over": {7: 120, 19: 120, 28: 120}} {
		var stops [][3]float64
		for i := range 30 {
			count := 10.0
			if h, is := hot[i+1]; is {
				count = 10 * h
			}
			stops = append(stops, [3]float64{42 + 83*float64(i/5), 50 + 100*float64(i%5), count})
		}
		all, err := verdict.Of(square(t, stops), verdict.Settings{})
		require.NoError(t, err)
		v := all[0]
		require.GreaterOrEqual(t, v.High, v.Treat)
		assert.Equal(t, line, v.Line)
		assert.Equal(t, verdict.Undecided, v.Kind)
		assert.Equal(t, 4*len(hot), v.More)
		assert.Len(t, v.Round, len(hot))
	}
}

// However many hot stops of a part: the whole field is not treated by them, today neither.
func TestAPartIsNoReasonToTreatTheWholeField(t *testing.T) {
	for _, side := range []int{3, 5, 17} {
		var stops [][3]float64
		for i := range side * side {
			stops = append(stops, [3]float64{20 + 130*float64(i%side)/float64(side), 20 + 130*float64(i/side)/float64(side), 800})
		}
		all, err := verdict.Of(square(t, stops), verdict.Settings{})
		require.NoError(t, err)
		v := all[0]
		require.Equal(t, side*side, v.OverInside)
		assert.Equal(t, "part-only", v.Line)
		assert.Equal(t, verdict.Undecided, v.Kind)
		assert.NotEqual(t, verdict.TreatWhole, v.Instead)
		assert.GreaterOrEqual(t, v.More, 10)
	}
	patch := spot()
	patch.InPart(0.3)
	assert.Equal(t, verdict.SpotSpray, verdict.Decide(patch, verdict.Settings{}).Instead, "a zone within that part")
	patch.TreatArea = 0.31 * patch.Area
	assert.Equal(t, verdict.LookAgain, verdict.Decide(patch, verdict.Settings{}).Instead, "a zone beyond it")
}

func TestNotClearWithUnscoutedGround(t *testing.T) {
	var stops [][3]float64
	for i := range 20 { // only the south-western corner was walked, nothing found
		stops = append(stops, [3]float64{30 + 20*float64(i%5), 30 + 20*float64(i/5), 0})
	}
	all, err := verdict.Of(square(t, stops), verdict.Settings{})
	require.NoError(t, err)
	assert.Equal(t, verdict.Undecided, all[0].Kind)
	assert.Equal(t, "part-only", all[0].Line)
	assert.Positive(t, all[0].More)
	assert.Greater(t, all[0].Unscouted, 0.0)
}

func TestAFieldOfNothingIsLeftAlone(t *testing.T) {
	var stops [][3]float64
	for i := range 25 {
		stops = append(stops, [3]float64{50 + 100*float64(i%5), 50 + 100*float64(i/5), 0})
	}
	all, err := verdict.Of(square(t, stops), verdict.Settings{})
	require.NoError(t, err)
	assert.Equal(t, verdict.NoSpray, all[0].Kind, all[0].Line)
	assert.Equal(t, 0.0, all[0].High)
	assert.False(t, math.IsNaN(all[0].Days))
}

func TestAcrossFields(t *testing.T) {
	var all []verdict.Verdict
	for _, mean := range []float64{1, 4, 30} {
		var v verdict.Verdict
		v.Stats.Mean, v.Stats.Variance = mean, 3*math.Pow(mean, 1.4)
		all = append(all, v)
	}
	p, err := verdict.AcrossFields(all)
	require.NoError(t, err)
	assert.InEpsilon(t, 3, p.A, 1e-12)
	assert.InEpsilon(t, 1.4, p.B, 1e-12)
	_, err = verdict.AcrossFields(all[:2])
	assert.ErrorContains(t, err, "three fields")
}

func BenchmarkOf(b *testing.B) {
	r := demo(b, "week2.csv", assess.Settings{})
	for b.Loop() {
		if _, err := verdict.Of(r, verdict.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Zones carry these words, and the hand-off, on a floor below, goes by them.
func TestKindsHaveTheWordsThatTheHandoffReads(t *testing.T) {
	assert.Equal(t, "spot spray", verdict.SpotSpray.String())
	assert.Equal(t, "treat the whole field", verdict.TreatWhole.String())
}
