//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A day put right in the file leaves the same stops and counts, which are no second visit.
func TestADayPutRightInTheFileIsTheSameVisit(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	first, _, err := s.AddDay(scoutedOn("2031-08-01", "", 1, 0, 2, 3), false)
	require.NoError(t, err)
	var known *season.HeldError
	_, _, err = s.AddDay(scoutedOn("2031-08-08", "", 1, 0, 2, 3), false)
	require.ErrorAs(t, err, &known)
	assert.Equal(t, season.HeldError{Visit: first, Date: "2031-08-01", Same: true}, *known)
	_, replaced, err := s.AddDay(scoutedOn("2031-08-08", "", 1, 0, 2, 3), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{first}, replaced)
	assert.Equal(t, []string{"2031-08-08"}, held(t, s))

	_, replaced, err = s.AddDay(scoutedOn("2031-08-15", "", 1, 0, 2, 4), true)
	require.NoError(t, err)
	assert.Empty(t, replaced, "one count differs")
	other := scoutedOn("2031-08-22", "", 1, 0, 2, 3)
	other.Stops[3].Geometry = orb.Point{-100.992, 35.003}
	_, replaced, err = s.AddDay(other, true)
	require.NoError(t, err)
	assert.Empty(t, replaced, "one stop lies elsewhere")
}

// Stops of a plan with no pests, or hardly any, are alike week after week.
func TestWeeksOfFewPestsAreTwoVisits(t *testing.T) {
	for _, counts := range [][]float64{{0, 0, 0, 0}, {0, 3, 0, 1}, {2, 2, 2, 2}} {
		s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
		for _, day := range []string{"2031-08-01", "2031-08-08"} {
			_, replaced, err := s.AddDay(scoutedOn(day, "", counts...), true)
			require.NoError(t, err, "%v", counts)
			assert.Empty(t, replaced)
		}
	}
}
