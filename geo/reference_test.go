package geo_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The reference tables are described in testdata/reference/geodesy/SOURCE.md:
// GeographicLib 2.1.2, checked against PROJ 9.1.1.

const (
	earthRadius = 6371008.8 // mean radius of WGS 84, metres (IUGG R1)
	micrometre  = 1e-6
)

func reference(t testing.TB, name string) testkit.Table {
	t.Helper()
	return testkit.ReadTable(t, testkit.Testdata(t, "reference", "geodesy", name))
}

func number(t testing.TB, tb testkit.Table, row int, column string) float64 {
	t.Helper()
	v, ok := tb.Number(t, row, column)
	require.True(t, ok, "row %d has no %s", row+1, column)
	return v
}

// referencePolygons reads polygons.geojson by name.
func referencePolygons(t testing.TB) map[string]orb.MultiPolygon {
	t.Helper()
	data, err := os.ReadFile(testkit.Testdata(t, "reference", "geodesy", "polygons.geojson"))
	require.NoError(t, err)
	var collection struct {
		Features []struct {
			Properties struct{ Name string }
			Geometry   struct{ Coordinates orb.Polygon }
		}
	}
	require.NoError(t, json.Unmarshal(data, &collection))
	polygons := map[string]orb.MultiPolygon{}
	for _, f := range collection.Features {
		polygons[f.Properties.Name] = orb.MultiPolygon{f.Geometry.Coordinates}
	}
	return polygons
}

// project takes a boundary to the metres of its own frame.
func project(t testing.TB, boundary orb.MultiPolygon) orb.MultiPolygon {
	t.Helper()
	frame, err := geo.FrameOf(boundary)
	require.NoError(t, err)
	return frame.ForwardPolygons(boundary)
}

// TestAreaAgainstGeodesics allows for what a plane costs: at x from the central
// meridian areas are too large by (x/R)², and a straight edge leaves the
// geodesic by as much again. Half of the larger side stands for x. The table is
// printed to 1e-4 m², and 9 decimals of a degree are 0.1 mm on the ground.
func TestAreaAgainstGeodesics(t *testing.T) {
	table := reference(t, "polygons_area.csv")
	polygons := referencePolygons(t)
	require.Equal(t, 40, table.Len())
	for row := range table.Len() {
		name := table.Text(t, row, "name")
		t.Run(name, func(t *testing.T) {
			require.Contains(t, polygons, name)
			xy := project(t, polygons[name])
			want := number(t, table, row, "area_m2_geodesic")
			got := geo.Area(xy)

			const printed = 1e-4
			box := geo.Bound(xy)
			extent := math.Max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
			x := extent / 2
			assert.InDelta(t, want, got, printed+want*(x*x)/(earthRadius*earthRadius))

			// The promises in round numbers.
			switch {
			case extent < 3e3:
				assert.InDelta(t, want, got, printed+1e-7*want)
			case extent < 12e3:
				assert.InDelta(t, want, got, printed+1e-6*want)
			}
		})
	}
}

func TestAreaAcrossAntimeridian(t *testing.T) {
	polygons := referencePolygons(t)
	wrapped := polygons["cross_antimeridian_fiji"]
	unwrapped := polygons["cross_antimeridian_unwrapped"]
	require.NotEqual(t, wrapped, unwrapped)
	assert.InEpsilon(t, geo.Area(project(t, wrapped)), geo.Area(project(t, unwrapped)), 1e-12)
}

func TestClockwiseRingHasTheSameArea(t *testing.T) {
	polygons := referencePolygons(t)
	assert.InEpsilon(t,
		geo.Area(project(t, polygons["quarter_section_iowa"])),
		geo.Area(project(t, polygons["clockwise_quarter_section"])), 1e-12)
}

// TestDistanceAgainstGeodesics takes the lines a plane is for, up to 60 km, in
// the frame about the middle of each. Lines over a tenth of the globe, and the
// one over the pole, have no place in a field. The plane is too long by
// s·(s/R)²/24 where the line runs east and west (scale 1 + x²/2R², averaged
// over the line), and not at all along the meridian.
func TestDistanceAgainstGeodesics(t *testing.T) {
	table := reference(t, "distances.csv")
	used := 0
	for row := range table.Len() {
		want := number(t, table, row, "distance_m")
		a := orb.Point{number(t, table, row, "lon1"), number(t, table, row, "lat1")}
		b := orb.Point{number(t, table, row, "lon2"), number(t, table, row, "lat2")}
		if want > 60e3 || math.Abs(a.Lat()) > 84 {
			continue
		}
		used++
		t.Run(table.Text(t, row, "name"), func(t *testing.T) {
			frame, err := geo.FrameOf(orb.MultiPolygon{{{a, b}}})
			require.NoError(t, err)
			p, q := frame.Forward(a), frame.Forward(b)
			got := math.Hypot(q[0]-p[0], q[1]-p[1])
			tooLong := want * (want * want) / (24 * earthRadius * earthRadius)
			assert.InDelta(t, want, got, micrometre+1.01*tooLong)
		})
	}
	assert.Equal(t, 27, used, "lines that fit a plane")
}

// Along the central meridian a transverse Mercator at scale 1 is true at any
// length.
func TestMeridianIsTrueAtAnyLength(t *testing.T) {
	table := reference(t, "distances.csv")
	used := 0
	for row := range table.Len() {
		name := table.Text(t, row, "name")
		switch name {
		case "meridian_1deg_from_equator", "meridian_45_46", "quarter_meridian", "field_1km_N":
		default:
			continue
		}
		used++
		a := orb.Point{number(t, table, row, "lon1"), number(t, table, row, "lat1")}
		b := orb.Point{number(t, table, row, "lon2"), number(t, table, row, "lat2")}
		frame, err := geo.FrameOf(orb.MultiPolygon{{{a, b}}})
		require.NoError(t, err)
		got := frame.Forward(b)[1] - frame.Forward(a)[1]
		assert.InDelta(t, number(t, table, row, "distance_m"), got, 1e-8, name)
	}
	assert.Equal(t, 4, used)
}

