package zones_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// Zones tile the field, before and after rounding to seven decimals, for fields
// and counts of every kind.
func TestZonesAreACoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	frame, err := geo.NewFrame(orb.Point{-101.61, 35.92})
	require.NoError(t, err)
	var all []string
	for i := range testkit.Few(200, 50) {
		s := newSurvey(t, rng)
		m, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		require.NoError(t, err, "survey %d", i)
		assertTiles(t, m, s)
		assertCautious(t, m, s)
		rounded := m.LonLat(frame)
		assertShared(t, rounded)
		for _, c := range zones.Classes() {
			if mp := rounded[c]; len(mp) > 0 {
				all = append(all, fmt.Sprintf("survey %d %s\t%s", i, c, wkt.MarshalString(mp)))
			}
		}
		if t.Failed() {
			t.Fatalf("survey %d, settings %+v", i, s.settings)
		}
	}
	assertValidForGEOS(t, all)
}

// However simple lines are asked for, zones tile the field and no stop at or above
// a level comes to lie in milder ground.
func TestSimpleLinesLeaveNoStopInMilderGround(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for range 120 {
		s := newSurvey(t, rng)
		s.settings.Simplify = []float64{5, 10, 20, 50, 200}[rng.IntN(5)]
		m, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		require.NoError(t, err)
		assertTiles(t, m, s)
		assertCautious(t, m, s)
	}
}

func assertTiles(t *testing.T, m *zones.Map, s survey) {
	t.Helper()
	var sum, share float64
	stops := 0
	for _, z := range m.Zones {
		sum += z.Area
		share += m.Share(z.Class)
		stops += len(z.Stops)
	}
	assert.InEpsilon(t, geo.Area(s.field), sum, 1e-9)
	assert.InEpsilon(t, 1, share, 1e-9)
	assert.Equal(t, len(s.stops), stops, "every stop lies in one zone")
	assert.LessOrEqual(t, m.Unscouted, geo.Area(s.field))
}

// assertCautious compares stops with the zone they lie in.
func assertCautious(t *testing.T, m *zones.Map, s survey) {
	t.Helper()
	for _, z := range m.Zones {
		for _, i := range z.Stops {
			switch v := s.stops[i].Value; {
			case v >= s.settings.Levels.TreatAt:
				assert.Equal(t, zones.Treat, z.Class, "stop %d with %g", i, v)
			case v >= s.settings.Levels.WatchAt:
				assert.GreaterOrEqual(t, z.Class, zones.Watch, "stop %d with %g", i, v)
			}
		}
	}
}

// assertShared checks on whole numbers, without a tolerance, that no vertex lies
// on another zone's edge without being its vertex too, and that areas do not
// overlap.
func assertShared(t *testing.T, rounded map[zones.Class]orb.MultiPolygon) {
	t.Helper()
	type edge struct{ a, b [2]int64 }
	vertices := map[[2]int64]bool{}
	var edges []edge
	var whole orb.MultiPolygon
	var sum float64
	for _, c := range zones.Classes() {
		for _, polygon := range rounded[c] {
			var scaled orb.Polygon
			for _, ring := range polygon {
				var line orb.Ring
				for i, p := range ring {
					q := lattice(t, p)
					vertices[q] = true
					if i > 0 {
						edges = append(edges, edge{lattice(t, ring[i-1]), q})
					}
					line = append(line, orb.Point{float64(q[0] + 1016100000), float64(q[1] - 359200000)})
				}
				scaled = append(scaled, line)
			}
			whole = append(whole, scaled)
			sum += geo.Area(orb.MultiPolygon{scaled})
		}
	}
	for _, e := range edges {
		for v := range vertices {
			if v != e.a && v != e.b && between(v, e.a, e.b) {
				t.Errorf("vertex %v lies on the edge %v – %v of a neighbour", v, e.a, e.b)
				return
			}
		}
	}
	arrangement, err := planar.Arrange(planar.RingLines(whole))
	require.NoError(t, err)
	var union float64
	for _, f := range arrangement.Faces {
		for _, polygon := range whole {
			if geo.Contains(orb.MultiPolygon{polygon}, f.Point) {
				union += f.Area
				break
			}
		}
	}
	assert.InEpsilon(t, union, sum, 1e-12, "areas overlap")
}

