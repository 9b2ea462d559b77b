package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// applied is an invented record beside the map of the demo's third week.
func applied(t testing.TB) engine.RecordRequest {
	t.Helper()
	made, err := engine.Map(t.Context(), morning(t, "week3"))
	require.NoError(t, err)
	return engine.RecordRequest{
		Settings: engine.RecordSettings{Date: "2026-07-24", Field: "Corner block", Area: "21.9 ac", Product: []string{"product A (0-0)=95.8 lb"}, Who: "somebody"},
		Summary:  &engine.Source{Name: "out/summary.json", Content: content(t, made.Files, "summary.json")},
		Today:    "2026-07-25",
	}
}

func TestRecordOfBytes(t *testing.T) {
	q := applied(t)
	made, err := engine.Record(q)
	require.NoError(t, err)
	assert.Equal(t, "applied_2026-07-24_Corner-block.json", made.Name)
	assert.Empty(t, made.FarDays)
	assert.Contains(t, string(content(t, made.Files, made.Name)), `"registration": "0-0"`)
	table := content(t, made.Files, engine.AppliedTable)
	assert.Equal(t, 2, strings.Count(string(table), "\n"))

	q.Table = &engine.Source{Name: "out/applied.csv", Content: table}
	_, err = engine.Record(q)
	assert.ErrorContains(t, err, "stands in the table already")
	var told engine.HintedError
	require.ErrorAs(t, err, &told)
	assert.Contains(t, told.Hint, "by the same line with --ground")

	q.Settings.Start = "14:00"
	q.Taken = func(name string) bool { return name == made.Name }
	q.Settings.Ground = "swaths.geojson"
	_, err = engine.Record(q)
	assert.EqualError(t, err, "--ground swaths.geojson: the file did not come along")
	q.Ground = &engine.Source{Name: "job/swaths.geojson", Content: []byte(`{"type":"Feature","properties":{"field":"Corner block"},"geometry":{"type":"Polygon",
"coordinates":[[[-101.6,35.9],[-101.596,35.9],[-101.596,35.904],[-101.6,35.9]]]}}`)}
	first := q
	first.Settings.Start = ""
	_, err = engine.Record(first)
	assert.ErrorContains(t, err, "stands in the table already", "what is there cannot be read")
	first.Kept = func(name string) []byte { return content(t, made.Files, name) }
	completed, err := engine.Record(first)
	require.NoError(t, err)
	assert.True(t, completed.Completed)
	assert.Equal(t, made.Name, completed.Name)
	require.Len(t, completed.Files, 1)
	assert.Equal(t, "applied_2026-07-24_Corner-block.geojson", completed.Files[0].Name)
	first.Taken = func(name string) bool { return name == made.Name || name == completed.Files[0].Name }
	_, err = engine.Record(first)
	assert.ErrorContains(t, err, "stands in the table already", "with its ground")
	second, err := engine.Record(q)
	require.NoError(t, err)
	assert.Contains(t, second.Notes, "if the record is wrong, delete applied_2026-07-24_Corner-block_2.json, its ground, and its line in applied.csv")
	assert.Equal(t, "applied_2026-07-24_Corner-block_2.json", second.Name)
	assert.Contains(t, string(content(t, second.Files, "applied_2026-07-24_Corner-block_2.geojson")), `"date":"2026-07-24","field":"Corner block","note":"product A 0-0: 95.8 lb"`)
	longer := string(content(t, second.Files, engine.AppliedTable))
	assert.True(t, strings.HasPrefix(longer, string(table)), "lines of before stay")
	assert.Equal(t, 3, strings.Count(longer, "\n"))
}

// Ground of which less than half of the area was sprayed, or which was never sprayed, is
// refused with what to do; of half it is asked.
func TestWhatWasNotSprayedIsNotRecorded(t *testing.T) {
	q := applied(t)
	q.Settings.Ground, q.Settings.Area = "ground.geojson", "8ha"
	record := func(properties, geometry string) (*engine.RecordOutcome, error) {
		q.Ground = &engine.Source{Name: "ground.geojson", Content: []byte(`{"type":"Feature","properties":{` + properties + `},"geometry":` + geometry + `}`)}
		return engine.Record(q)
	}
	square := func(east string) string { // some 100 m high; 0.0040 degrees are 4 ha
		return `{"type":"Polygon","coordinates":[[[-101.6,35.9],[` + east + `,35.9],[` + east + `,35.901],[-101.6,35.901],[-101.6,35.9]]]}`
	}
	half := square("-101.596")
	made, err := record("", half)
	require.NoError(t, err)
	assert.Equal(t, []string{"ground.geojson: the ground measures 4.01 ha, and 8 ha was typed: which was sprayed?"}, made.Notes[:1])
	for name, c := range map[string]struct{ properties, geometry, says, hint string }{
		"less than half":  {"", square("-101.5961"), "the ground measures 3.91 ha, and 8 ha was typed", "or leave out --ground"},
		"more than twice": {"", square("-101.583"), "the ground measures 17 ha, and 8 ha was typed", "correct --area"},
		"than the field":  {"", square("-101.59"), `the ground measures 10 ha, and field "Corner block" has 9.05`, "cut the ground"},
		"kept off":        {`"kind":"keep_off"`, half, "feature 1 is ground that is kept off: not what was sprayed", "give swaths.geojson"},
		"left":            {`"kind":"left"`, half, "is ground that stays unsprayed", "give swaths.geojson"},
		"a zone":          {`"zone":"watch"`, half, "is a watch zone of a map", "give swaths.geojson"},
		"a pass":          {`"kind":"pass"`, `{"type":"LineString","coordinates":[[-101.6,35.9],[-101.59,35.9]]}`, "is a line or a point", "give swaths.geojson"},
	} {
		_, err := record(c.properties, c.geometry)
		require.ErrorContains(t, err, c.says, name)
		var told engine.HintedError
		require.ErrorAs(t, err, &told, name)
		assert.Contains(t, told.Hint, c.hint, name)
	}
	q.Summary = nil
	_, err = record("", square("-101.59"))
	assert.NoError(t, err, "without a map nobody knows the field")
	made, err = engine.Record(func() engine.RecordRequest {
		q.Settings.Start, q.Settings.End, q.Settings.Ground = "21:30", "2:15", ""
		return q
	}())
	require.NoError(t, err)
	assert.Contains(t, made.Notes, "it ended at 2:15 on the day after 2026-07-24, by its times: is that right?")
}

