package spray_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Buffers have the areas that GEOS gives them (testdata/reference/buffers), within
// 0.1 %, and never less: a set-back is not cut short.
func TestBuffersAgainstGEOS(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Testdata(t, "reference", "buffers", "geos_buffers.csv"))
	require.Equal(t, 48, table.Len())
	for i := range table.Len() {
		name := table.Text(t, i, "name") + " " + table.Text(t, i, "distance")
		t.Run(strings.ReplaceAll(name, " ", "_"), func(t *testing.T) {
			g, err := wkt.Unmarshal(table.Text(t, i, "wkt"))
			require.NoError(t, err)
			d, err := strconv.ParseFloat(table.Text(t, i, "distance"), 64)
			require.NoError(t, err)
			want, _ := table.Number(t, i, "area")
			ground, err := spray.Buffer(g, d)
			require.NoError(t, err)
			assert.NoError(t, planar.Valid(ground))
			assert.InEpsilon(t, want, geo.Area(ground), 0.001)
			assert.GreaterOrEqual(t, geo.Area(ground), want*(1-1e-9))
		})
	}
}

func TestBufferHoldsTheWholeSetBack(t *testing.T) {
	for name, g := range map[string]orb.Geometry{
		"point": orb.Point{1, 2}, "line": orb.LineString{{0, 0}, {30, 5}, {10, 40}},
		"polygon": orb.Polygon{{{0, 0}, {40, 0}, {20, 30}, {0, 0}}}, "several": orb.Collection{orb.Point{0, 0}, orb.Point{300, 0}},
	} {
		const d = 50.0
		ground, err := spray.Buffer(g, d)
		require.NoError(t, err, name)
		for _, polygon := range ground {
			for _, ring := range polygon {
				for i := 1; i < len(ring); i++ {
					middle := orb.Point{(ring[i-1][0] + ring[i][0]) / 2, (ring[i-1][1] + ring[i][1]) / 2}
					assert.GreaterOrEqual(t, spray.Distance(g, orb.MultiPolygon{{{middle, middle, middle, middle}}}), d-1e-6, name)
				}
			}
		}
	}
}

// Ground under two polygons of one keep-off is kept off as that under one.
func TestBufferOfOverlappingPolygons(t *testing.T) {
	square := func(x float64) orb.Polygon {
		return orb.Polygon{{{x, 0}, {x + 100, 0}, {x + 100, 100}, {x, 100}, {x, 0}}}
	}
	for _, g := range []orb.Geometry{orb.MultiPolygon{square(0), square(40)}, orb.Collection{square(0), square(40)}} {
		got, err := spray.Buffer(g, 5)
		require.NoError(t, err)
		require.True(t, geo.Contains(got, orb.Point{70, 50}), "%s", g.GeoJSONType())
		assert.InEpsilon(t, 140*100+5*2*(140+100)+math.Pi*25, geo.Area(got), 1e-3)
	}
}

// A keep-off that was walked twice, as with a phone that goes on recording, is one
// that was walked once; so is a hole that reaches over its edge never ground.
func TestBufferOfAKeepOffWalkedTwice(t *testing.T) {
	once := orb.Ring{{0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}
	twice := append(append(orb.Ring{}, once...), once[1:]...)
	near := append(append(orb.Ring{}, once[:4]...), orb.Ring{{0.5, 0.5}, {99, 0.4}, {99.5, 99}, {0.4, 99.5}, {0, 0}}...)
	for name, ring := range map[string]orb.Ring{"once": once, "twice": twice, "nearly twice": near} {
		for _, d := range []float64{0, 5} {
			got, err := spray.Buffer(orb.Polygon{ring}, d)
			require.NoError(t, err, name)
			want := 100*100 + d*400 + math.Pi*d*d
			assert.InEpsilon(t, want, geo.Area(got), 2e-3, "%s, %g m", name, d)
			assert.True(t, geo.Contains(got, orb.Point{50, 50}), "%s, %g m", name, d)
		}
		inside := orb.MultiPolygon{{{{40, 40}, {60, 40}, {60, 60}, {40, 60}, {40, 40}}}}
		assert.Zero(t, spray.Distance(orb.Polygon{ring}, inside), name)
	}
	over := orb.Polygon{once, {{50, 20}, {150, 20}, {150, 80}, {50, 80}, {50, 20}}}
	got, err := spray.Buffer(over, 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 100*100-50*60, geo.Area(got), 1e-9, "a hole adds no ground")
	assert.False(t, geo.Contains(got, orb.Point{120, 50}))
}
