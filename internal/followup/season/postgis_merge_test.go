//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Files of two scouts go into a database, whose visits keep their numbers; what two brought
// stands there once, with both their names, and again changes nothing.
func TestFilesAreMergedIntoADatabase(t *testing.T) {
	server := testkit.StartPostgres(t)
	address := server.Address("postgres", server.Database(t))
	sources := []season.Source{scoutsFile(t, "anna"), scoutsFile(t, "ben")}
	to, err := season.OpenToAdd(address)
	require.NoError(t, err)
	defer to.Close()
	first, err := to.Merge(sources[0])
	require.NoError(t, err)
	assert.Equal(t, 1, first.Visits)
	assert.Empty(t, first.Renumbered)
	second, err := to.Merge(sources[1])
	require.NoError(t, err)
	assert.Equal(t, 1, second.Known)
	assert.Equal(t, []season.Renumbered{{From: 1, To: 2}}, second.Renumbered)
	for range 2 {
		lines, err := to.List()
		require.NoError(t, err)
		require.Len(t, lines, 1)
		assert.Equal(t, "anna; ben", lines[0].Author)
		again, err := to.Merge(sources...)
		require.NoError(t, err)
		assert.Zero(t, again.Visits)
		assert.Empty(t, again.Renumbered)
	}
	twin := visit(1)
	twin.Author = "anna; ben"
	_, _, err = to.AddInPlace(twin, true, 1)
	assert.ErrorContains(t, err, "there is no visit 1", "what was replaced is none to replace")

	file := opened(t, filepath.Join(t.TempDir(), "back.gpkg"))
	_, err = season.Copy(to, file)
	require.NoError(t, err)
	back, err := file.Whole(2)
	require.NoError(t, err)
	kept, err := to.Whole(2)
	require.NoError(t, err)
	assert.Equal(t, kept, back)
}

// scoutsFile is a season file with one visit that a scout brought.
func scoutsFile(t *testing.T, author string) season.Source {
	s := opened(t, filepath.Join(t.TempDir(), author+".gpkg"))
	v := visit(1)
	v.Author = author
	_, err := s.Add(v)
	require.NoError(t, err)
	return season.Source{Name: author, Reader: s}
}

// A visit of which two files know more has, for who looks it up, the number that counts now.
func TestANumberThatChangedTwiceIsSaidAsItIsNow(t *testing.T) {
	server := testkit.StartPostgres(t)
	to := opened(t, server.Address("postgres", server.Database(t)))
	_, err := to.Merge(scoutsFile(t, "anna"))
	require.NoError(t, err)
	merged, err := to.Merge(scoutsFile(t, "ben"), scoutsFile(t, "cleo"))
	require.NoError(t, err)
	assert.Equal(t, []season.Renumbered{{From: 1, To: 3}}, merged.Renumbered)
	lines, err := to.List()
	require.NoError(t, err)
	require.Len(t, lines, 1)
	assert.Equal(t, int64(3), lines[0].ID)
	assert.Equal(t, "anna; ben; cleo", lines[0].Author)
}
