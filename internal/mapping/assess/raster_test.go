package assess_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// slope is a field near a corner of UTM zone 14 with a surface that is a plane in
// the field's metres, so that bilinear interpolation gives it back exactly.
func slope(t testing.TB) *assess.MetricField {
	t.Helper()
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	g := &assess.MetricField{Frame: frame, XY: orb.MultiPolygon{{{{-300, -200}, {300, -250}, {280, 240}, {-290, 200}, {-300, -200}}}}}
	grid := interp.NewGrid(interp.Lattice{X0: -310, Y0: -260, Cell: 10, Cols: 63, Rows: 53})
	for i := range grid.Values {
		x, y := grid.Node(i%grid.Cols, i/grid.Cols)
		grid.Values[i] = plane(x, y)
	}
	g.Surface.Value = grid
	return g
}

func plane(x, y float64) float64 { return 50 + x/10 - y/20 }

// Twenty places given in degrees: GDAL, which turns them into UTM by itself, reads
// from the file the value of the plane to within what half a cell's diagonal makes
// of it, and exactly that of the middle of its cell.
func TestGDALReadsTheSurfaceWhereItIs(t *testing.T) {
	tool, err := exec.LookPath("gdallocationinfo")
	if err != nil {
		testkit.Missing(t, "gdallocationinfo")
	}
	g := slope(t)
	r, err := assess.RasterOf([]*assess.MetricField{g})
	require.NoError(t, err)
	assert.Equal(t, 14, r.Zone)
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoTIFF(&b, geofile.Raster{
		Zone: r.Zone, North: r.North, West: r.West, NorthEdge: r.NorthEdge, Cell: r.Cell, Cols: r.Cols, Rows: r.Rows, Values: r.Values,
	}))
	path := filepath.Join(t.TempDir(), "surface.tif")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	utm, err := geo.NewUTM(14, true)
	require.NoError(t, err)
	for i := range 20 {
		xy := orb.Point{-250 + 25*float64(i), -150 + 15*float64(i*7%20)}
		lonlat := g.Frame.Inverse(xy)
		out, err := exec.Command(tool, "-valonly", "-wgs84", path, fmt.Sprint(lonlat[0]), fmt.Sprint(lonlat[1])).CombinedOutput()
		require.NoError(t, err, string(out))
		got, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		require.NoError(t, err)
		en := utm.Forward(lonlat)
		middle := orb.Point{
			r.West + (math.Floor((en[0]-r.West)/r.Cell)+0.5)*r.Cell,
			r.NorthEdge - (math.Floor((r.NorthEdge-en[1])/r.Cell)+0.5)*r.Cell,
		}
		at := g.Frame.Forward(utm.Inverse(middle))
		assert.InDelta(t, plane(at[0], at[1]), got, 1e-4)
		assert.InDelta(t, plane(xy[0], xy[1]), got, 10*(0.1+0.05)/2+0.01)
	}
}

// All of the field is in the raster, and nothing else has a value.
func TestTheRasterCoversTheField(t *testing.T) {
	g := slope(t)
	r, err := assess.RasterOf([]*assess.MetricField{g})
	require.NoError(t, err)
	with := 0
	for _, v := range r.Values {
		if !math.IsNaN(float64(v)) {
			with++
		}
	}
	utmScale := 1.0002 // squared of about 1.0001 here, 0.9996 at the middle of the zone
	assert.InEpsilon(t, geo.Area(g.XY), float64(with)*r.Cell*r.Cell*utmScale, 0.01)
	two, err := assess.RasterOf([]*assess.MetricField{g, g})
	require.NoError(t, err)
	assert.Equal(t, len(r.Values), len(two.Values))
}

func TestFieldsTooFarApartForOneRaster(t *testing.T) {
	a, b := slope(t), slope(t)
	var err error
	b.Frame, err = geo.NewFrame(orb.Point{-90, 45})
	require.NoError(t, err)
	_, err = assess.RasterOf([]*assess.MetricField{a, b})
	require.ErrorContains(t, err, "too far apart")
	_, err = assess.RasterOf(nil)
	require.Error(t, err)
}

// The edges of the grid in degrees enclose the field within half a cell each, and
// each cell has the plane's value at its middle.
func TestDegrees(t *testing.T) {
	g := slope(t)
	d := g.Degrees()
	box := geo.Bound(g.Frame.InversePolygons(g.XY))
	corner := g.Frame.Inverse(orb.Point{10, 10})
	dLon, dLat := corner[0]+101.6, corner[1]-35.9
	const half = 0.502 // of a cell, with what the box in metres bulges in degrees
	assert.InDelta(t, box.Min[0], d.West, half*dLon)
	assert.InDelta(t, box.Max[1], d.North, half*dLat)
	assert.InDelta(t, box.Max[0], d.East, half*dLon)
	assert.InDelta(t, box.Min[1], d.South, half*dLat)
	seen := 0
	for i, v := range d.Values {
		if math.IsNaN(v) {
			continue
		}
		seen++
		xy := g.Frame.Forward(orb.Point{
			d.West + (float64(i%d.Cols)+0.5)*(d.East-d.West)/float64(d.Cols),
			d.North - (float64(i/d.Cols)+0.5)*(d.North-d.South)/float64(d.Rows),
		})
		assert.InDelta(t, plane(xy[0], xy[1]), v, 1e-6)
	}
	assert.InEpsilon(t, geo.Area(g.XY)/100, float64(seen), 0.02)
}
