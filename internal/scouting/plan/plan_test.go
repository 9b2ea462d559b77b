package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/testkit"
)

// randomField is a star-shaped field of 5 to 12 corners, 150 to 700 m across,
// every third with a pond.
func randomField(r *rand.Rand) geo.Field {
	frame, err := geo.NewFrame(orb.Point{-120 + 100*r.Float64(), -50 + 100*r.Float64()})
	if err != nil {
		panic(err)
	}
	corners, size := 5+r.IntN(8), 75+275*r.Float64()
	ring := make(orb.Ring, 0, corners+1)
	for i := range corners {
		angle := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(corners)
		reach := size * (0.45 + 0.55*r.Float64())
		ring = append(ring, orb.Point{reach * math.Cos(angle), reach * math.Sin(angle)})
	}
	ring = append(ring, ring[0])
	polygon := orb.Polygon{ring}
	if r.IntN(3) == 0 {
		d := size * 0.12
		polygon = append(polygon, orb.Ring{{-d, -d}, {-d, d}, {d, d}, {d, -d}, {-d, -d}})
	}
	return geo.Field{Name: "random", Boundary: frame.InversePolygons(orb.MultiPolygon{polygon})}
}

// 25 ft is 7.62 m.
func TestEveryStopIsInsideAndOffTheEdge(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for i := range testkit.Few(60, 8) {
		field := randomField(r)
		set := plan.Settings{Stops: 4 + r.IntN(30), Edge: r.IntN(2) * 4, Seed: uint64(i)}
		if i%4 == 0 {
			heading := 360 * r.Float64()
			set.Heading = &heading
		}
		frame, err := geo.FrameOf(field.Boundary)
		require.NoError(t, err)
		xy := frame.ForwardPolygons(field.Boundary)
		keepOff := orb.MultiPolygon{{orb.Ring{{20, 10}, {60, 10}, {60, 50}, {20, 50}, {20, 10}}}}
		set.KeepOff = frame.InversePolygons(keepOff)
		p, err := plan.Make(field, set)
		require.NoError(t, err)
		require.Len(t, p.Stops, set.Stops+set.Edge)
		for k, s := range p.Stops {
			at := frame.Forward(orb.Point{math.Round(s.Lonlat[0]*1e7) / 1e7, math.Round(s.Lonlat[1]*1e7) / 1e7})
			require.True(t, geo.Contains(xy, at), "field %d stop %s", i, s.Name)
			require.False(t, geo.Contains(keepOff, at), "field %d stop %s", i, s.Name)
			if !s.Edge {
				require.GreaterOrEqual(t, geo.DistanceToEdge(xy, at), 7.62, "field %d stop %s", i, s.Name)
			}
			for _, other := range p.Stops[:k] {
				require.NotEqual(t, other.Lonlat, s.Lonlat)
				require.NotEqual(t, other.Name, s.Name)
			}
		}
	}
}

// cells of a field about a metre and a half apart on 100 m: far finer than a
// plan's own.
func cells(xy orb.MultiPolygon, n int) (out []orb.Point) {
	b := geo.Bound(xy)
	step := math.Sqrt(geo.Area(xy) / float64(n))
	for y := b.Min[1] + step/2; y < b.Max[1]; y += step {
		for x := b.Min[0] + step/2; x < b.Max[0]; x += step {
			if geo.Contains(xy, orb.Point{x, y}) {
				out = append(out, orb.Point{x, y})
			}
		}
	}
	return out
}

// cover keeps for each cell the nearest place.
type cover struct {
	cells, places []orb.Point
}

func (c cover) mean() float64 {
	sum := 0.0
	for _, p := range c.cells {
		least := math.Inf(1) // square metres
		for _, q := range c.places {
			dx, dy := p[0]-q[0], p[1]-q[1]
			least = min(least, dx*dx+dy*dy)
		}
		sum += math.Sqrt(least)
	}
	return sum / float64(len(c.cells))
}

// search moves one place at a time at random and keeps what is better. It begins
// where it is given, knows nothing of k-means, and may stop on the very edge.
func (c cover) search(r *rand.Rand, xy orb.MultiPolygon, rounds int) float64 {
	best := c.mean()
	reach := 2 * best
	for i := range rounds {
		k := r.IntN(len(c.places))
		was := c.places[k]
		scale := reach * math.Pow(0.01, float64(i)/float64(rounds))
		c.places[k] = orb.Point{was[0] + scale*r.NormFloat64(), was[1] + scale*r.NormFloat64()}
		if v := c.mean(); geo.Contains(xy, c.places[k]) && v < best {
			best = v
		} else {
			c.places[k] = was
		}
	}
	return best
}

