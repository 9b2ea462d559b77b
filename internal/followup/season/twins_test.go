//go:build !js && !nosqlite

package season_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The same sheet of two fields, such as zeros at planned stops, is two visits.
func TestTheSameCountsOfTwoFieldsAreTwoVisits(t *testing.T) {
	folder := t.TempDir()
	north, east, both := filepath.Join(folder, "n.gpkg"), filepath.Join(folder, "e.gpkg"), filepath.Join(folder, "b.gpkg")
	made(t, north, []season.Visit{in(1, "Ann", "North")})
	made(t, east, []season.Visit{in(1, "Bo", "East field")})
	made(t, both, []season.Visit{in(1, "Bo", "East field"), in(1, "Ann", "North")})
	for _, from := range [][]string{{north, east}, {east, north}, {both, north, east}} {
		into := filepath.Join(t.TempDir(), "into.gpkg")
		m, err := merge(t, into, from...)
		require.NoError(t, err)
		assert.Equal(t, 2, m.Visits)
		assert.Equal(t, len(from)-2+len(from)/3, m.Known)
		assert.Len(t, contentOf(t, into).Visits, 2)
	}
	turned := in(2, "Ann", "North", "East field")
	s := opened(t, both)
	first, err := s.Add(turned)
	require.NoError(t, err)
	turned.Fields[0], turned.Fields[1] = turned.Fields[1], turned.Fields[0]
	again, err := s.Add(turned)
	assert.ErrorIs(t, err, season.ErrKnown, "in whatever order they stand in the boundary")
	assert.Equal(t, first, again)
}

// Two scouts who see one grower each bring the same sheet: both visits are copied to a
// file, and back.
func TestTheSameCountsOfTwoGrowersAreCopied(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	for name, grower := range map[string]string{"ann": "Ann", "bo": "Bo"} {
		address, login := g.person(t, name, "geocoris_scout")
		g.sql(t, "DELETE FROM geocoris.access WHERE role = 'geocoris_scout'; INSERT INTO geocoris.access (role, grower) VALUES ('"+login+"', '"+grower+"')")
		_, _, err := opened(t, address).AddDay(in(1, grower, grower+"'s field"), false)
		require.NoError(t, err)
	}
	file := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	done, err := season.Copy(owner, file)
	require.NoError(t, err)
	assert.Equal(t, 2, done.Visits)
	other := opened(t, inDatabase(t).owner())
	done, err = season.Copy(file, other)
	require.NoError(t, err)
	assert.Equal(t, 2, done.Visits)
	for _, id := range []int64{1, 2} {
		want, err := owner.Whole(id)
		require.NoError(t, err)
		got, err := other.Whole(id)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
}

// A file of format 5 was made by a program of that format. Copied or merged as it is, and
// brought up, it gives the same visits, and each once.
func TestAFileOfTheFifthFormatIsBroughtUp(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	content, err := os.ReadFile(testkit.Testdata(t, "season", "format5.gpkg"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, content, 0o600))
	asItIs := contentOf(t, path)
	require.Len(t, asItIs.Visits, 2)
	into := opened(t, filepath.Join(t.TempDir(), "into.gpkg"))
	for _, known := range []int{0, 2} {
		old, err := season.Open(path)
		require.NoError(t, err)
		done, err := season.Copy(old, into)
		require.NoError(t, err)
		assert.Equal(t, known, done.Known)
		require.NoError(t, old.Close())
	}
	require.NoError(t, opened(t, path).Close())
	assert.Equal(t, asItIs, contentOf(t, path))
	testkit.AssertGeoPackage(t, path)
	done, err := season.Copy(opened(t, path), into)
	require.NoError(t, err)
	assert.Equal(t, 2, done.Known)
}

// Bringing a file up does not hide that it was damaged before.
func TestADamagedFileOfTheFifthFormatStaysDamaged(t *testing.T) {
	path := copied(t, testkit.Testdata(t, "season", "format5.gpkg"), filepath.Join(t.TempDir(), "s.gpkg"))
	execute(t, path, `UPDATE visits SET settings = settings || ' ' WHERE id = 2`)
	s := opened(t, path)
	_, err := s.Visit(1)
	require.NoError(t, err)
	_, err = s.Visit(2)
	assert.ErrorContains(t, err, "are not what was stored")
}
