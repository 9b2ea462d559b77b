package engine

import (
	"fmt"
	"io"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// A full disk is one error, on one line.
func TestAFullDiskWhileKMLIsMade(t *testing.T) {
	var d geofile.Document
	for i := range 2000 { // more than is kept before it is written
		d.Styles = append(d.Styles, geofile.Style{ID: fmt.Sprintf("s%d", i), Scale: 1})
	}
	for _, f := range kmlFilesAlone(d) {
		err := f.write(full{})
		require.ErrorIs(t, err, syscall.ENOSPC, f.name)
		assert.NotContains(t, err.Error(), "\n", f.name)
		require.NoError(t, f.write(io.Discard), f.name)
	}
}