// The reference is the best of 10,000 rounds of random moves, half begun at
// random places, half at the plan's own, so it is never worse than the plan.
func TestCoverageIsWithinFivePerCentOfALongSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for i := range testkit.Few(4, 2) {
		field := randomField(r)
		stops := 6 + 5*i
		p, err := plan.Make(field, plan.Settings{Stops: stops})
		require.NoError(t, err)
		frame, err := geo.FrameOf(field.Boundary)
		require.NoError(t, err)
		xy := frame.ForwardPolygons(field.Boundary)
		ground := cells(xy, 1500)
		own := cover{cells: ground}
		for _, s := range p.Stops {
			own.places = append(own.places, frame.Forward(s.Lonlat))
		}
		got := own.mean()
		assert.InEpsilon(t, got, p.Reach, 0.02, "the plan says what it reaches")
		elsewhere := cover{cells: ground}
		for range stops {
			elsewhere.places = append(elsewhere.places, ground[r.IntN(len(ground))])
		}
		reference := min(own.search(r, xy, 5000), elsewhere.search(r, xy, 5000))
		t.Logf("%d stops: %.3f m, long search %.3f m, ratio %.4f", stops, got, reference, got/reference)
		assert.LessOrEqual(t, got, 1.05*reference)
	}
}

func TestRowsRunAlongTheHeading(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	square := orb.MultiPolygon{{orb.Ring{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}, {-200, -200}}}}
	heading := 0.0 // north
	p, err := plan.Make(geo.Field{Name: "square", Boundary: frame.InversePolygons(square)}, plan.Settings{Stops: 16, Heading: &heading})
	require.NoError(t, err)
	columns := map[int]int{}
	for _, s := range p.Stops {
		columns[int(math.Round(frame.Forward(s.Lonlat)[0]/10))]++
	}
	require.Len(t, columns, 4, "%v", columns)
	for _, n := range columns {
		assert.Equal(t, 4, n)
	}
}

func TestPlanAddsUp(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	square := orb.MultiPolygon{{orb.Ring{{0, 0}, {400, 0}, {400, 400}, {0, 400}, {0, 0}}}}
	start := frame.Inverse(orb.Point{-10, -10})
	set := plan.Settings{Stops: 9, Edge: 4, Start: &start, Speed: 2, Minutes: 3, Seed: 1}
	p, err := plan.Make(geo.Field{Name: "square", Boundary: frame.InversePolygons(square)}, set)
	require.NoError(t, err)
	sum, last, edge := 0.0, frame.Forward(start), 0
	for _, s := range p.Stops {
		at := frame.Forward(s.Lonlat)
		assert.InDelta(t, math.Hypot(at[0]-last[0], at[1]-last[1]), s.Leg, 1e-3)
		sum, last = sum+s.Leg, at
		if s.Edge {
			edge++
			assert.Equal(t, byte('E'), s.Name[0])
		}
	}
	home := frame.Forward(start)
	sum += math.Hypot(home[0]-last[0], home[1]-last[1])
	assert.Equal(t, 4, edge)
	assert.InDelta(t, sum, p.Distance, 1e-2)
	assert.InDelta(t, p.Distance/2/60+3*13, p.Minutes, 1e-9)
	assert.Positive(t, p.OffField, "the start lies outside")
	again, err := plan.Make(p.Field, set)
	require.NoError(t, err)
	assert.Equal(t, p, again)
	oneWay := set
	oneWay.OneWay = true
	q, err := plan.Make(p.Field, oneWay)
	require.NoError(t, err)
	assert.Less(t, q.Distance, p.Distance)
}

func TestPlanRefusals(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	strip := geo.Field{Name: "strip", Boundary: frame.InversePolygons(orb.MultiPolygon{{orb.Ring{{0, 0}, {400, 0}, {400, 12}, {0, 12}, {0, 0}}}})}
	nan := math.NaN()
	for name, tc := range map[string]struct {
		set  plan.Settings
		want string
	}{
		"no stops":        {plan.Settings{}, "want 1 to"},
		"too narrow":      {plan.Settings{Stops: 5, Inside: 7}, "room for 0 stops at 7 m"},
		"no heading":      {plan.Settings{Stops: 5, Heading: &nan}, "degrees from north"},
		"backward":        {plan.Settings{Stops: 5, Speed: -1}, "speed"},
		"negative inside": {plan.Settings{Stops: 5, Inside: -1}, "inside the edge"},
		"edge":            {plan.Settings{Stops: 5, Edge: -1}, "along the edge"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := plan.Make(strip, tc.set)
			assert.ErrorContains(t, err, tc.want)
		})
	}
	// By themselves stops stand half way to the middle of what has no inside: 12 m by 400.
	p, err := plan.Make(strip, plan.Settings{Stops: 5})
	require.NoError(t, err)
	assert.Len(t, p.Stops, 5)
	assert.InDelta(t, 4800.0/824/2, p.Settings.Inside, 1e-3)
	p, err = plan.Make(strip, plan.Settings{Stops: 5, Inside: 2})
	require.NoError(t, err)
	assert.Len(t, p.Stops, 5)
	_, err = plan.Make(geo.Field{}, plan.Settings{Stops: 1})
	assert.Error(t, err)
}
