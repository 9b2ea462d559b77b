package geofile_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// What stands over the ground is written with its height, areas as walls; the rest lies on
// it. Folders within folders and placemarks in none are written too.
func TestKMLOverTheGround(t *testing.T) {
	three := 3.0
	line := orb.LineString{{-101.6, 35.9}, {-101.59, 35.91}}
	area := orb.Polygon{{{-101.6, 35.9}, {-101.59, 35.9}, {-101.59, 35.91}, {-101.6, 35.9}}}
	d := geofile.Document{Name: "d", Styles: []geofile.Style{{ID: "known"}},
		Placemarks: []geofile.Placemark{{Name: "alone", Geometry: line, Style: "unknown"}},
		Folders: []geofile.Folder{{Name: "grower", Folders: []geofile.Folder{{Name: "field", Placemarks: []geofile.Placemark{
			{Name: "way", Geometry: line, Above: &three, Style: "unknown"}, {Name: "mast", Geometry: area, Above: &three, Style: "known"}, {Name: "flat", Geometry: area},
		}}}}}}
	var b bytes.Buffer
	require.NoError(t, geofile.WriteKML(&b, d))
	text := strings.Join(strings.Fields(b.String()), "")
	for _, want := range []string{
		"<Folder><name>grower</name><Folder><name>field</name><Placemark><name>way</name>",
		"<LineString><altitudeMode>relativeToGround</altitudeMode><coordinates>-101.6,35.9,3-101.59,35.91,3</coordinates>",
		"<Polygon><extrude>1</extrude><altitudeMode>relativeToGround</altitudeMode><outerBoundaryIs><LinearRing><coordinates>-101.6,35.9,3",
		"<styleUrl>#known</styleUrl>",
		"</Folder></Folder><Placemark><name>alone</name><LineString><tessellate>1</tessellate><coordinates>-101.6,35.9-101.59,35.91<",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "unknown")
	assert.Equal(t, 2, strings.Count(text, "<tessellate>"))

	c, err := geofile.Decode("d.kml", bytes.NewReader(b.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, c.Features, 4)
	d.Folders[0].Folders[0].Placemarks[0].Geometry = orb.LineString{{-101.6, 95}, {0, 0}}
	assert.ErrorContains(t, geofile.WriteKML(&b, d), "KML folder field: feature 1")
	d.Placemarks[0].Geometry, d.Folders = orb.LineString{}, nil
	assert.Error(t, geofile.WriteKML(&b, d))
}

// Each way is a route of its own, with waypoints under the same names.
func TestGPXOfSeveralWays(t *testing.T) {
	at := func(name string, x float64) geofile.Placemark {
		return geofile.Placemark{Name: name, Geometry: orb.Point{x, 35.9}}
	}
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGPX(&b, geofile.Route{Name: "all", Ways: []geofile.Way{
		{Name: "block 1", Points: []geofile.Placemark{at("P1-ON", -101.6), at("P1-OFF", -101.5)}}, {Name: "empty"}, {Name: "A-B", Description: "no pass", Points: []geofile.Placemark{at("A", -101.4), at("B", -101.3)}},
	}}))
	text := strings.Join(strings.Fields(b.String()), "")
	assert.Equal(t, 2, strings.Count(text, "<rte>"))
	assert.Equal(t, 4, strings.Count(text, "<wpt"))
	assert.Contains(t, text, `<rte><name>A-B</name><desc>nopass</desc><rteptlat="35.9000000"lon="-101.4000000"><name>A</name></rtept>`)
	assert.Error(t, geofile.WriteGPX(&b, geofile.Route{Ways: []geofile.Way{{Points: []geofile.Placemark{{Geometry: orb.LineString{}}}}}}))
}

// Columns are those of all features, as they come.
func TestColumnsOfALaterFeatureAreKept(t *testing.T) {
	l := ground()
	l.Features[1].Properties = append(l.Features[1].Properties, l.Features[1].Properties[0])
	assert.Error(t, geofile.WriteShapefile(&bytes.Buffer{}, l), "a name twice")
	l = ground()
	l.Features[1].Properties[0].Name = "other"
	var b bytes.Buffer
	require.NoError(t, geofile.WriteShapefile(&b, l))
	c, err := geofile.Decode("ground.zip", bytes.NewReader(b.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	got, _ := c.Features[1].Properties.Get("other")
	assert.Equal(t, "b", got)
	missing, there := c.Features[0].Properties.Get("other")
	assert.True(t, there)
	assert.Nil(t, missing)
}
