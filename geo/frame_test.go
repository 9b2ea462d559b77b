package geo_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

var nan, inf = math.NaN(), math.Inf(1)

func TestNewFrame(t *testing.T) {
	tests := []struct {
		name   string
		centre orb.Point
		want   orb.Point
		err    string
	}{
		{name: "plain", centre: orb.Point{-93.63, 42.03}, want: orb.Point{-93.63, 42.03}},
		{name: "beyond the antimeridian", centre: orb.Point{181, -16}, want: orb.Point{-179, -16}},
		{name: "on the antimeridian", centre: orb.Point{-180, 0}, want: orb.Point{-180, 0}},
		{name: "northernmost", centre: orb.Point{0, 84}, want: orb.Point{0, 84}},
		{name: "too far north", centre: orb.Point{0, 84.1}, err: "latitude 84.1"},
		{name: "too far south", centre: orb.Point{0, -84.1}, err: "latitude -84.1"},
		{name: "swapped", centre: orb.Point{42.03, -93.63}, err: "is longitude first?"},
		{name: "longitude out of range", centre: orb.Point{447692, 42}, err: "longitude 447692"},
		{name: "longitude not a number", centre: orb.Point{nan, 42}, err: "longitude NaN"},
		{name: "longitude infinite", centre: orb.Point{-inf, 42}, err: "longitude -Inf"},
		{name: "latitude not a number", centre: orb.Point{0, nan}, err: "latitude NaN"},
		{name: "latitude infinite", centre: orb.Point{0, inf}, err: "latitude +Inf"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			frame, err := geo.NewFrame(tt.centre)
			if tt.err != "" {
				require.ErrorContains(t, err, tt.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, tt.want, frame.Centre())
			assert.Equal(t, orb.Point{0, 0}, frame.Forward(tt.centre))
		})
	}
}

func TestZeroFrameIsCentredOnZero(t *testing.T) {
	made, err := geo.NewFrame(orb.Point{0, 0})
	require.NoError(t, err)
	assert.Equal(t, made, geo.Frame{})
}

func box(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
}

func TestFrameOf(t *testing.T) {
	tests := []struct {
		name     string
		boundary orb.MultiPolygon
		want     orb.Point
		err      string
	}{
		{name: "box", boundary: box(10, 40, 10.5, 40.25), want: orb.Point{10.25, 40.125}},
		{name: "two parts", boundary: append(box(10, 40, 11, 41), box(12, 42, 13, 43)...), want: orb.Point{11.5, 41.5}},
		{name: "jumping at 180", boundary: box(179.5, -17, -179, -16), want: orb.Point{-179.75, -16.5}},
		{name: "running on beyond 180", boundary: box(179.5, -17, 181, -16), want: orb.Point{-179.75, -16.5}},
		{name: "running on beyond -180", boundary: box(-180.5, -17, -179, -16), want: orb.Point{-179.75, -16.5}},
		{name: "ending at 180 written -180", boundary: box(179, -17, -180, -16), want: orb.Point{179.5, -16.5}},
		{name: "an empty part", boundary: append(orb.MultiPolygon{{}}, box(10, 40, 11, 41)...), want: orb.Point{10.5, 40.5}},
		{name: "a hole does not count", boundary: orb.MultiPolygon{append(box(10, 40, 11, 41)[0], box(0, 0, 1, 1)[0]...)}, want: orb.Point{10.5, 40.5}},
		{name: "nothing", err: "no vertices"},
		{name: "empty ring", boundary: orb.MultiPolygon{{{}}}, err: "no vertices"},
		{name: "not a number", boundary: orb.MultiPolygon{{{{10, 40}, {nan, 41}}}}, err: "polygon 1, vertex 2"},
		{name: "metres", boundary: box(447000, 4653000, 448000, 4654000), err: "polygon 1, vertex 1"},
		{name: "too wide", boundary: orb.MultiPolygon{{{{-100, 0}, {0, 1}, {100, 2}}}}, err: "too wide"},
		{name: "polar", boundary: box(0, 86, 1, 87), err: "latitude 86.5"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			frame, err := geo.FrameOf(tt.boundary)
			if tt.err != "" {
				require.ErrorContains(t, err, tt.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, tt.want, frame.Centre())
		})
	}
}

