package zones_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// square is a field of 200 m by 200 m and a lattice of 5 m that reaches a node
// beyond it, with a formula for the value and all ground in reach.
func square(value func(x, y float64) float64) (orb.MultiPolygon, zones.Surface) {
	l := interp.Lattice{X0: -105, Y0: -105, Cell: 5, Cols: 43, Rows: 43}
	s := zones.Surface{Value: interp.NewGrid(l), Distance: interp.NewGrid(l)}
	for i := range s.Value.Values {
		x, y := l.Node(i%l.Cols, i/l.Cols)
		s.Value.Values[i], s.Distance.Values[i] = value(x, y), 0
	}
	return orb.MultiPolygon{rectangle(-100, -100, 100, 100)}, s
}

var levels = zones.Levels{TreatAt: 40, WatchAt: 20}

// spot is a cone that falls by 1 per metre from a peak.
func spot(x0, y0, peak float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return max(0, peak-math.Hypot(x-x0, y-y0)) }
}

func disc(r float64) float64 { return math.Pi * r * r }

func TestZonesOfACone(t *testing.T) {
	field, s := square(spot(0, 0, 80))
	m, err := zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 30})
	require.NoError(t, err)
	assert.InEpsilon(t, disc(40), m.Zone(zones.Treat).Area, 0.005)
	assert.InEpsilon(t, disc(60)-disc(40), m.Zone(zones.Watch).Area, 0.005)
	assert.InEpsilon(t, 40000-disc(60), m.Zone(zones.Clear).Area, 0.005)
	// The mean height of a frustum from 80 down to 40.
	assert.InDelta(t, 40+40.0/3, m.Zone(zones.Treat).Mean, 0.5)
	assert.Equal(t, 80.0, m.Zone(zones.Treat).Max)
	assert.Zero(t, m.Unscouted)
}

func TestMarginGrowsTreatWithinTheField(t *testing.T) {
	field, s := square(spot(0, 0, 80))
	m, err := zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 30, Margin: 10})
	require.NoError(t, err)
	assert.InEpsilon(t, disc(50), m.Zone(zones.Treat).Area, 0.005)
	assert.InEpsilon(t, disc(60)-disc(50), m.Zone(zones.Watch).Area, 0.01)

	field, s = square(spot(100, 0, 80)) // its centre is on the field's edge
	m, err = zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 30, Margin: 10})
	require.NoError(t, err)
	assert.InEpsilon(t, disc(50)/2, m.Zone(zones.Treat).Area, 0.005)
}

func TestGroundBeyondReachIsWatch(t *testing.T) {
	field, s := square(func(float64, float64) float64 { return 0 })
	for i := range s.Distance.Values {
		x, _ := s.Distance.Node(i%s.Distance.Cols, 0)
		s.Distance.Values[i] = x + 105 // one column of stops along the western side
	}
	m, err := zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 55})
	require.NoError(t, err)
	assert.InDelta(t, 200*150, m.Unscouted, 1e-6)
	assert.InDelta(t, 200*150, m.Zone(zones.Watch).Area, 1e-6)
	assert.InDelta(t, 200*50, m.Zone(zones.Clear).Area, 1e-6)
}

// Where the stops say nothing, as beyond a search radius, ground is watched and
// counts for no mean.
// Beyond reach lies the corner of x + y > 200 - leg, a triangle: of less than a square
// metre it is nobody's news, whatever else the ground is.
func TestSliversBeyondReachAreNone(t *testing.T) {
	for _, c := range []struct{ leg, want float64 }{{1.2, 0}, {1.40, 0}, {1.43, 1.43 * 1.43 / 2}, {5, 12.5}} {
		for _, value := range []float64{0, 30} {
			field, s := square(func(float64, float64) float64 { return value })
			for i := range s.Distance.Values {
				x, y := s.Distance.Node(i%s.Distance.Cols, i/s.Distance.Cols)
				s.Distance.Values[i] = x + y + 300
			}
			m, err := zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 500 - c.leg})
			require.NoError(t, err)
			if value > 0 { // watch by what was counted
				assert.Equal(t, []float64{0, 40000}, []float64{m.Unscouted, math.Round(m.Zone(zones.Watch).Area)})
				continue
			}
			assert.InDelta(t, c.want, m.Unscouted, 1e-6, "%v", c.leg)
			assert.InDelta(t, c.want, m.Zone(zones.Watch).Area, 1e-6, "%v", c.leg)
		}
	}
}

