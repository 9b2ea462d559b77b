package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

// The first numbers of bases 2 and 3 as they are published.
func TestHalton(t *testing.T) {
	for k, want := range []float64{0, 1. / 2, 1. / 4, 3. / 4, 1. / 8, 5. / 8, 3. / 8, 7. / 8} {
		assert.InDelta(t, want, halton(uint64(k), 2), 1e-15)
	}
	for k, want := range []float64{0, 1. / 3, 2. / 3, 1. / 9, 4. / 9, 7. / 9, 2. / 9, 5. / 9, 8. / 9, 1. / 27} {
		assert.InDelta(t, want, halton(uint64(k), 3), 1e-15)
	}
}

func squareGround(t *testing.T) *ground {
	side := 700.0
	field := orb.MultiPolygon{{{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}}}}
	g, err := newGround(field, nil, Settings{Stops: 40, Inside: .001})
	require.NoError(t, err)
	return g
}

// Of 2^a·3^b points in a row from any start one lies in each of as many boxes, 2^a
// by 3^b (Robertson et al. 2013, by which the sample is spread).
func TestHaltonBoxesHoldOneEach(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		a, b := 1+random.IntN(3), 1+random.IntN(2)
		across, up := 1<<a, int(math.Pow(3, float64(b))+.5)
		first, seen := random.Uint64N(balancedStart), map[[2]int]int{}
		for k := range uint64(across * up) {
			seen[[2]int{int(halton(first+k, 2) * float64(across)), int(halton(first+k, 3)*float64(up) + 1e-9)}]++
		}
		assert.Len(t, seen, across*up)
	}
}

// The first n places leave less ground far from them than as many at random, for
// every n; and as to discrepancy, the share of places in boxes from a corner is
// nearer to the share of ground.
func TestAnyFirstPlacesAreSpread(t *testing.T) {
	g := squareGround(t)
	random := rand.New(rand.NewPCG(5, 6))
	const draws = 60
	var spread [draws][]orb.Point
	for seed := range spread {
		spread[seed] = g.balanced(40, uint64(seed))
	}
	for _, n := range []int{4, 7, 12, 15, 23, 40} {
		var reach, uneven [2]float64
		for _, places := range spread {
			first := places[:n]
			var plain []orb.Point
			for range n {
				plain = append(plain, g.usable[random.IntN(len(g.usable))])
			}
			for i, places := range [][]orb.Point{first, plain} {
				reach[i] += g.reach(places) / draws
				uneven[i] += discrepancy(places, 700) / draws
			}
		}
		t.Logf("%d places: mean distance %.0f m against %.0f m at random, discrepancy %.3f against %.3f", n, reach[0], reach[1], uneven[0], uneven[1])
		assert.Less(t, reach[0], .92*reach[1], "%d places", n)
		assert.Less(t, uneven[0], .8*uneven[1], "%d places", n)
	}
}

// discrepancy is the largest difference between the share of places and of ground
// over boxes from the south-west corner.
func discrepancy(places []orb.Point, side float64) (most float64) {
	const steps = 20
	for i := 1; i <= steps; i++ {
		for j := 1; j <= steps; j++ {
			x, y, in := side*float64(i)/steps, side*float64(j)/steps, 0.0
			for _, p := range places {
				if p[0] < x && p[1] < y {
					in++
				}
			}
			most = max(most, math.Abs(in/float64(len(places))-x*y/side/side))
		}
	}
	return most
}

// The plan keeps the order of the sequence, so that the first stops of a long plan
// are those of a short one.
func TestSpreadOrderIsKept(t *testing.T) {
	side := 700.0 / 111_195
	field := geo.Field{Name: "A", Boundary: orb.MultiPolygon{{{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}}}}}
	long, err := Make(field, Settings{Stops: 30, Spread: true, Seed: 3, Edge: 2})
	require.NoError(t, err)
	short, err := Make(field, Settings{Stops: 12, Spread: true, Seed: 3})
	require.NoError(t, err)
	for i, s := range short.Stops {
		assert.Equal(t, s.Lonlat, long.Stops[i].Lonlat)
		assert.Equal(t, s.Name, long.Stops[i].Name)
	}
	assert.True(t, long.Stops[30].Edge && long.Stops[31].Edge, "the edge comes last")
	heading := 10.0
	_, err = Make(field, Settings{Stops: 12, Spread: true, Heading: &heading})
	assert.ErrorContains(t, err, "rows")
	walk, err := Make(field, Settings{Stops: 30, Seed: 3})
	require.NoError(t, err)
	assert.Less(t, walk.Distance, long.Distance, "a cover with a short way stays the default")
	assert.Less(t, walk.Reach, long.Reach)
}
