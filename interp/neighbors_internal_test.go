package interp

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
)

// bruteForce looks at every sample.
func bruteForce(samples []Sample, x, y float64, skip int32, k int) (ids []int32) {
	var order []found
	for i, s := range samples {
		dx, dy := s.X-x, s.Y-y
		if int32(i) != skip {
			order = append(order, found{d2: float64(dx*dx) + float64(dy*dy), id: int32(i)})
		}
	}
	slices.SortFunc(order, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.d2, b.d2), cmp.Compare(a.id, b.id))
	})
	for _, f := range order[:min(k, len(order))] {
		ids = append(ids, f.id)
	}
	return ids
}

func idsOf(near []found) (ids []int32) {
	for _, f := range near {
		ids = append(ids, f.id)
	}
	return ids
}

// drawPlaces are samples scattered, in lumps, on a line or on a lattice full of
// ties, near the origin or so far off that a float has few digits left.
func drawPlaces(t *rapid.T) []Sample {
	scale := rapid.SampledFrom([]float64{1e-6, 0.01, 1, 250, 1e5}).Draw(t, "scale")
	x0 := rapid.SampledFrom([]float64{0, -3, 5e5, 9e7}).Draw(t, "x0")
	y0 := rapid.SampledFrom([]float64{0, 4e6, -9e7}).Draw(t, "y0")
	kind := rapid.SampledFrom([]string{"scattered", "lumps", "line", "slant", "lattice"}).Draw(t, "kind")
	unit := rapid.Float64Range(0, 1)
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Sample {
		u, v := unit.Draw(t, "u"), unit.Draw(t, "v")
		switch kind {
		case "lumps":
			u, v = math.Round(3*u)/3+u*1e-3, math.Round(3*v)/3+v*1e-3
		case "line":
			v = 0.5
		case "slant":
			v = 2 * u
		case "lattice":
			u, v = math.Floor(6*u)/6, math.Floor(6*v)/6
		}
		return Sample{X: x0 + scale*u, Y: y0 + scale*v}
	}), 1, 120).Draw(t, "samples")
}

func TestNearestEqualsBruteForce(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		samples := drawPlaces(t)
		n := newNeighbors(samples)
		k := rapid.IntRange(1, 20).Draw(t, "k")
		skip := int32(rapid.IntRange(-1, len(samples)-1).Draw(t, "skip"))
		for range 8 {
			// Beside, between, and up to far outside the samples.
			a, b := rapid.SampledFrom(samples).Draw(t, "a"), rapid.SampledFrom(samples).Draw(t, "b")
			u := rapid.SampledFrom([]float64{0, 0.5, 1, 1.5, -40, 1e6}).Draw(t, "u")
			x, y := a.X+u*(b.X-a.X), b.Y+rapid.Float64Range(-2, 2).Draw(t, "v")*(a.Y-b.Y)
			got := idsOf(n.nearest(x, y, skip, make([]found, 0, k)))
			require.Equal(t, bruteForce(samples, x, y, skip, k), got, "at %g, %g", x, y)
		}
	})
}

// The cells must not grow in number with the spread of the samples.
func TestCellsAreAboutAsManyAsSamples(t *testing.T) {
	for name, samples := range map[string][]Sample{
		"one far off":     {{X: 0}, {X: 1e-9}, {X: 2e-9}, {X: 1e8, Y: 1e8}},
		"a line":          {{X: 0}, {X: 1e8}, {X: 3}, {X: 4}, {X: 7}},
		"smallest floats": {{X: 0}, {X: 5e-324}, {X: 1e-323}, {Y: 5e-324}},
		"all at one":      {{X: 5, Y: 5}, {X: 5, Y: 5}},
	} {
		n := newNeighbors(samples)
		assert.LessOrEqual(t, n.cols*n.rows, 2*len(samples)+4, name)
		got := idsOf(n.nearest(0, 0, none, make([]found, 0, len(samples))))
		assert.Equal(t, bruteForce(samples, 0, 0, none, len(samples)), got, name)
	}
}
