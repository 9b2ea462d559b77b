//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whoever waits in vain says why, and the file stays as it was.
func TestAWriterThatWaitsInVainSaysWhy(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	holder, err := OpenToAdd(path)
	require.NoError(t, err)
	defer holder.Close()
	waiting, err := connect(path, 10*time.Millisecond)
	require.NoError(t, err)
	defer waiting.Close()
	v := Visit{Date: "2031-08-14", Files: []File{{"week.csv", []byte("stop")}}}
	require.NoError(t, holder.update(func(*sql.Tx) error {
		_, err := waiting.Add(v)
		assert.ErrorContains(t, err, "s.gpkg: another program is writing to it; try again")
		return nil
	}))
	_, err = waiting.Add(v)
	assert.NoError(t, err)
	lines, err := holder.List()
	require.NoError(t, err)
	assert.Len(t, lines, 1)
}
