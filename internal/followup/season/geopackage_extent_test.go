//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The extents in the table of contents are those of all that is there, whatever came first,
// was replaced, or lacks the envelopes that other programs may leave out.
func TestExtentsAreOfAllThatIsThere(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	spans := func(want ...float64) { // west and east of the zones, by how far they were shifted
		t.Helper()
		e, err := s.Extent("zones")
		require.NoError(t, err)
		require.NotNil(t, e)
		assert.InDeltaSlice(t, []float64{-101 + want[0], -100.99 + want[1]}, []float64{e.Box[0], e.Box[2]}, 1e-9)
	}
	_, err := s.Add(in(1, "", "Fourteen signs"))
	require.NoError(t, err)
	spans(0.7, 0.7)
	near := in(2, "", "N")
	_, err = s.Add(near)
	require.NoError(t, err)
	spans(0.05, 0.7)
	without := in(2, "", "N")
	without.Files[0].Name, without.Zones = "corrected.csv", nil
	_, replaced, err := s.AddDay(without, true)
	require.NoError(t, err)
	require.Len(t, replaced, 1)
	spans(0.7, 0.7)

	execute(t, path, `UPDATE zones SET geom = CAST(substr(geom, 1, 3) || x'01' || substr(geom, 5, 4) || substr(geom, 41) AS BLOB)`,
		`UPDATE gpkg_contents SET min_x = NULL WHERE table_name = 'zones'`)
	_, err = s.Add(in(4, "", "Elsewhere"))
	require.NoError(t, err)
	spans(0.45, 0.7)
}
