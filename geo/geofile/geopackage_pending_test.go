package geofile_test

import (
	"bytes"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// opened is a small GeoPackage that a program has open, with a statement done in it.
func opened(t *testing.T, statements ...string) (path string, db *sql.DB) {
	path = filepath.Join(t.TempDir(), "counts.gpkg")
	require.NoError(t, os.WriteFile(path, smallPackage(t), 0o600))
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	t.Cleanup(func() { db.Close() })
	db.SetMaxOpenConns(1)
	for _, s := range statements {
		_, err := db.Exec(s)
		require.NoError(t, err, s)
	}
	return path, db
}

// Rows that another program has added stand beside the file until it is closed, and
// reading the file alone would lose them without a word.
func TestPendingChangesAreNotLost(t *testing.T) {
	path, db := opened(t, "PRAGMA journal_mode = WAL", "PRAGMA wal_autocheckpoint = 0", `INSERT INTO "my fields" (name) VALUES ('a'), ('b'), ('c')`)
	about, err := os.Stat(path + "-wal")
	require.NoError(t, err)
	require.Positive(t, about.Size())
	alone, err := os.ReadFile(path)
	require.NoError(t, err)
	c, err := geofile.Decode("counts.gpkg", bytes.NewReader(alone), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 2, "the rows are not in the file itself")

	link := filepath.Join(t.TempDir(), "link.gpkg")
	require.NoError(t, os.Symlink(path, link))
	for _, name := range []string{path, link} {
		_, err = geofile.Read(name, geofile.Limits{})
		assert.EqualError(t, err, "counts.gpkg: a part of it still stands in counts.gpkg-wal")
		var e *geofile.Error
		require.True(t, errors.As(err, &e))
		assert.Contains(t, e.Hint, "close the program that has it open")
	}
	// As the hint says.
	require.NoError(t, db.Close())
	c, err = geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, c.Features, 5)
}

// A journal that is still to be played back tells that the file holds half a change;
// one that was done with does not.
func TestBrokenOffChangesAreRefused(t *testing.T) {
	path, db := opened(t, "PRAGMA journal_mode = PERSIST", `INSERT INTO "my fields" (name) VALUES ('a')`)
	_, err := os.Stat(path + "-journal")
	require.NoError(t, err)
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, c.Features, 3)
	tx, err := db.Begin()
	require.NoError(t, err)
	defer tx.Rollback()
	for range 200 { // more than stays in memory
		_, err = tx.Exec(`INSERT INTO "my fields" (name) VALUES (hex(zeroblob(50000)))`)
		require.NoError(t, err)
	}
	_, err = geofile.Read(path, geofile.Limits{})
	assert.EqualError(t, err, "counts.gpkg: a part of it still stands in counts.gpkg-journal")
}
