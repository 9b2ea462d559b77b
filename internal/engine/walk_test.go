package engine_test

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

func TestALineOfATallyIsTakenBack(t *testing.T) {
	o := engine.TallyDefaults()
	o.Plan = "sorghum-tally-50"
	tally, err := engine.NewTally(o)
	require.NoError(t, err)
	enter := func(line string) engine.TallyAnswer {
		a, ended, err := tally.Enter(line)
		require.NoError(t, err, line)
		require.False(t, ended)
		require.NotNil(t, a, line)
		return *a
	}
	first := enter("3/10")
	joined := enter("+7/10")
	assert.Equal(t, 1, tally.Stops())
	assert.Equal(t, [2]float64{10, 20}, [2]float64{joined.Total, joined.Units})
	second := enter("0 60 12 55")
	assert.Equal(t, [3]float64{12, 24, 2}, [3]float64{second.Total, second.Units, float64(second.Stops)}, "leaves with more than 50 count")
	for _, wrong := range []string{"eleven", "12/10"} {
		a, ended, err := tally.Enter(wrong)
		assert.Error(t, err, wrong)
		assert.Nil(t, a)
		assert.False(t, ended)
	}
	assert.Equal(t, fmt.Sprint(joined), fmt.Sprint(enter("undo")), "a line that was refused is not one to take back")
	assert.Equal(t, fmt.Sprint(first), fmt.Sprint(enter("undo")))
	assert.Zero(t, enter("undo").Stops)
	a, ended, err := tally.Enter("# a remark")
	assert.True(t, a == nil && !ended && err == nil)
	a, ended, err = tally.Enter("end")
	assert.True(t, a == nil && ended && err == nil)
}

// A stop whose sum leaves open which leaves are over is taken at both ends: 300 insects on
// ten leaves may be five leaves of 51 and more, or none.
func TestAStopThatItsSumLeavesOpen(t *testing.T) {
	o := engine.TallyDefaults()
	o.Plan = "sorghum-tally-50"
	counts := engine.Source{Name: "walk.csv", Content: []byte("stop,longitude,latitude,count,leaves\nA,-101.6,35.9,60,1\nB,-101.601,35.9,0,1\nC,-101.602,35.9,300,10\n")}
	made, err := engine.TallyCounts(t.Context(), engine.TallyCountsRequest{TallySettings: o, Counts: counts, Apart: 20})
	require.NoError(t, err)
	require.Len(t, made.Answers, 3)
	assert.Equal(t, 1.0, made.Answers[1].Total)
	assert.Equal(t, []string{"stop C does not say which of its 10 were at or above the tally: from 0 to 5, and both are tried"}, made.Notes)
}

func walkOf(field string) engine.PlanRequest {
	q := engine.PlanRequest{PlanSettings: engine.PlanDefaults()}
	q.Only = field
	return q
}

func TestFurtherStopsForAMapInMemory(t *testing.T) {
	made, err := engine.Map(t.Context(), morning(t, "week2"))
	require.NoError(t, err)
	q := walkOf("Pivot")
	q.Boundary, q.Add = source(t, "field.geojson"), 3
	q.After = &engine.PlanAfter{
		Name:    "out",
		Summary: engine.Source{Name: "summary.json", Content: content(t, made.Files, "summary.json")},
		Stops:   engine.Source{Name: "stops.geojson", Content: content(t, made.Files, "stops.geojson")},
	}
	walk, err := engine.Plan(q)
	require.NoError(t, err)
	require.Len(t, walk.Plan.Stops, 3)
	for _, s := range walk.Plan.Stops {
		assert.Positive(t, s.Gain)
	}
	q.After.Stops.Content = bytes.ReplaceAll(q.After.Stops.Content, []byte(`"field":"Pivot"`), []byte(`"field":"Home"`))
	_, err = engine.Plan(q)
	assert.EqualError(t, err, "out holds no stop of field Pivot; it has Home, Corner block")
}

