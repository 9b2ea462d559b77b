package nearby_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows its flags
)

// What is near is so by looking at every place: on whole metres, where many are as far, along
// a line, at one place, and asked from far off.
func TestCellsFindWhatLookingAtAllDoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, size := range [][2]int{{1, 1}, {9, 9}, {40, 1}, {1, 3000}, {200, 200}} {
		at := make([][2]float64, 1+rng.IntN(300))
		for i := range at {
			at[i] = [2]float64{float64(rng.IntN(size[0])) - 5, float64(rng.IntN(size[1])) + 1e6}
		}
		for _, side := range []float64{0, 0.1, 7, 1e9, math.NaN()} {
			cells := nearby.Of(at, side)
			for range 60 {
				x, y := float64(rng.IntN(3*size[0]))-9, float64(rng.IntN(3*size[1]))+1e6-9
				for _, reach := range []float64{0, 1, 5, 1e5, math.Inf(1)} {
					assert.Equal(t, by(at, x, y, reach), within(cells, at, x, y, reach))
				}
				number, metres := cells.Nearest(x, y)
				assert.Equal(t, by(at, x, y, metres)[0], number)
				assert.Empty(t, by(at, x, y, math.Nextafter(metres, -1)))

				of := rng.IntN(len(at))
				others := slices.Clone(at)
				others[of] = [2]float64{math.Inf(1), 0} // which is none of them
				number, metres = cells.NearestOther(of)
				if len(at) == 1 {
					assert.Equal(t, -1, number)
					continue
				}
				assert.Equal(t, by(others, at[of][0], at[of][1], metres)[0], number)
				assert.Empty(t, by(others, at[of][0], at[of][1], math.Nextafter(metres, -1)))
			}
		}
	}
	none := nearby.Of(nil, 5)
	assert.Empty(t, slices.Collect(none.Near(0, 0, 9)))
	number, metres := none.Nearest(0, 0)
	assert.Equal(t, -1, number)
	assert.Equal(t, math.Inf(1), metres)
}

// by are the numbers of the places that are no farther than reach.
func by(at [][2]float64, x, y, reach float64) (all []int) {
	for i, p := range at {
		if math.Hypot(p[0]-x, p[1]-y) <= reach {
			all = append(all, i)
		}
	}
	return all
}

func within(c *nearby.Cells, at [][2]float64, x, y, reach float64) (all []int) {
	for i := range c.Near(x, y, reach) {
		if math.Hypot(at[i][0]-x, at[i][1]-y) <= reach {
			all = append(all, i)
		}
	}
	slices.Sort(all)
	return all
}

// The nearest within reach is the one that looking at all finds, at a distance that is just
// the reach too: whole metres make several as near, and places that are the same.
func TestNearestWithin(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 28))
	for _, n := range []int{1, 2, 40, 300} {
		var all [][2]float64
		for range n {
			all = append(all, [2]float64{float64(rng.IntN(30)), float64(rng.IntN(20))})
		}
		cells := nearby.Of(all, 3)
		for range 200 {
			x, y := float64(rng.IntN(60)-10)/2, float64(rng.IntN(60)-10)/2
			want, least := -1, math.Inf(1)
			for i, p := range all {
				if d := (p[0]-x)*(p[0]-x) + (p[1]-y)*(p[1]-y); d < least {
					want, least = i, d
				}
			}
			for _, reach := range []float64{math.Sqrt(least), math.Sqrt(least) + 5, math.Inf(1)} {
				number, squared := cells.Within(x, y, reach)
				assert.Equal(t, want, number, "from %v, %v within %v", x, y, reach)
				assert.Equal(t, least, squared)
			}
		}
	}
	number, squared := nearby.Of(nil, 1).Within(1, 2, 3)
	assert.Equal(t, -1, number)
	assert.Equal(t, math.Inf(1), squared)
}
