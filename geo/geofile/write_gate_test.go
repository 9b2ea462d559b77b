package geofile_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func one(g orb.Geometry) geofile.FeatureCollection {
	return geofile.FeatureCollection{Features: []geo.Feature{{Geometry: g}}}
}

func placemarks(ps ...geofile.Placemark) geofile.Document {
	return geofile.Document{Styles: document().Styles, Folders: []geofile.Folder{{Placemarks: ps}}}
}

// RFC 7946 §3.1.6 (rings), §3.1.9 (antimeridian), RFC 7493 §2.3 (names).
func TestWhatTheWriteGateKeepsOut(t *testing.T) {
	for name, c := range map[string]struct {
		geometry orb.Geometry
		want     string
	}{
		"across the antimeridian": {orb.Polygon{{{179, 0}, {-179, 0}, {-179, 1}, {179, 0}}}, "more than 180 degrees of longitude"},
		"a line across it":        {orb.MultiLineString{{{179, 0}, {-179, 0}}}, "more than 180 degrees of longitude"},
		"an empty multipolygon":   {orb.MultiPolygon{}, "an empty MultiPolygon"},
		"a line of one position":  {orb.LineString{{1, 2}}, "a LineString of 1 position"},
		"a line of one place":     {orb.LineString{{1, 2}, {1, 2.00000001}}, "nothing of it is left at 7 decimals"},
		"a ring of one place":     {orb.Polygon{{{1, 2}, {1, 2.00000001}, {1.00000001, 2}, {1, 2}}}, "nothing of it is left at 7 decimals"},
		"a ring without area":     {orb.MultiPolygon{{{{0, 0}, {1, 0}, {2, 0}, {0, 0}}}}, "nothing of it is left"},
		"an infinite one":         {orb.MultiPoint{{math.Inf(1), 2}}, "+Inf, 2 is no longitude"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			assert.ErrorContains(t, geofile.WriteGeoJSON(&b, one(c.geometry)), c.want)
			assert.ErrorContains(t, geofile.WriteKML(&b, placemarks(geofile.Placemark{Geometry: c.geometry})), c.want)
			assert.Zero(t, b.Len())
		})
	}
	twice := geo.Properties{{Name: "a"}, {Name: "a"}}
	var b bytes.Buffer
	assert.ErrorContains(t, geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: []geo.Feature{{Properties: twice}}}), `the name "a" stands twice`)
	assert.ErrorContains(t, geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Foreign: twice}), `the name "a" stands twice`)
	for _, name := range []string{"crs", "features", "coordinates"} {
		assert.ErrorContains(t, geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Foreign: geo.Properties{{Name: name}}}), "GeoJSON's own")
	}
	assert.Zero(t, b.Len())
}

func TestRoundingComesBeforeTheRest(t *testing.T) {
	small := orb.Ring{{0.5, 0.5}, {0.50000001, 0.5}, {0.5, 0.50000001}, {0.5, 0.5}}
	text := geoJSON(t, one(orb.Polygon{{{0, 0}, {1, 0}, {1, 0.00000001}, {1, 1}, {0, 0}}, small}))
	assert.Contains(t, text, `"coordinates":[[[0,0],[1,0],[1,1],[0,0]]]`, "a repeated position and a hole of no width are dropped")
	text = geoJSON(t, one(orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, {small}}))
	assert.Contains(t, text, `"coordinates":[[[[0,0],[1,0],[1,1],[0,0]]]]`)
	// Clockwise as given, counter-clockwise once the second latitude is rounded up.
	text = geoJSON(t, one(orb.Polygon{{{0, 0}, {0.5, 0.00000006}, {1, 0.00000014}, {0, 0}}}))
	assert.Contains(t, text, `[[0,0],[1,0.0000001],[0.5,0.0000001],[0,0]]`)
	assert.NotContains(t, geoJSON(t, one(orb.Point{-1e-9, 0})), "-0", "no negative zero")
}

func TestGeometriesAreNotChanged(t *testing.T) {
	given := orb.MultiPolygon{{{{0, 0}, {0, 1.00000001}, {1, 1}, {1, 1}, {0, 0}}}}
	kept := given.Clone()
	geoJSON(t, one(given))
	require.NoError(t, geofile.WriteKML(&bytes.Buffer{}, placemarks(geofile.Placemark{Geometry: given})))
	assert.Equal(t, kept, given)
}