func TestAWalkRoundKeepOffs(t *testing.T) {
	q := walkOf("Pivot")
	q.Boundary, q.Stops = source(t, "field.geojson"), 12
	free, err := engine.Plan(q)
	require.NoError(t, err)
	at := free.Plan.Stops[0].Lonlat
	point := geoJSONPoint(at[0], at[1])
	setBack := 60.0
	q.KeepOffs = []engine.KeepOff{{File: engine.Source{Name: "hives.geojson", Content: point}, SetBack: &setBack}}
	round, err := engine.Plan(q)
	require.NoError(t, err)
	for _, s := range round.Plan.Stops {
		assert.NotEqual(t, at, s.Lonlat)
	}
	q.KeepOffs[0].SetBack = nil
	_, err = engine.Plan(q)
	assert.ErrorContains(t, err, "hives.geojson", "a point has no ground of its own")
}

// Ground that was drawn twice is said with the walk, beside what is said of the file.
func TestAWalkTellsWhatWasDoneToItsField(t *testing.T) {
	block := func(name string, west, east float64) string {
		return fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[[[%[2]g,35.9],[%[3]g,35.9],[%[3]g,35.905],[%[2]g,35.905],[%[2]g,35.9]]]}}`, name, west, east)
	}
	q := walkOf("West")
	q.Stops = 4
	q.Boundary = engine.Source{Name: "f.geojson", Content: []byte(`{"type":"FeatureCollection","features":[` + block("West", -101.61, -101.6) + "," + block("East", -101.601, -101.597) + "]}")}
	walk, err := engine.Plan(q)
	require.NoError(t, err)
	require.Len(t, walk.Notes, 1)
	assert.Regexp(t, `^f\.geojson: .*"West".*"East"`, walk.Notes[0])
}

// Where fields have levels of their own, further stops go by those of the field.
func TestFurtherStopsGoByTheFieldsOwnLevels(t *testing.T) {
	made, err := engine.Map(t.Context(), morning(t, "week2"))
	require.NoError(t, err)
	gains := func(levels string) (all []float64) {
		q := walkOf("Pivot")
		q.Boundary, q.Add = source(t, "field.geojson"), 3
		q.After = &engine.PlanAfter{
			Name:    "out",
			Summary: engine.Source{Name: "summary.json", Content: []byte(`{"statistic":"mean per leaf",` + levels + `}`)},
			Stops:   engine.Source{Name: "stops.geojson", Content: content(t, made.Files, "stops.geojson")},
		}
		walk, err := engine.Plan(q)
		require.NoError(t, err)
		for _, s := range walk.Plan.Stops {
			all = append(all, s.Gain)
		}
		return all
	}
	const low, high = `"levels":{"treat_at":20,"watch_at":10}`, `"levels":{"treat_at":90,"watch_at":50}`
	own := `"fields":[{"field":"Home","statistic":"mean per leaf",` + low + `},{"field":"Pivot","statistic":"mean per leaf",` + high + `}]`
	all := gains(high)
	require.NotEqual(t, gains(low), all)
	assert.Equal(t, all, gains(low+","+own), "the field's own")
	assert.Equal(t, all, gains(own), "there are none of all")
	assert.Equal(t, all, gains(high+`,"fields":[{"field":"Pivot","statistic":"mean per leaf"}]`), "the field has none of its own")
}

// What is asked for wrongly is refused before any file is looked at.
func TestAWalkAskedForWrongly(t *testing.T) {
	for name, set := range map[string]func(*engine.PlanRequest){
		"no number":         func(*engine.PlanRequest) {},
		"two numbers":       func(q *engine.PlanRequest) { q.Stops, q.Precision = 5, 0.25 },
		"further, no map":   func(q *engine.PlanRequest) { q.Add = 3 },
		"a map, no further": func(q *engine.PlanRequest) { q.After = &engine.PlanAfter{} },
		"no leaves":         func(q *engine.PlanRequest) { q.Stops, q.Leaves = 5, 0 },
	} {
		q := walkOf("")
		set(&q)
		var wrong engine.UsageError
		require.ErrorAs(t, q.Check(), &wrong, name)
		_, err := engine.Plan(q)
		assert.True(t, errors.As(err, &wrong), name)
	}
}

func geoJSONPoint(longitude, latitude float64) []byte {
	return fmt.Appendf(nil, `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[%.7f,%.7f]}}]}`, longitude, latitude)
}
