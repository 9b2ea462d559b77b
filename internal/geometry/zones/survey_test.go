package zones_test

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// survey is a made-up field with counts, in metres.
type survey struct {
	field    orb.MultiPolygon
	stops    []interp.Sample
	surface  zones.Surface
	settings zones.Settings
}

// newSurvey draws a field of some shape and counts as they come: skewed, many
// of them zero, some stops side by side.
func newSurvey(t require.TestingT, rng *rand.Rand) survey {
	cell := []float64{2, 5, 10}[rng.IntN(3)]
	s := survey{field: newField(t, rng, cell)}
	bound := geo.Bound(s.field)
	for n := 5 + rng.IntN(45); len(s.stops) < n; {
		p := orb.Point{
			bound.Min[0] + rng.Float64()*(bound.Max[0]-bound.Min[0]),
			bound.Min[1] + rng.Float64()*(bound.Max[1]-bound.Min[1]),
		}
		if rng.IntN(5) == 0 { // on a node
			p = orb.Point{cell * math.Round(p[0]/cell), cell * math.Round(p[1]/cell)}
		}
		if geo.Contains(s.field, p) {
			s.stops = append(s.stops, interp.Sample{X: p[0], Y: p[1], Value: count(rng)})
		}
	}
	s.surface = surface(s.field, s.stops, cell)
	s.settings = zones.Settings{
		Levels: zones.Levels{TreatAt: 40, WatchAt: 12},
		Reach:  max(30, 1.5*math.Sqrt(geo.Area(s.field)/float64(len(s.stops)))),
	}
	if rng.IntN(2) == 0 {
		s.settings.Simplify = cell / 50
	}
	if rng.IntN(2) == 0 {
		s.settings.MinArea = 20 * cell * cell * rng.Float64()
	}
	if rng.IntN(3) == 0 {
		s.settings.Margin = 12 * rng.Float64()
	}
	return s
}

// count is zero for a third, whole numbers and the levels themselves among the
// rest, log-normal else.
func count(rng *rand.Rand) float64 {
	switch rng.IntN(6) {
	case 0, 1:
		return 0
	case 2:
		return []float64{12, 40, 1, 100}[rng.IntN(4)]
	}
	return math.Exp(2.5 + 1.3*rng.NormFloat64())
}

// newField is a star, a box on lattice lines, a C, or two pieces; half of them
// with a pond.
func newField(t require.TestingT, rng *rand.Rand, cell float64) orb.MultiPolygon {
	var field orb.MultiPolygon
	switch rng.IntN(4) {
	case 0:
		field = orb.MultiPolygon{star(rng, orb.Point{0, 0}, 30*cell)}
	case 1:
		w, h := cell*float64(10+rng.IntN(30)), cell*float64(10+rng.IntN(30))
		field = orb.MultiPolygon{rectangle(-w, -h, w, h)}
	case 2:
		r := 30 * cell
		field = orb.MultiPolygon{{{{-r, -r}, {r, -r}, {r, -r / 3}, {-r / 3, -r / 3 * 1.1}, {-r / 3, r / 3}, {r, r / 4}, {r, r}, {-r, r}, {-r, -r}}}}
	default:
		field = orb.MultiPolygon{star(rng, orb.Point{-20 * cell, 0}, 18*cell), star(rng, orb.Point{25 * cell, 5 * cell}, 18*cell)}
	}
	if rng.IntN(2) == 0 {
		hole := star(rng, orb.Point{-20 * cell, -20 * cell}, 4*cell)
		field = append(field, hole)
	}
	valid, err := planar.Repair(field)
	require.NoError(t, err)
	return valid
}

func rectangle(x0, y0, x1, y1 float64) orb.Polygon {
	return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
}

func star(rng *rand.Rand, centre orb.Point, r float64) orb.Polygon {
	n := 6 + rng.IntN(30)
	ring := make(orb.Ring, 0, n+1)
	for i := range n {
		angle, d := 2*math.Pi*float64(i)/float64(n), r*(0.4+0.6*rng.Float64())
		ring = append(ring, orb.Point{centre[0] + d*math.Cos(angle), centre[1] + d*math.Sin(angle)})
	}
	return orb.Polygon{append(ring, ring[0])}
}

// surface is plain inverse distance weighting at every node of the box around
// the field.
func surface(field orb.MultiPolygon, stops []interp.Sample, cell float64) zones.Surface {
	bound := geo.Bound(field)
	c0, r0 := math.Floor(bound.Min[0]/cell)-1, math.Floor(bound.Min[1]/cell)-1
	lattice := interp.Lattice{
		X0: c0 * cell, Y0: r0 * cell, Cell: cell,
		Cols: int(math.Ceil(bound.Max[0]/cell)-c0) + 2,
		Rows: int(math.Ceil(bound.Max[1]/cell)-r0) + 2,
	}
	s := zones.Surface{Value: interp.NewGrid(lattice), Distance: interp.NewGrid(lattice)}
	for i := range s.Value.Values {
		x, y := lattice.Node(i%lattice.Cols, i/lattice.Cols)
		s.Value.Values[i], s.Distance.Values[i] = shepard(stops, x, y)
	}
	return s
}

func shepard(stops []interp.Sample, x, y float64) (value, distance float64) {
	var sum, weights float64
	distance = math.Inf(1)
	for _, s := range stops {
		d := math.Hypot(s.X-x, s.Y-y)
		if d == 0 {
			return s.Value, 0
		}
		w := 1 / (d * d)
		sum, weights, distance = sum+w*s.Value, weights+w, min(distance, d)
	}
	return sum / weights, distance
}
