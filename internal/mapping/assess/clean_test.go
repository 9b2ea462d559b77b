package assess_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// few is a field with so many stops, the last of which has a value and the others none.
func few(t *testing.T, stops int, highest float64, set assess.Settings) (*assess.Result, *assess.Field) {
	t.Helper()
	rows := "stop,longitude,latitude,count,leaves\n"
	for i := range stops {
		count := 0.0
		if i == stops-1 {
			count = highest * 10
		}
		rows += fmt.Sprintf("%d,%.6f,%.6f,%g,10\n", i+1, -101.6015+0.0004*float64(i%4), 35.8975+0.0004*float64(i/4), count)
	}
	s, err := survey.Read(given.Table(rows), survey.Options{})
	require.NoError(t, err)
	set.Levels.TreatAt, set.Levels.WatchAt = 40, 12
	r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")), s, set)
	require.NoError(t, err)
	return r, r.Fields[0]
}

// A field is clean up to half of the watch level, from ten stops on, whatever the skill
// of its map.
func TestCleanFields(t *testing.T) {
	for _, c := range []struct {
		stops   int
		highest float64
		clean   bool
	}{
		{12, 0, true}, {12, 1, true}, {12, 6, true}, {12, 6.1, false}, {12, 12, false}, {12, 400, false},
		{assess.LeastStops, 0, true}, {assess.LeastStops - 1, 0, false},
	} {
		r, f := few(t, c.stops, c.highest, assess.Settings{})
		assert.False(t, f.Trust.Believed(), "such fields tell no spots")
		assert.Equal(t, c.clean, f.Clean(r.Levels.Levels), "%d stops, highest %g", c.stops, c.highest)
	}
}

// What was not read may be anything, so that a field that lacks it is not clean.
func TestAFieldThatWasNotAllReadIsNotClean(t *testing.T) {
	r, f := few(t, 12, 0, assess.Settings{})
	require.True(t, f.Clean(r.Levels.Levels))
	for _, u := range []assess.Unread{{Own: true, Placed: true}, {Own: true}, {Of: []int{3}, Rows: make([]survey.Unread, 1)}} {
		lacking := *f
		lacking.Unread = []assess.Unread{u}
		assert.False(t, lacking.Clean(r.Levels.Levels), "%+v", u)
	}
}

func TestAFieldWithoutStopsIsNotClean(t *testing.T) {
	r, _ := few(t, 12, 0, assess.Settings{})
	none := r.Fields[1]
	require.False(t, none.Scouted())
	assert.False(t, none.Clean(r.Levels.Levels))
}
