package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// A scout who reads Spanish and acres leaves both out of the season: who compares reads
// their own. Seasons of before that hold the language are read so too.
func TestTheLanguageIsOfTheReader(t *testing.T) {
	for _, before := range []bool{false, true} {
		var m memory
		for i, week := range []string{"week1", "week2"} {
			q := m.add(t, week)
			if i == 1 {
				q.Visit.Settings.Language, q.Visit.Settings.Units = vocabulary.Spanish, figures.US
			}
			_, err := engine.AddToSeason(t.Context(), q)
			require.NoError(t, err)
		}
		if before {
			m.visits[1].Settings = strings.Replace(m.visits[1].Settings, "{", `{"language":"es",`, 1)
		}
		w, ok, err := engine.Adopted([]engine.Week{{Season: &m}})
		require.NoError(t, err)
		require.True(t, ok)
		assert.Equal(t, figures.Both, w.Settings.Said())
		made, err := engine.Compare(t.Context(), engine.CompareRequest{Setup: w, Compare: engine.CompareDefaults(), Weeks: []engine.Week{{Season: &m, File: engine.Source{Name: "season.gpkg"}}}})
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(made.Notes, "\n"), "other settings")
	}
}

// The page of a map that is made later is in the language of the map.
func TestAPageMadeLaterIsInTheLanguageOfTheMap(t *testing.T) {
	q, made := ruledMorning(t, func(o *engine.Settings) { o.Language = vocabulary.Spanish })
	later, err := engine.Report(t.Context(), engine.ReportRequest{Folder: *mapped(t, q, made), Write: q.Settings.WriteSettings})
	require.NoError(t, err)
	assert.True(t, string(content(t, made.Files, "report.html")) == string(content(t, later.Files, "report.html")))
}

// A field under another name on the same ground is told of: its visits are compared as those of one.
func TestAFieldOfAnotherNameOnOneGroundIsTold(t *testing.T) {
	var m memory
	_, err := engine.AddToSeason(t.Context(), m.add(t, "week1"))
	require.NoError(t, err)
	q := m.add(t, "week2")
	q.Visit.Boundary.Content = []byte(strings.Replace(string(q.Visit.Boundary.Content), "Corner block", "Corner", 1))
	stored, err := engine.AddToSeason(t.Context(), q)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(stored.Notes, "\n"), `field "Corner" lies on the same ground as field "Corner block" of the season`)
	assert.NotContains(t, strings.Join(stored.Notes, "\n"), `field "Pivot"`)
}