// Whatever its winding, a star-shaped polygon with a hole reads back with the
// same vertices, each within half of the last decimal.
func TestRoundTrip(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		centre := orb.Point{rapid.Float64Range(-179, 179).Draw(t, "lon"), rapid.Float64Range(-89, 89).Draw(t, "lat")}
		star := func(radius float64) orb.Ring {
			n := rapid.IntRange(3, 40).Draw(t, "n")
			var r orb.Ring
			for i := range n {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				d := radius * rapid.Float64Range(0.8, 1).Draw(t, "d")
				r = append(r, orb.Point{centre[0] + d*cos, centre[1] + d*sin})
			}
			r = append(r, r[0])
			if rapid.Bool().Draw(t, "reversed") {
				r.Reverse()
			}
			return r
		}
		want := orb.Polygon{star(0.01), star(0.003)}
		var j, k bytes.Buffer
		require.NoError(t, geofile.WriteGeoJSON(&j, one(want)))
		require.NoError(t, geofile.WriteKML(&k, placemarks(geofile.Placemark{Geometry: want})))
		for name, b := range map[string]*bytes.Buffer{"f.geojson": &j, "f.kml": &k} {
			c, err := geofile.Decode(name, b, geofile.Limits{})
			require.NoError(t, err)
			got := c.Features[0].Geometry.(orb.Polygon)
			require.Len(t, got, len(want))
			for i, ring := range got {
				require.Equal(t, []orb.Orientation{orb.CCW, orb.CW}[i], ring.Orientation())
				if ring.Orientation() != want[i].Orientation() {
					ring = ring.Clone()
					slices.Reverse(ring)
				}
				require.Len(t, ring, len(want[i]))
				for v := range ring {
					require.InDelta(t, want[i][v][0], ring[v][0], 0.51e-7)
					require.InDelta(t, want[i][v][1], ring[v][1], 0.51e-7)
				}
			}
		}
	})
}

func TestStyles(t *testing.T) {
	for name, c := range map[string]struct {
		styles []geofile.Style
		want   string
	}{
		"no ID":       {[]geofile.Style{{}}, `"" is no ID`},
		"a blank":     {[]geofile.Style{{ID: "no data"}}, `"no data" is no ID`},
		"a digit":     {[]geofile.Style{{ID: "1a"}}, `"1a" is no ID`},
		"twice":       {[]geofile.Style{{ID: "a"}, {ID: "a"}}, "stands twice"},
		"not a width": {[]geofile.Style{{ID: "a", Width: math.NaN()}}, "a size of NaN"},
		"below zero":  {[]geofile.Style{{ID: "a", LabelScale: -1}}, "a size of -1"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			assert.ErrorContains(t, geofile.WriteKML(&b, geofile.Document{Styles: c.styles}), c.want)
			assert.Zero(t, b.Len())
		})
	}
}

// OGC 07-147r2: visibility stands between name and description, LabelStyle
// between IconStyle and LineStyle; xmllint checks the same by the schema.
func TestHiddenPlacemarksAndLabels(t *testing.T) {
	d := placemarks(
		geofile.Placemark{Name: "seen", Style: "treat", Geometry: orb.Point{1, 2}},
		geofile.Placemark{Name: "hidden", Description: "d", Style: "no data", Geometry: orb.Point{1, 2}, Hidden: true},
	)
	d.Styles[0].LabelScale = 0.5
	var b bytes.Buffer
	require.NoError(t, geofile.WriteKML(&b, d))
	assert.Regexp(t, `(?s)</IconStyle>\s*<LabelStyle>\s*<scale>0.5</scale>\s*</LabelStyle>\s*<LineStyle>`, b.String())
	assert.Regexp(t, `(?s)<name>hidden</name>\s*<visibility>0</visibility>\s*<description>d</description>\s*<Point>`, b.String(), "and no link to a style that is not there")
	assert.Equal(t, 1, strings.Count(b.String(), "<styleUrl>"))
	assert.Equal(t, 1, strings.Count(b.String(), "<visibility>"))
	checkKML(t, b.Bytes())
}