// A millimetre would do for any use. The series keeps 10 nm, and only so small a
// tolerance shows a wrong coefficient of order n⁵.
func TestUTMAgainstGeoConvert(t *testing.T) {
	const tolerance = 1e-8 // metres
	table := reference(t, "utm_points.csv")
	require.Equal(t, 110, table.Len())
	for row := range table.Len() {
		t.Run(table.Text(t, row, "name"), func(t *testing.T) {
			lonlat := orb.Point{number(t, table, row, "lon"), number(t, table, row, "lat")}
			zone, north := geo.UTMZone(lonlat)
			require.EqualValues(t, number(t, table, row, "zone_official"), zone)
			require.Equal(t, table.Text(t, row, "hemisphere") == "n", north)

			for _, c := range []struct{ zone, easting, northing string }{
				{"zone_official", "easting_m", "northing_m"},
				{"zone_plain_6deg", "easting_plain_m", "northing_plain_m"},
			} {
				utm, err := geo.NewUTM(int(number(t, table, row, c.zone)), north)
				require.NoError(t, err)
				xy := utm.Forward(lonlat)
				assert.InDelta(t, number(t, table, row, c.easting), xy[0], tolerance)
				assert.InDelta(t, number(t, table, row, c.northing), xy[1], tolerance)
				assertSamePlace(t, lonlat, utm.Inverse(xy))
			}
		})
	}
}

// assertSamePlace allows a micrometre, and a whole turn between 180 and -180.
func assertSamePlace(t assert.TestingT, want, got orb.Point) {
	const tolerance = micrometre / 111e3 // degrees of latitude
	assert.InDelta(t, want.Lat(), got.Lat(), tolerance)
	east := math.Remainder(want.Lon()-got.Lon(), 360) * math.Cos(want.Lat()*math.Pi/180)
	assert.InDelta(t, 0, east, tolerance)
	assert.LessOrEqual(t, math.Abs(got.Lon()), 180.0)
}

// The worked example of the Geocentric Datum of Australia Technical Manual,
// figures from memory: both ends on the grid of zone 55, and the line between.
// The manual gives millimetres and seconds to four decimals (3 mm), hence the
// tolerance of the grid.
func TestFlindersPeakBuninyong(t *testing.T) {
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	flinders := orb.Point{dms(144, 25, 29.52440), -dms(37, 57, 3.72030)}
	buninyong := orb.Point{dms(143, 55, 35.38390), -dms(37, 39, 10.15610)}

	utm, err := geo.NewUTM(55, false)
	require.NoError(t, err)
	p, q := utm.Forward(flinders), utm.Forward(buninyong)
	assert.InDelta(t, 273741.297, p[0], 0.001)
	assert.InDelta(t, 5796489.777, p[1], 0.001)
	assert.InDelta(t, 228854.052, q[0], 0.001)
	assert.InDelta(t, 5828259.038, q[1], 0.001)

	// On the frame about its middle the line is too long by its eastward extent
	// e: scale 1 + x²/2R² averaged over the line is 1 + e²/24R². What is left is
	// the next order.
	frame, err := geo.FrameOf(orb.MultiPolygon{{{flinders, buninyong}}})
	require.NoError(t, err)
	a, b := frame.Forward(flinders), frame.Forward(buninyong)
	e := b[0] - a[0]
	plane := math.Hypot(e, b[1]-a[1])
	assert.InDelta(t, 54972.271, plane/(1+e*e/(24*earthRadius*earthRadius)), 0.001)
	assert.Greater(t, plane-54972.271, 0.1, "the plane is not the ground at 55 km")
}

// Far from the central meridian the coefficients of order n⁶, worth 0.1 nm in a
// field, show. What the series leaves out is its next term: n⁷ times 1.10 on
// the way there and 0.0397 on the way back (Karney 2011, equations 35 and 36),
// growing as cosh 14η. At 60 degrees on the equator that is 13 µm.
func TestMercatorFarFromTheMeridian(t *testing.T) {
	const (
		radius       = 6367449.1458 // of the rectifying sphere, metres
		third        = 1 / (2*298.257223563 - 1)
		metresPerDeg = 111e3
		rounding     = 2e-8 // metres, 20 units in the last place of 8400 km
	)
	leftOut := func(coefficient, easting float64) float64 {
		return rounding + radius*coefficient*math.Pow(third, 7)*math.Cosh(14*easting/radius)
	}
	table := reference(t, "wide_mercator.csv")
	require.Equal(t, 12, table.Len())
	for row := range table.Len() {
		lonlat := orb.Point{number(t, table, row, "lon"), number(t, table, row, "lat")}
		want := orb.Point{number(t, table, row, "easting_m"), number(t, table, row, "northing_m")}

		got, tolerance := geo.Frame{}.Forward(lonlat), leftOut(1.10, want[0])
		assert.InDelta(t, want[0], got[0], tolerance, "easting of %v", lonlat)
		assert.InDelta(t, want[1], got[1], tolerance, "northing of %v", lonlat)

		back, tolerance := geo.Frame{}.Inverse(want), leftOut(0.0397, want[0])/metresPerDeg
		east := math.Cos(lonlat[1] * math.Pi / 180)
		assert.InDelta(t, lonlat[0]*east, back[0]*east, tolerance, "longitude of %v", lonlat)
		assert.InDelta(t, lonlat[1], back[1], tolerance, "latitude of %v", lonlat)
	}
}
