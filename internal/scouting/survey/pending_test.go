package survey_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Counts that another program has not yet put into the file are not passed over.
func TestCountsBesideAGeoPackageAreNotLost(t *testing.T) {
	path := filepath.Join(t.TempDir(), "counts.gpkg")
	require.NoError(t, os.WriteFile(path, []byte("SQLite format 3\x00"), 0o600))
	require.NoError(t, os.WriteFile(path+"-wal", []byte("rows"), 0o600))
	_, err := survey.Read(given.Files(t, path), survey.Options{})
	assert.ErrorContains(t, err, "a part of it still stands in counts.gpkg-wal")
}