func TestGroundWithoutValueIsWatch(t *testing.T) {
	field, s := square(func(x, _ float64) float64 {
		if x > 0 {
			return math.NaN()
		}
		return 5
	})
	for i := range s.Distance.Values {
		if x, _ := s.Distance.Node(i%s.Distance.Cols, 0); x > 0 {
			s.Distance.Values[i] = 60
		}
	}
	m, err := zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 50})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, m.Zone(zones.Watch).Area, 20000.0-200*5)
	assert.InDelta(t, m.Zone(zones.Watch).Area, m.Unscouted, 200*5, "what nobody saw is not found to be at the watch level")
	assert.True(t, math.IsNaN(m.Zone(zones.Watch).Mean))
	assert.Equal(t, 5.0, m.Zone(zones.Clear).Mean)
	assert.False(t, geo.Contains(m.Zone(zones.Clear).Polygons, orb.Point{5, 0}))

	_, err = zones.Build(field, s, nil, zones.Settings{Levels: levels, Reach: 60})
	assert.ErrorContains(t, err, "no value at node")
}

func TestSmallPatches(t *testing.T) {
	island := func(x, y float64) float64 { return 50 - spot(0, 0, 46)(x, y) } // clear within 16 m, watch to 36 m
	for name, c := range map[string]struct {
		value               func(x, y float64) float64
		stops               []interp.Sample
		minArea             float64
		treat, watch, clear float64
	}{
		"a small treat patch without a stop of its own": {spot(0, 0, 50), nil, 400, 0, disc(30), 40000 - disc(30)},
		"one larger than the least area":                {spot(0, 0, 50), nil, 290, disc(10), disc(30) - disc(10), 40000 - disc(30)},
		"one with a stop at the level":                  {spot(0, 0, 50), []interp.Sample{{X: 2, Y: 1, Value: 40}}, 400, disc(10), disc(30) - disc(10), 40000 - disc(30)},
		"one with a stop below it":                      {spot(0, 0, 50), []interp.Sample{{X: 2, Y: 1, Value: 39}}, 400, 0, disc(30), 40000 - disc(30)},
		"an island of clear ground in watch":            {island, nil, 1000, 40000 - disc(36), disc(36), 0},
		"an island of watch and clear ground in treat":  {island, nil, 5000, 40000, 0, 0},
		"a clear island with a stop that found nothing": {island, []interp.Sample{{Value: 0}}, 5000, 40000, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			field, s := square(c.value)
			m, err := zones.Build(field, s, c.stops, zones.Settings{Levels: levels, Reach: 30, MinArea: c.minArea})
			require.NoError(t, err)
			for class, want := range map[zones.Class]float64{zones.Treat: c.treat, zones.Watch: c.watch, zones.Clear: c.clear} {
				assert.InDelta(t, want, m.Zone(class).Area, 30, class)
			}
		})
	}
}

// A stop over the level on a surface that passes below it still has treat
// ground around it.
func TestNoHotStopFallsThroughTheLattice(t *testing.T) {
	field, s := square(func(float64, float64) float64 { return 0 })
	stop := interp.Sample{X: 2.5, Y: 2.5, Value: 41}
	m, err := zones.Build(field, s, []interp.Sample{stop}, zones.Settings{Levels: levels, Reach: 30, Simplify: 0.1})
	require.NoError(t, err)
	treat := m.Zone(zones.Treat)
	assert.Equal(t, []int{0}, treat.Stops)
	assert.Greater(t, treat.Area, 25.0, "at least a cell")
	assert.Less(t, treat.Area, 225.0)
	assert.Equal(t, 41.0, treat.Max)
}