func TestFrameOfDoesNotWriteIntoItsInput(t *testing.T) {
	boundary := box(179.5, -17, -179, -16)
	_, err := geo.FrameOf(boundary)
	require.NoError(t, err)
	assert.Equal(t, box(179.5, -17, -179, -16), boundary)
}

func TestFrameTakesWhatIsNotAPosition(t *testing.T) {
	utm, err := geo.NewUTM(1, true)
	require.NoError(t, err)
	type plane interface {
		Forward(orb.Point) orb.Point
		Inverse(orb.Point) orb.Point
	}
	for name, p := range map[string]plane{"zero frame": geo.Frame{}, "utm": utm} {
		for _, bad := range []orb.Point{{nan, 0}, {0, nan}, {inf, 0}, {0, inf}, {0, 90.5}, {0, -91}} {
			xy := p.Forward(bad)
			assert.True(t, math.IsNaN(xy[0]) && math.IsNaN(xy[1]), "%s forward %v: %v", name, bad, xy)
		}
		for _, bad := range []orb.Point{{nan, 0}, {0, nan}, {inf, 0}, {0, inf}} {
			lonlat := p.Inverse(bad)
			assert.True(t, math.IsNaN(lonlat[0]) && math.IsNaN(lonlat[1]), "%s inverse %v: %v", name, bad, lonlat)
		}
	}
}

func TestFramePolygonsAreCopies(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{10, 40})
	require.NoError(t, err)
	lonlat := append(box(9.99, 39.99, 10.01, 40.01), orb.Polygon{}, orb.Polygon{{}})
	xy := frame.ForwardPolygons(lonlat)
	assert.Equal(t, append(box(9.99, 39.99, 10.01, 40.01), orb.Polygon{}, orb.Polygon{{}}), lonlat)
	require.Len(t, xy, 3)
	assert.Equal(t, frame.Forward(orb.Point{9.99, 39.99}), xy[0][0][0])
	assert.Equal(t, orb.CCW, xy[0][0].Orientation(), "winding is kept")

	back := frame.InversePolygons(xy)
	require.Len(t, back, 3)
	for i, p := range back[0][0] {
		assertSamePlace(t, lonlat[0][0][i], p)
	}
}

func TestInverseCrossesTheAntimeridian(t *testing.T) {
	east, err := geo.NewFrame(orb.Point{179.999, -16.6})
	require.NoError(t, err)
	assert.InDelta(t, -179.99, east.Inverse(orb.Point{1172.7, 0}).Lon(), 0.001)
	west, err := geo.NewFrame(orb.Point{-179.999, -16.6})
	require.NoError(t, err)
	assert.InDelta(t, 179.99, west.Inverse(orb.Point{-1172.7, 0}).Lon(), 0.001)
}

// Wherever the field lies, and 20 km from its centre, the way there and back is
// within a micrometre.
func TestFrameRoundTrip(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		centre := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-84, 84).Draw(t, "lat")}
		xy := orb.Point{rapid.Float64Range(-20e3, 20e3).Draw(t, "x"), rapid.Float64Range(-20e3, 20e3).Draw(t, "y")}
		frame, err := geo.NewFrame(centre)
		require.NoError(t, err)
		lonlat := frame.Inverse(xy)
		back := frame.Forward(lonlat)
		assert.InDelta(t, xy[0], back[0], micrometre)
		assert.InDelta(t, xy[1], back[1], micrometre)
		assertSamePlace(t, lonlat, frame.Inverse(back))
	})
}

// Where a ring is begun, and on which side of the antimeridian its longitudes
// are written, is no business of the frame.
func TestFrameOfIgnoresNotation(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		ring := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(179, 181).Draw(t, "lon"), rapid.Float64Range(-50, 50).Draw(t, "lat")}
		}), 1, 8).Draw(t, "ring")
		want, err := geo.FrameOf(orb.MultiPolygon{{ring}})
		require.NoError(t, err)

		start := rapid.IntRange(0, len(ring)-1).Draw(t, "start")
		turned := append(append(orb.Ring{}, ring[start:]...), ring[:start]...)
		for i, p := range turned {
			if rapid.Bool().Draw(t, "wrap") {
				turned[i][0] = math.Remainder(p[0], 360)
			}
		}
		got, err := geo.FrameOf(orb.MultiPolygon{{turned}})
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
}
