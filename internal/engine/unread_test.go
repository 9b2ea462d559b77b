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
	assert.Contains(t, mark, "stop 9, not read: week3.csv:10: ")
	assert.Contains(t, mark, "<begin>2026-07-22")
	assert.NotContains(t, mark, "<end>", "the last visit holds until somebody goes again")
	assert.Contains(t, text, "Stops marked ? were not read")
	assert.Contains(t, text, `<Style id="unread">`)
	assert.NotContains(t, changed("week1", "week2"), "not read")
}
