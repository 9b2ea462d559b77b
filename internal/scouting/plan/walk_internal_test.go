package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

func length(w walk, order []int) (sum float64) {
	way := w.way(order)
	for i := 1; i < len(way); i++ {
		sum += distance(way[i-1], way[i])
	}
	return sum
}

// berlin52 is as remembered from TSPLIB (Reinelt 1991, ORSA J. Comput. 3:376–384),
// where its optimum is 7542 on rounded distances, 7544.37 on true ones; a wrong
// memory of a place would hardly give that length.
var berlin52 = []orb.Point{
	{565, 575}, {25, 185}, {345, 750}, {945, 685}, {845, 655}, {880, 660}, {25, 230}, {525, 1000}, {580, 1175}, {650, 1130}, {1605, 620}, {1220, 580}, {1465, 200},
	{1530, 5}, {845, 680}, {725, 370}, {145, 665}, {415, 635}, {510, 875}, {560, 365}, {300, 465}, {520, 585}, {480, 415}, {835, 625}, {975, 580}, {1215, 245},
	{1320, 315}, {1250, 400}, {660, 180}, {410, 250}, {420, 555}, {575, 665}, {1150, 1160}, {700, 580}, {685, 595}, {685, 610}, {770, 610}, {795, 645}, {720, 635},
	{760, 650}, {475, 960}, {95, 260}, {875, 920}, {700, 500}, {555, 815}, {830, 485}, {1170, 65}, {830, 610}, {605, 625}, {595, 360}, {1340, 725}, {1740, 245},
}

// lattice has an optimum of one unit a point where a side is even.
func lattice(columns, rows int) (out []orb.Point) {
	for x := range columns {
		for y := range rows {
			out = append(out, orb.Point{float64(x), float64(y)})
		}
	}
	return out
}

// circle has its own polygon as the optimum.
func circle(n int) (out []orb.Point) {
	for i := range n {
		angle := 2 * math.Pi * float64(i*7%n) / float64(n)
		out = append(out, orb.Point{math.Cos(angle), math.Sin(angle)})
	}
	return out
}

func TestKnownTours(t *testing.T) {
	cases := []struct {
		name   string
		points []orb.Point
		best   float64
	}{
		{"berlin52", berlin52, 7544.37},
		{"lattice 8 by 9", lattice(8, 9), 72},
		{"circle of 60", circle(60), 120 * math.Sin(math.Pi/60)},
		{"lattice 12 by 15", lattice(12, 15), 180},
		{"circle of 250", circle(250), 500 * math.Sin(math.Pi/250)},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			w := walk{points: tc.points}
			order := w.order()
			visited := slices.Sorted(slices.Values(order))
			for i, v := range visited {
				require.Equal(t, i, v)
			}
			require.Len(t, visited, len(tc.points))
			got := length(w, order)
			t.Logf("%.2f, %.4f of the best known", got, got/tc.best)
			assert.LessOrEqual(t, got, 1.05*tc.best)
			assert.GreaterOrEqual(t, got, tc.best*(1-1e-5))
		})
	}
}

// shortest is the exact dynamic program of Held & Karp (1962, J. SIAM 10:196–210).
func shortest(w walk) float64 {
	n := len(w.points)
	from := func(j int) float64 {
		if w.start == nil {
			return 0
		}
		return distance(*w.start, w.points[j])
	}
	firsts := []int{-1} // the first point: any, or for a round without a start point 0
	if w.start == nil && !w.oneWay {
		firsts = []int{0}
	}
	best := math.Inf(1)
	for _, first := range firsts {
		cost := make([][]float64, 1<<n)
		for s := range cost {
			cost[s] = slices.Repeat([]float64{math.Inf(1)}, n)
		}
		for j := range n {
			if first < 0 || j == first {
				cost[1<<j][j] = from(j)
			}
		}
		for s := range cost {
			for j := range n {
				for k := range n {
					if s>>k&1 == 0 && s>>j&1 == 1 {
						next := s | 1<<k
						cost[next][k] = min(cost[next][k], cost[s][j]+distance(w.points[j], w.points[k]))
					}
				}
			}
		}
		for j := range n {
			total := cost[1<<n-1][j]
			switch {
			case w.oneWay:
			case w.start != nil:
				total += distance(w.points[j], *w.start)
			default:
				total += distance(w.points[j], w.points[first])
			}
			best = min(best, total)
		}
	}
	return best
}

func TestOrderAgainstTheExactProgram(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for i := range 60 {
		w := walk{oneWay: i%2 == 0, seed: uint64(i)}
		for range 1 + r.IntN(11) {
			w.points = append(w.points, orb.Point{1000 * r.Float64(), 600 * r.Float64()})
		}
		if i%3 > 0 {
			w.start = &orb.Point{1000 * r.Float64(), 600 * r.Float64()}
		}
		best, got := shortest(w), length(w, w.order())
		assert.GreaterOrEqual(t, got, best-1e-6)
		assert.LessOrEqual(t, got, 1.001*best+1e-9, "%d points, start %v, one way %v", len(w.points), w.start != nil, w.oneWay)
	}
}

// Every kind of walk over exactly twelve stops: with a start and without, there and
// back and one way.
func TestTwelveStopsAgainstTheExactProgram(t *testing.T) {
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(12, seed))
		place := func() orb.Point { return orb.Point{1000 * r.Float64(), 600 * r.Float64()} }
		var points []orb.Point
		for range 12 {
			points = append(points, place())
		}
		start := place()
		for _, w := range []walk{
			{points: points, seed: seed}, {points: points, seed: seed, oneWay: true},
			{points: points, seed: seed, start: &start}, {points: points, seed: seed, start: &start, oneWay: true},
		} {
			best, order := shortest(w), w.order()
			require.Len(t, slices.Compact(slices.Sorted(slices.Values(order))), 12)
			got := length(w, order)
			assert.GreaterOrEqual(t, got, best-1e-6)
			assert.LessOrEqual(t, got, 1.05*best, "seed %d, start %v, one way %v", seed, w.start != nil, w.oneWay)
		}
	}
}

func TestNowhereToWalk(t *testing.T) {
	assert.Empty(t, walk{}.order())
	same := walk{points: slices.Repeat([]orb.Point{{1, 1}}, 20)}
	assert.Len(t, same.order(), 20)
}

// Looking only at what a bridge touched ends with walks as short as looking everywhere
// did, which took ten times as long, and with none that a turn or a moved stretch shortens.
func TestLookingOnlyWhereItChanged(t *testing.T) {
	for seed, everywhere := range []float64{11652, 11025, 11387}[:testkit.Few(3, 2)] {
		random := rand.New(rand.NewPCG(uint64(seed), 9))
		points := make([]orb.Point, 220)
		for i := range points {
			points[i] = orb.Point{1000 * random.Float64(), 1000 * random.Float64()}
		}
		w := walk{points: points, start: &orb.Point{-50, 20}, oneWay: seed == 1, seed: uint64(seed)}
		tour := newTour(w.costs())
		tour.improve()
		tour.shake(rand.New(rand.NewPCG(w.seed, 0x7761_6c6b)))
		assert.LessOrEqual(t, length(w, w.open(tour.order)), 1.01*everywhere)
		assert.False(t, tour.twoOpt() || tour.orOpt())
	}
}
