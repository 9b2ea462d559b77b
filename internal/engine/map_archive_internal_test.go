package engine

import (
	"bytes"
	"fmt"
	"io"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/geo/geofile"
)

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// long is more than is kept before it is written.
func long() (d geofile.Document) {
	for i := range 2000 {
		d.Styles = append(d.Styles, geofile.Style{ID: fmt.Sprintf("s%d", i), Scale: 1})
	}
	return d
}

// A full disk is one error, on one line.
func TestAFullDiskWhileKMLIsMade(t *testing.T) {
	for _, f := range kmlFilesAlone(long()) {
		err := f.write(full{})
		require.ErrorIs(t, err, syscall.ENOSPC, f.name)
		assert.NotContains(t, err.Error(), "\n", f.name)
		require.NoError(t, f.write(io.Discard), f.name)
	}
}

// The archive is the same whether it is asked for before the document, beside it, after it,
// or again.
func TestPackedInAnyOrder(t *testing.T) {
	d := long()
	var want bytes.Buffer
	require.NoError(t, geofile.WriteKMZ(&want, d))
	for _, order := range [][]int{{0, 1}, {1, 0}, {0, 1, 0, 1}, {0, 0, 1}, {0, 1, 1}, {1, 0, 1}} {
		files := kmlFilesAlone(d)
		for _, i := range order {
			var b bytes.Buffer
			require.NoError(t, files[i].write(&b))
			if i == 1 {
				assert.Equal(t, want.Bytes(), b.Bytes(), order)
			}
		}
	}
	files := kmlFilesAlone(d)
	var beside errgroup.Group
	var b bytes.Buffer
	beside.Go(func() error { return files[1].write(&b) })
	require.NoError(t, files[0].write(io.Discard))
	require.NoError(t, beside.Wait())
	assert.Equal(t, want.Bytes(), b.Bytes())
}
