package geofile_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// hostile are texts that XML, viewers or a writer by patterns may stumble over.
var hostile = []string{
	"\uE000", "", " ", "Stop 7", "\n", "a\nb", "\r\n", "\t", "\x00", "\xff\xfe", "\xe2\x82\n", "\uFFFD", "\uFFFE", "\U0001F41B", "ñandú",
	`<script>&amp;"'`, "]]>", "0,0", "<coordinates>0,0</coordinates>", "a\u2028b\u0085c", "~\x7f", "#", "-0",
	"O'", `5"`, "<", ">", "&",
}

var values = []any{nil, true, int64(-3), 0.0, 0.1, 1e21, 1e-9, -1.5, math.NaN(), math.Inf(1)}

// hostileMarks are of many shapes, among them more kinds of points than are met in a map.
func hostileMarks() (marks []geofile.Placemark) {
	for i, text := range hostile {
		other := hostile[(i+7)%len(hostile)]
		p := geofile.Placemark{Name: text, Description: other, Style: []string{"a", "b", "", "unknown"}[i%4], Hidden: i%5 == 1, Geometry: orb.Point{float64(i) / 7, -float64(i) / 3}}
		for k := range 4 {
			p.Data = append(p.Data, geo.Property{Name: fmt.Sprint("n", k), Value: append(values, text, other)[(i+5*k)%(len(values)+2)]})
		}
		odd, spanned, line, high := p, p, p, p
		odd.Data = append(slices.Clone(p.Data), geo.Property{Name: text, Value: other})
		spanned.Begin = time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
		line.Geometry = orb.LineString{{0, 0}, {1, float64(i + 1)}}
		height := 20.0
		high.Above = &height
		marks = append(marks, p, odd, p, odd, spanned, line, high, geofile.Placemark{Name: text, Geometry: orb.Point{0, 0}})
	}
	return marks
}

// Placemarks that are filled into the form of others are byte for byte as the library writes
// each, which it does with the first of a kind in a folder.
func TestPlacemarksAreAsTheLibraryWritesThem(t *testing.T) {
	styles := []geofile.Style{{ID: "a"}, {ID: "b"}}
	write := func(folders ...geofile.Folder) string {
		var b strings.Builder
		assert.NoError(t, geofile.WriteKML(&b, geofile.Document{Styles: styles, Folders: folders}))
		return b.String()
	}
	marks := hostileMarks()
	for range 2 { // the other way round too, as the form is taken of what comes first
		var alone []geofile.Folder
		for i := range marks {
			alone = append(alone, geofile.Folder{Name: "f", Placemarks: marks[i : i+1]})
		}
		want := strings.Split(strings.ReplaceAll(write(alone...), "\n  </Folder>\n  <Folder>\n   <name>f</name>", ""), "\n")
		got := strings.Split(write(geofile.Folder{Name: "f", Each: slices.Values(marks)}), "\n")
		require.Len(t, got, len(want))
		for i := range want {
			require.Equal(t, want[i], got[i], i)
		}
		slices.Reverse(marks)
	}
}
