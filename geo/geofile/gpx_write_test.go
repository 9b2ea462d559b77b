package geofile_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func routeOfThree() geofile.Route {
	square := orb.Polygon{{{10, 50}, {11, 50}, {11, 51}, {10, 51}, {10, 50}}}
	return geofile.Route{
		Name: "North & <South>", Description: "three stops",
		Points: []geofile.Placemark{
			{Name: "1", Geometry: orb.Point{10.5, 50.25}},
			{Name: "2", Description: "edge", Geometry: orb.Point{1e-7, -1e-7}},
			{Name: "3", Geometry: orb.Point{180, 0}},
		},
		Outlines: []geofile.Placemark{{Name: "field", Geometry: square}},
	}
}

func TestGPXKeepsToItsSchema(t *testing.T) {
	schema := testkit.Shared(t, "schemas", "gpx", "gpx11-restated.xsd")
	xmllint, err := exec.LookPath("xmllint")
	if err != nil {
		testkit.Missing(t, "xmllint")
	}
	for name, route := range map[string]geofile.Route{"three": routeOfThree(), "empty": {}} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, geofile.WriteGPX(&b, route))
			path := filepath.Join(t.TempDir(), "r.gpx")
			require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
			out, err := exec.Command(xmllint, "--nonet", "--noout", "--schema", schema, path).CombinedOutput()
			assert.NoError(t, err, "%s", out)
		})
	}
}

func TestGPXIsReadBack(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGPX(&b, routeOfThree()))
	c, err := geofile.Decode("r.gpx", &b, geofile.Limits{})
	require.NoError(t, err)
	var points []orb.Point
	for _, f := range c.Features {
		if p, ok := f.Geometry.(orb.Point); ok {
			points = append(points, p)
		}
	}
	assert.Equal(t, []orb.Point{{10.5, 50.25}, {1e-7, -1e-7}, {-180, 0}}, points)
}

func TestGPXRefusals(t *testing.T) {
	for name, p := range map[string]geofile.Placemark{
		"no geometry": {}, "a line": {Geometry: orb.LineString{{0, 0}, {1, 1}}}, "no place": {Geometry: orb.Point{500, 0}},
	} {
		assert.Error(t, geofile.WriteGPX(&strings.Builder{}, geofile.Route{Points: []geofile.Placemark{p}}), name)
		assert.Error(t, geofile.WriteGPX(&strings.Builder{}, geofile.Route{Outlines: []geofile.Placemark{p}}), name)
	}
}