func lattice(t *testing.T, p orb.Point) [2]int64 {
	x, y := math.Round(p[0]*1e7), math.Round(p[1]*1e7)
	require.InDelta(t, x, p[0]*1e7, 1e-5, "more than seven decimals")
	require.InDelta(t, y, p[1]*1e7, 1e-5, "more than seven decimals")
	return [2]int64{int64(x), int64(y)}
}

func between(v, a, b [2]int64) bool {
	if v[0] < min(a[0], b[0]) || v[0] > max(a[0], b[0]) || v[1] < min(a[1], b[1]) || v[1] > max(a[1], b[1]) {
		return false
	}
	return (b[0]-a[0])*(v[1]-a[1]) == (b[1]-a[1])*(v[0]-a[0])
}

// assertValidForGEOS asks GEOS, through GDAL, whether each "name TAB WKT" is
// valid.
func assertValidForGEOS(t *testing.T, lines []string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "zones.tsv")
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "\n")), 0o600))
	const script = `
import sys
from osgeo import ogr
ogr.UseExceptions()
n = 0
for line in open(sys.argv[1]):
    name, text = line.rstrip("\n").split("\t")
    n += 1
    if not ogr.CreateGeometryFromWkt(text).IsValid():
        print("invalid:", name)
print(n)
`
	assert.Equal(t, fmt.Sprintln(len(lines)), testkit.Python(t, "osgeo.ogr", "-c", script, path))
}

// Nodes off the neighbourhood of stops have the class that their own value and
// distance give, where nothing was grown, judged or simplified.
func TestNodesLieInTheZoneOfTheirClass(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	checked := 0
	for range 60 {
		s := newSurvey(t, rng)
		s.settings = zones.Settings{Levels: s.settings.Levels, Reach: s.settings.Reach}
		m, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		require.NoError(t, err)
		g := s.surface.Value
		for i, v := range g.Values {
			x, y := g.Node(i%g.Cols, i/g.Cols)
			p := orb.Point{x, y}
			if !geo.Contains(s.field, p) || geo.DistanceToEdge(s.field, p) < 1e-6 || nearStop(s.stops, p, g.Cell) {
				continue
			}
			d := s.surface.Distance.Values[i]
			if l := s.settings.Levels; onLine(v, l.TreatAt) || onLine(v, l.WatchAt) || onLine(d, s.settings.Reach) {
				continue
			}
			want := s.settings.Levels.ClassOf(v, d, s.settings.Reach)
			require.True(t, geo.Contains(m.Zone(want).Polygons, p), "node %v with %g, %g m from a stop, is not in %s", p, v, d, want)
			checked++
		}
	}
	assert.Greater(t, checked, 50000)
}

func onLine(v, level float64) bool { return math.Abs(v-level) < 1e-6*level }

func nearStop(stops []interp.Sample, p orb.Point, cell float64) bool {
	for _, s := range stops {
		if math.Abs(s.X-p[0]) <= cell && math.Abs(s.Y-p[1]) <= cell {
			return true
		}
	}
	return false
}

// With a higher treat level no ground comes to be treated that was not before.
// Level lines are left as they are: simplified ones may move by the tolerance.
func TestRaisingTheTreatLevelNeverGrowsTreat(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	shrunk, surveys := 0, testkit.Few(150, 40)
	for i := range surveys {
		s := newSurvey(t, rng)
		s.settings.Simplify = 0
		low, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		require.NoError(t, err)
		s.settings.Levels.TreatAt *= 1 + rng.Float64()
		high, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		require.NoError(t, err)
		before, after := low.Zone(zones.Treat), high.Zone(zones.Treat)
		if after.Area < before.Area {
			shrunk++
		}
		a, err := planar.Arrange(planar.RingLines(before.Polygons, after.Polygons))
		require.NoError(t, err)
		var grown float64
		for _, f := range a.Faces {
			if geo.Contains(after.Polygons, f.Point) && !geo.Contains(before.Polygons, f.Point) {
				grown += f.Area
			}
		}
		// Round corners of a grown patch are chords, good to 0.1 % of the margin.
		tolerance := 1e-9*low.Area + 0.002*s.settings.Margin*perimeter(after.Polygons)
		assert.LessOrEqual(t, grown, tolerance, "survey %d, %+v", i, s.settings)
	}
	assert.Greater(t, shrunk, surveys/2)
}

func perimeter(mp orb.MultiPolygon) float64 {
	var sum float64
	for _, polygon := range mp {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				sum += math.Hypot(ring[i][0]-ring[i-1][0], ring[i][1]-ring[i-1][1])
			}
		}
	}
	return sum
}
