package planar_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// patches is a square with n by n islands, each with a pond: the face round them has
// all of them for holes.
func patches(n int) []orb.LineString {
	square := func(x, y, half float64) orb.LineString {
		return orb.LineString{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half}}
	}
	side := 10 * float64(n)
	lines := []orb.LineString{square(side/2, side/2, side/2+5)}
	for i := range n * n {
		x, y := 10*float64(i%n)+5, 10*float64(i/n)+5
		lines = append(lines, square(x, y, 4), square(x, y, 2))
	}
	return lines
}

// every is all faces.
func every(a *planar.Arrangement) (all []int) {
	for f := range a.Faces {
		all = append(all, f)
	}
	return all
}

// By construction: on a net of half metres a place is in the pond, the island or round
// them, and on the lines between in two.
func TestFacesOfManyIslands(t *testing.T) {
	const n = 12
	a, err := planar.Arrange(patches(n))
	require.NoError(t, err)
	require.Len(t, a.Faces, 2*n*n+1)
	areas := func(p orb.Point) (all []float64) {
		for f := range a.Holding([]orb.Point{p}, every(a)) {
			all = append(all, a.Faces[f].Area)
		}
		return all
	}
	const pond, island, around = 16.0, 64 - 16.0, (10*n+10)*(10*n+10) - 64.0*n*n
	rng := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		x, y := 10*float64(rng.IntN(n))+5, 10*float64(rng.IntN(n))+5
		assert.Equal(t, []float64{pond}, areas(orb.Point{x + 1.5, y}))
		assert.Equal(t, []float64{island}, areas(orb.Point{x, y - 3}))
		assert.InDeltaSlice(t, []float64{around}, areas(orb.Point{x + 4.5, y + 4.5}), 1e-6)
		assert.ElementsMatch(t, []float64{pond, island}, areas(orb.Point{x + 2, y}), "on a line")
		assert.Len(t, areas(orb.Point{x + 4, y + 4}), 2, "on a corner")
	}
	assert.Empty(t, areas(orb.Point{-5.5, 0}), "outside")
	assert.Len(t, areas(orb.Point{-5, 0}), 1, "on the rim")
	var places []orb.Point
	for _, face := range a.Faces[:6] {
		places = append(places, face.Point)
	}
	assert.Equal(t, map[int]bool{3: true, 5: true}, a.Holding(places, []int{7, 3, 5}))
	rim := orb.MultiPolygon{{orb.Ring(patches(n)[0])}}
	assert.NoError(t, a.Check(rim, geo.NewIndex(rim), (10*n+10)*(10*n+10)))
}

// BenchmarkLocate is the price of the faces and of places in them, two to a face.
func BenchmarkLocate(b *testing.B) {
	for _, n := range []int{56, 79, 112, 158} { // each with twice the faces of the one before
		lines := patches(n)
		b.Run(fmt.Sprintf("arrange/%d", 2*n*n+1), func(b *testing.B) {
			for b.Loop() {
				_, err := planar.Arrange(lines)
				require.NoError(b, err)
			}
		})
		a, err := planar.Arrange(lines)
		require.NoError(b, err)
		rng := rand.New(rand.NewPCG(1, 2))
		places := make([]orb.Point, 4*n*n)
		for i := range places {
			places[i] = orb.Point{rng.Float64() * 10 * float64(n), rng.Float64() * 10 * float64(n)}
		}
		b.Run(fmt.Sprintf("places/%d", len(places)), func(b *testing.B) {
			for b.Loop() {
				if len(a.Holding(places, every(a))) == 0 {
					b.Fatal("no face holds a place")
				}
			}
		})
	}
}
