//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A treatment that is added once more, such as by the same command, is there once.
func TestATreatmentIsAddedOnce(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	r := season.Record{Date: "2031-08-20", Note: "west half", Ground: field("", 0).Boundary, ReentryHours: 12}
	second := r
	second.Note = "second load"
	for _, c := range []struct {
		record season.Record
		id     int64
		known  bool
	}{{r, 1, false}, {second, 2, false}, {r, 1, true}, {second, 2, true}} {
		id, err := s.AddTreatment(c.record)
		assert.Equal(t, c.id, id)
		if c.known {
			assert.ErrorIs(t, err, season.ErrKnown)
		} else {
			require.NoError(t, err)
		}
	}
	records, err := s.Records()
	require.NoError(t, err)
	assert.Equal(t, []season.Record{r, second}, records)
}