func TestBuildRefuses(t *testing.T) {
	field, s := square(spot(0, 0, 80))
	good := zones.Settings{Levels: levels, Reach: 30}
	hole := s
	hole.Value.Values = append([]float64(nil), s.Value.Values...)
	hole.Value.Values[21*43+21] = math.NaN()
	short := s
	short.Distance.Values = short.Distance.Values[1:]
	for name, c := range map[string]struct {
		field    orb.MultiPolygon
		surface  zones.Surface
		settings func(*zones.Settings)
		want     string
	}{
		"no value inside the field":  {field, hole, nil, "no value at node 21, 21"},
		"two lattices":               {field, short, nil, "not on one lattice"},
		"a field beyond the lattice": {orb.MultiPolygon{rectangle(0, 0, 200, 10)}, s, nil, "reaches beyond"},
		"no field":                   {nil, s, nil, "reaches beyond"},
		"no levels":                  {field, s, func(s *zones.Settings) { s.Levels = zones.Levels{} }, "treat level"},
		"watch above treat":          {field, s, func(s *zones.Settings) { s.Levels.WatchAt = 41 }, "watch level"},
		"a level that is no number":  {field, s, func(s *zones.Settings) { s.Levels.TreatAt = math.NaN() }, "treat level"},
		"an endless level":           {field, s, func(s *zones.Settings) { s.Levels.TreatAt = math.Inf(1) }, "treat level"},
		"no reach":                   {field, s, func(s *zones.Settings) { s.Reach = 0 }, "reach"},
		"a negative margin":          {field, s, func(s *zones.Settings) { s.Margin = -1 }, "margin"},
		"a least area of nothing":    {field, s, func(s *zones.Settings) { s.MinArea = math.NaN() }, "least area"},
	} {
		t.Run(name, func(t *testing.T) {
			set := good
			if c.settings != nil {
				c.settings(&set)
			}
			_, err := zones.Build(c.field, c.surface, nil, set)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func TestClassOf(t *testing.T) {
	assert.Equal(t, zones.NoData, zones.Class(0), "nothing forgotten passes for clear")
	for _, c := range []struct {
		value, distance float64
		want            zones.Class
	}{
		{0, 0, zones.Clear}, {19.99, 30, zones.Clear}, {20, 0, zones.Watch}, {39.99, 0, zones.Watch},
		{40, 0, zones.Treat}, {1e9, 1e9, zones.Treat}, {0, 30.01, zones.Watch}, {math.NaN(), 0, zones.NoData},
		{math.NaN(), 99, zones.NoData},
	} {
		assert.Equal(t, c.want, levels.ClassOf(c.value, c.distance, 30), "%+v", c)
	}
	assert.Equal(t, "treat watch clear no data", zones.Treat.String()+" "+zones.Watch.String()+" "+zones.Clear.String()+" "+zones.NoData.String())
}

func BenchmarkBuild(b *testing.B) {
	field := orb.MultiPolygon{star(rand.New(rand.NewPCG(7, 8)), orb.Point{0, 0}, 400)}
	var stops []interp.Sample
	for i := range 60 {
		x, y := float64(i%8)*80-280, float64(i/8)*80-280
		if geo.Contains(field, orb.Point{x, y}) {
			stops = append(stops, interp.Sample{X: x, Y: y, Value: float64(i * i % 97)})
		}
	}
	s := surface(field, stops, 5)
	set := zones.Settings{Levels: levels, Reach: 120, Simplify: 0.1, MinArea: 100}
	b.ResetTimer()
	for b.Loop() {
		if _, err := zones.Build(field, s, stops, set); err != nil {
			b.Fatal(err)
		}
	}
}
