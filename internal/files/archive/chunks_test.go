package archive_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/archive"
)

const chunk = 1 << 20

// text is what a file may hold: what repeats over long ways, and what does not.
func text(n int) []byte {
	var b bytes.Buffer
	for i := 0; b.Len() < n; i++ {
		fmt.Fprintf(&b, "<name>Stop %d</name><value>%d</value>\n", i, i*i%7919)
	}
	return b.Bytes()[:n]
}

// entries packs contents as doc.kml and a small file, in writes of some bytes.
func entries(t *testing.T, z *zip.Writer, content []byte, step int) {
	t.Helper()
	doc, err := archive.Add(z, "doc.kml")
	require.NoError(t, err)
	for from := 0; from < len(content); from += step {
		_, err := doc.Write(content[from:min(from+step, len(content))])
		require.NoError(t, err)
	}
	small, err := archive.Add(z, "a.txt")
	require.NoError(t, err)
	_, err = small.Write([]byte("small"))
	require.NoError(t, err)
	require.NoError(t, z.Close())
}

// Long entries are read back as they were; how many processors there are and how much was
// written at a time changes no byte, and short ones are packed as ever.
func TestLongEntriesArePackedInChunks(t *testing.T) {
	for _, n := range []int{0, chunk, chunk + 1, 2 * chunk, 4*chunk + 12345} {
		content := text(n)
		var first []byte
		for _, processors := range []int{1, 3} {
			func() {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
				var b bytes.Buffer
				entries(t, archive.NewWriter(&b), content, 100_003*processors)
				if first == nil {
					first = b.Bytes()
				}
				assert.True(t, bytes.Equal(first, b.Bytes()), "%d bytes by %d", n, processors)
			}()
		}
		z, err := archive.Open(first)
		require.NoError(t, err)
		r, err := z.File[0].Open()
		require.NoError(t, err)
		got, err := io.ReadAll(r)
		require.NoError(t, err, "%d bytes", n)
		assert.True(t, bytes.Equal(content, got), "%d bytes", n)
		var alone bytes.Buffer
		entries(t, zip.NewWriter(&alone), content, chunk)
		if n <= chunk {
			assert.True(t, bytes.Equal(alone.Bytes(), first), "%d bytes", n)
		}
		assert.Less(t, len(first), alone.Len()+alone.Len()/2000+100, "%d bytes: a piece knows what stood before it", n)
	}
}

// filling takes some bytes, as a disk does that fills up.
type filling int

var errFull = errors.New("full")

func (f *filling) Write(some []byte) (int, error) {
	if *f -= filling(len(some)); *f < 0 {
		return 0, errFull
	}
	return len(some), nil
}

// A full disk is told, and nothing is left running.
func TestChunksToAFullDisk(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, room := range []filling{0, 300_000} {
			z := archive.NewWriter(&room)
			doc, err := archive.Add(z, "doc.kml")
			require.NoError(t, err)
			if _, err = doc.Write(text(3 * chunk)); err == nil {
				err = z.Close()
			}
			assert.ErrorIs(t, err, errFull)
		}
	})
}