// What cannot be by the map is wrong usage; the day and the area at their very limits
// are not.
func TestRecordIsComparedWithItsMap(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*engine.RecordSettings)
		want   string // "" where it is taken
	}{
		"the day of the count":        {func(o *engine.RecordSettings) { o.Date = "2026-07-22" }, ""},
		"the day before":              {func(o *engine.RecordSettings) { o.Date = "2026-07-21" }, "lies before the count of 2026-07-22"},
		"a boom's width over":         {func(o *engine.RecordSettings) { o.Area = "9.9ha" }, ""},
		"more than that":              {func(o *engine.RecordSettings) { o.Area = "10ha" }, `--area 10 ha is more than field "Corner block" has`},
		"another field":               {func(o *engine.RecordSettings) { o.Field = "Pivott" }, "it has Pivot, Corner block"},
		"no unit":                     {func(o *engine.RecordSettings) { o.Area = "21.9" }, "want a number with ha or ac"},
		"an amount without a product": {func(o *engine.RecordSettings) { o.Product = []string{"=3"} }, "a product needs its name"},
		"less than nothing":           {func(o *engine.RecordSettings) { o.Product = []string{"a=-1 lb"} }, "the amount of a, -1 lb: want one above 0"},
		"a minus of a program":        {func(o *engine.RecordSettings) { o.Product = []string{"a=\u22121 lb"} }, "want one above 0"},
		"nothing":                     {func(o *engine.RecordSettings) { o.Product = []string{"a=0,0 lb"} }, "want one above 0"},
		"next to nothing":             {func(o *engine.RecordSettings) { o.Product = []string{"a=0,1 lb"} }, ""},
		"an amount in words":          {func(o *engine.RecordSettings) { o.Product = []string{"a=as the label says"} }, ""},
		"no hour of the day":          {func(o *engine.RecordSettings) { o.Start = "25:00" }, `--start "25:00": want a time of day`},
		"four digits":                 {func(o *engine.RecordSettings) { o.Start, o.End = "0630", "0745" }, ""},
		"four digits, backward":       {func(o *engine.RecordSettings) { o.Start, o.End = "0730", "0645" }, "lies before --start"},
		"four that are none":          {func(o *engine.RecordSettings) { o.Start = "0665" }, "want a time of day"},
		"half of a time":              {func(o *engine.RecordSettings) { o.End = "3" }, `--end "3": want a time of day`},
		"one minute":                  {func(o *engine.RecordSettings) { o.Start, o.End = "6:40", "6.40 a.m." }, ""},
		"an end before the start":     {func(o *engine.RecordSettings) { o.Start, o.End = "6:40", "6:39" }, `--end "6:39" lies before --start "6:40"`},
		"half a day over midnight":    {func(o *engine.RecordSettings) { o.Start, o.End = "9 pm", "9:00" }, ""},
		"longer over midnight":        {func(o *engine.RecordSettings) { o.Start, o.End = "21h00", "9:01" }, "lies before --start"},
	} {
		q := applied(t)
		c.change(&q.Settings)
		_, err := engine.Record(q)
		if c.want == "" {
			assert.NoError(t, err, name)
			continue
		}
		assert.ErrorContains(t, err, c.want, name)
		assert.ErrorAs(t, err, &engine.UsageError{}, name)
	}
	q := applied(t)
	q.Settings.Date, q.Today = "2028-07-24", "2026-07-25"
	made, err := engine.Record(q)
	require.NoError(t, err)
	require.Len(t, made.FarDays, 1)
	assert.Contains(t, made.Notes[len(made.Notes)-1], "if the record is wrong, delete applied_2028-07-24_Corner-block.json")
	assert.Contains(t, made.FarDays[0], "--date 2028-07-24 ")
	q.Summary, q.Settings.Field = nil, "anything"
	_, err = engine.Record(q)
	assert.NoError(t, err, "without a map there is nothing to compare with")
}
