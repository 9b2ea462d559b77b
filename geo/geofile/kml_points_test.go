package geofile_test

import (
	"bytes"
	"fmt"
	"iter"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

func numbered(from, to int) iter.Seq[geofile.Placemark] {
	return func(yield func(geofile.Placemark) bool) {
		for i := from; i < to; i++ {
			if !yield(geofile.Placemark{Name: fmt.Sprint(i), Geometry: orb.Point{-101.6, 35.9}}) {
				return
			}
		}
	}
}

func kmlOf(t *testing.T, folders ...geofile.Folder) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, geofile.WriteKML(&b, geofile.Document{Name: "d", Folders: folders}))
	return b.String()
}

// Many placemarks of a folder, of which most are written past the encoder, stand in it as in
// folders of one: in their order and on the same lines, in folders within others too.
func TestManyPlacemarksStandInTheirOrder(t *testing.T) {
	for _, n := range []int{1, 2, 3, 2000} {
		var few []geofile.Folder
		for from := 0; from < n; from++ {
			few = append(few, geofile.Folder{Name: "f", Each: numbered(from, from+1)})
		}
		between := "\n  </Folder>\n  <Folder>\n   <name>f</name>"
		want := strings.ReplaceAll(kmlOf(t, few...), between, "")
		many := geofile.Folder{Name: "f", Each: numbered(0, n)}
		if got := kmlOf(t, many); !assert.Equal(t, want, got, n) {
			return
		}
		within := kmlOf(t, geofile.Folder{Name: "g", Folders: []geofile.Folder{many}, Each: numbered(0, n)})
		for _, depth := range []int{3, 4} {
			assert.Equal(t, n, strings.Count(within, "\n"+strings.Repeat(" ", depth)+"<Placemark>"), n)
		}
	}
}

// What cannot be written is told by its number, and the first of several.
func TestOneOfManyPlacemarksCannotBeWritten(t *testing.T) {
	all := slices.Collect(numbered(0, 1000))
	for _, bad := range []int{300, 998, 999} {
		all[bad].Geometry = orb.Point{-101.6, 95}
	}
	var b bytes.Buffer
	err := geofile.WriteKML(&b, geofile.Document{Folders: []geofile.Folder{{Name: "f", Each: slices.Values(all)}}})
	assert.ErrorContains(t, err, "KML folder f: feature 301")
}
