package geofile_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
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

// OGC 07-147r2 §15: a placemark is of a time, or of a span of it.
func TestTimesOfPlacemarksAreProperties(t *testing.T) {
	c, err := geofile.Decode("walk.kml", strings.NewReader(`<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="urn:ext"><Document>
<TimeStamp><when>1999-01-01</when></TimeStamp>
<Placemark><name>1</name><TimeStamp id="a"><when> 2026-07-15T01:30:00Z </when></TimeStamp><Point><coordinates>1,2</coordinates></Point></Placemark>
<Placemark><name>2</name><TimeSpan><begin>2026-07-14T20:30:00-05:00</begin><end>2026-07-15</end></TimeSpan><Point><coordinates>1,2</coordinates></Point></Placemark>
<Placemark><name>3</name><LookAt><gx:TimeStamp><when>1999</when></gx:TimeStamp></LookAt><TimeSpan><end>2026-07-15</end></TimeSpan><Point><coordinates>1,2</coordinates></Point></Placemark>
</Document></kml>`), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 3)
	assert.Equal(t, geo.Properties{{Name: "name", Value: "1"}, {Name: "when", Value: "2026-07-15T01:30:00Z"}}, c.Features[0].Properties)
	assert.Equal(t, geo.Properties{{Name: "name", Value: "2"}, {Name: "begin", Value: "2026-07-14T20:30:00-05:00"}}, c.Features[1].Properties)
	assert.Equal(t, geo.Properties{{Name: "name", Value: "3"}}, c.Features[2].Properties, "what a view shows is no time of the placemark")
}
