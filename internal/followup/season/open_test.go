//go:build !js && !nosqlite

package season_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

func TestOpenRefuses(t *testing.T) {
	folder := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
		return path
	}
	foreign := filepath.Join(folder, "foreign.gpkg")
	execute(t, foreign, `CREATE TABLE gpkg_contents (table_name TEXT)`)
	future := filepath.Join(folder, "future.gpkg")
	opened(t, future).Close()
	execute(t, future, `UPDATE season SET value = '99' WHERE key = 'format'`)
	for _, c := range []struct{ name, path, want string }{
		{"text", write("text.gpkg", strings.Repeat("stop,count\n", 200)), "no GeoPackage"},
		{"another GeoPackage", foreign, "no season file"},
		{"later format", future, "newer geocoris"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := season.Open(c.path)
			assert.ErrorContains(t, err, c.want)
			_, err = season.OpenToAdd(c.path)
			assert.ErrorContains(t, err, c.want)
		})
	}
	_, err := season.Open(write("empty.gpkg", ""))
	assert.ErrorContains(t, err, "empty")
	_, err = season.Open(filepath.Join(folder, "none.gpkg"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = os.Stat(filepath.Join(folder, "none.gpkg"))
	assert.ErrorIs(t, err, os.ErrNotExist, "looking makes no file")
}

func TestASeasonIsKnownByItsContent(t *testing.T) {
	folder := t.TempDir()
	file := func(name string) string { return filepath.Join(folder, name) }
	opened(t, file("season.db")).Close()
	opened(t, file("future.gpkg")).Close()
	execute(t, file("future.gpkg"), `UPDATE season SET value = '99' WHERE key = 'format'`)
	execute(t, file("layer.gpkg"), `CREATE TABLE season (fid INTEGER PRIMARY KEY, name TEXT)`) // a layer of that name
	// A view that yields what is looked for when its endless rows are through.
	execute(t, file("view.gpkg"), `CREATE VIEW season AS WITH RECURSIVE n(i) AS (VALUES(1) UNION ALL SELECT i+1 FROM n)
		SELECT 'program' AS key, 'geocoris' AS value FROM n WHERE i < 0`)
	execute(t, file("other.gpkg"), `CREATE TABLE gpkg_contents (table_name TEXT)`)
	require.NoError(t, os.WriteFile(file("text.gpkg"), []byte("stop,count\n1,2\n"), 0o600))
	require.NoError(t, os.WriteFile(file("empty.gpkg"), nil, 0o600))
	for name, want := range map[string]bool{"season.db": true, "future.gpkg": true, "layer.gpkg": false, "view.gpkg": false, "other.gpkg": false, "text.gpkg": false, "empty.gpkg": false, "none.gpkg": false} {
		assert.Equal(t, want, season.Is(file(name)), name)
	}
	assert.NoFileExists(t, file("none.gpkg"))
}
