package geofile_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// OGC 07-147r2 §9.1.3: TimeSpan stands before styleUrl, with begin before end,
// and an end left out is open.
func TestPlacemarksMayHoldForATimeOnly(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2031, 8, d, 0, 0, 0, 0, time.UTC) }
	var b bytes.Buffer
	require.NoError(t, geofile.WriteKML(&b, geofile.Document{Styles: []geofile.Style{{ID: "treat"}}, Folders: []geofile.Folder{{Placemarks: []geofile.Placemark{
		{Name: "both", Style: "treat", Geometry: orb.Point{1, 2}, Begin: day(14), End: day(21)},
		{Name: "open", Geometry: orb.Point{1, 2}, Begin: day(21)},
		{Name: "always", Geometry: orb.Point{1, 2}},
	}}}}))
	text := b.String()
	assert.Regexp(t, `(?s)<name>both</name>\s*<TimeSpan>\s*<begin>2031-08-14T00:00:00Z</begin>\s*<end>2031-08-21T00:00:00Z</end>\s*</TimeSpan>\s*<styleUrl>`, text)
	assert.Regexp(t, `(?s)<name>open</name>\s*<TimeSpan>\s*<begin>2031-08-21T00:00:00Z</begin>\s*</TimeSpan>`, text)
	assert.Regexp(t, `(?s)<name>always</name>\s*<Point>`, text)
}
