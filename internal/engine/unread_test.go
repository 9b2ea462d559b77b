package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// A stop that was not read stands in the season's KML too, on the days of its
// visit; without one nothing speaks of any. The third week of the demo has two.
func TestChangeShowsStopsThatWereNotRead(t *testing.T) {
	changed := func(weeks ...string) string {
		field := source(t, "field.geojson")
		q := engine.CompareRequest{Setup: morning(t, "week1").Setup, Compare: engine.CompareDefaults(), Boundary: &field}
		for _, week := range weeks {
			q.Weeks = append(q.Weeks, engine.Week{Counts: source(t, week+".csv")})
		}
		made, err := engine.Compare(t.Context(), q)
		require.NoError(t, err)
		return string(content(t, made.Files, "change.kml"))
	}
	text := changed("week2", "week3")
	require.Equal(t, 2, strings.Count(text, "<name>?</name>"))
	_, mark, _ := strings.Cut(text, "<name>?</name>")
	mark, _, _ = strings.Cut(mark, "</Placemark>")
	assert.Contains(t, mark, "Stop 9, not read: week3.csv:10: ")
	assert.Contains(t, mark, "<begin>2026-07-22")
	assert.NotContains(t, mark, "<end>", "the last visit holds until somebody goes again")
	assert.Contains(t, text, "Stops marked ? were not read")
	assert.Contains(t, text, `<Style id="unread">`)
	assert.NotContains(t, changed("week1", "week2"), "not read")
}

// Stops that were not read are on the sheet of their field's job, where it may matter
// most: the ground there is not known. The map's own stops say which they are.
func TestTheJobSheetShowsStopsThatWereNotRead(t *testing.T) {
	made, err := engine.Map(t.Context(), morning(t, "week3"))
	require.NoError(t, err)
	q := job(t)
	without, err := engine.Handoff(q)
	require.NoError(t, err)
	q.Stops = &engine.Source{Name: "out/stops.geojson", Content: content(t, made.Files, "stops.geojson")}
	with, err := engine.Handoff(q)
	require.NoError(t, err)

	marks := func(o *engine.HandoffOutcome) int {
		return strings.Count(string(content(t, o.Files, "jobsheet.html")), ">?</text>")
	}
	assert.Zero(t, marks(without))
	assert.Equal(t, 2+1+1, marks(with), "two on the map, one of them on the larger one too, and one in the legend")
	assert.Contains(t, string(content(t, with.Files, "jobsheet.html")), "not read</li>")
	assert.NotContains(t, string(content(t, without.Files, "jobsheet.html")), "not read</li>")
	assert.Contains(t, string(content(t, with.Files, "handoff_run.json")), `"out/stops.geojson"`)
	job := with.Sheet.Result.Jobs[0]
	require.Len(t, job.NotRead, 2)
	at := job.Frame.Inverse(job.NotRead[1])
	assert.InDelta(t, 35.902392, at[1], 1e-6, "the place of stop 22 as it is offered")

	q.Stops.Content = []byte(strings.ReplaceAll(string(q.Stops.Content), `"field":"Pivot"`, `"field":"Corner block"`))
	others, err := engine.Handoff(q)
	require.NoError(t, err)
	assert.Zero(t, marks(others), "those of another field are not this job's")
}
