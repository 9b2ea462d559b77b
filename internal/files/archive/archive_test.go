package archive_test

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/archive"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func packed(t *testing.T, names ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range names {
		part, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store, Extra: []byte("\x01\x99\x04\x00PK\x03\x04")})
		require.NoError(t, err)
		_, err = part.Write([]byte(strings.Repeat("what stands in "+name+"\n", 9)))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// Every bit of an archive is turned once: it is refused, or names and contents are the
// same.
func TestEveryBitOfAnArchive(t *testing.T) {
	raw := packed(t, "doc.kml", "a.dbf", "a.shp")
	contents := func(raw []byte) (all string, err error) {
		z, err := archive.Open(raw)
		if err != nil {
			return "", err
		}
		for _, part := range z.File {
			if _, err := archive.ReadWhole(part, 1<<20); err != nil {
				return "", err
			}
			var b bytes.Buffer
			r, err := part.Open()
			if err != nil {
				return "", err
			}
			if _, err := b.ReadFrom(r); err != nil {
				return "", err
			}
			all += part.Name + b.String()
		}
		return all, nil
	}
	want, err := contents(raw)
	require.NoError(t, err)
	refused := 0
	for bit := range 8 * len(raw) {
		damaged := bytes.Clone(raw)
		damaged[bit/8] ^= 1 << (bit % 8)
		got, err := contents(damaged)
		if err != nil {
			refused++
			continue
		}
		assert.Equal(t, want, got, "bit %d", bit)
	}
	assert.Greater(t, refused, 4*len(raw))
	for n := range raw {
		_, err := contents(raw[:n])
		assert.Error(t, err, "the first %d bytes", n)
	}
}

func TestOpenRefuses(t *testing.T) {
	raw := packed(t, "a.dbf", "a.shp")
	list := bytes.LastIndex(raw, []byte("a.dbf"))
	copy(raw[list:], "b.dbf")
	_, err := archive.Open(raw)
	assert.ErrorContains(t, err, `its list of contents names "b.dbf", and no such part is there`)
	_, err = archive.Open(packed(t, "a", "a"))
	assert.ErrorContains(t, err, `holds "a" twice`)
}

func TestReadWholeHasABound(t *testing.T) {
	z, err := archive.Open(packed(t, "a"))
	require.NoError(t, err)
	size := int64(z.File[0].UncompressedSize64)
	n, err := archive.ReadWhole(z.File[0], size)
	require.NoError(t, err)
	assert.Equal(t, size, n)
	_, err = archive.ReadWhole(z.File[0], size-1)
	assert.ErrorIs(t, err, archive.ErrMuch)
}
