package interp_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// farFieldBound is that of the polynomials, as a share of the range of the values.
const farFieldBound = 1.2e-10

// manyClouds are samples of awkward kinds, enough of them for far fields.
func manyClouds() map[string][]interp.Sample {
	rng := rand.New(rand.NewPCG(9, 10))
	scattered := cloud(rng, 2000, func() (x, y float64) { return 3000 * rng.Float64(), 2500 * rng.Float64() })
	with := func(change func(i int, s *interp.Sample)) []interp.Sample {
		changed := slices.Clone(scattered)
		for i := range changed {
			change(i, &changed[i])
		}
		return changed
	}
	return map[string][]interp.Sample{
		"scattered":  scattered,
		"on nodes":   cloud(rng, 1500, func() (x, y float64) { return 10 * float64(rng.IntN(300)), 10 * float64(rng.IntN(250)) }),
		"twice":      slices.Concat(scattered, scattered[:700]),
		"one corner": cloud(rng, 900, func() (x, y float64) { return 3 * rng.Float64(), 4 * rng.Float64() }),
		"clusters": cloud(rng, 1200, func() (x, y float64) {
			return 750*float64(rng.IntN(4)) + rng.Float64(), 900*float64(rng.IntN(3)) + 20*rng.NormFloat64()
		}),
		"a line":                cloud(rng, 800, func() (x, y float64) { return 3000 * rng.Float64(), 1234.5 }),
		"outside":               cloud(rng, 700, func() (x, y float64) { return 3500 + 1000*rng.Float64(), -900 * rng.Float64() }),
		"as near as far may be": atTheLimit(rng),
		"very far":              cloud(rng, 600, func() (x, y float64) { return 1e8 * (rng.Float64() - 0.5), 1e8 * (rng.Float64() - 0.5) }),
		"huge":                  with(func(i int, s *interp.Sample) { s.Value *= 1e11 }),
		"tiny":                  with(func(i int, s *interp.Sample) { s.Value *= 1e-300 }),
		"huge and tiny": with(func(i int, s *interp.Sample) {
			if i%2 == 0 {
				s.Value = 1e15
			}
		}),
		"negative":  with(func(i int, s *interp.Sample) { s.Value -= 20 }),
		"all equal": with(func(i int, s *interp.Sample) { s.Value = 7 }),
		"crowded": with(func(i int, s *interp.Sample) {
			if i%3 == 0 {
				s.Share = 0.05
			}
		}),
	}
}

// atTheLimit has two crowds of opposite values a hair beyond 3 half sides of a leaf's
// centre, one straight north, one straight east, where polynomials are worst.
func atTheLimit(rng *rand.Rand) []interp.Sample {
	const x, y, far = 1435, 1115, 480
	var samples []interp.Sample
	for range 300 {
		samples = append(samples, interp.Sample{X: x, Y: y + far + 1e-3*rng.Float64()}, interp.Sample{X: x + far + 1e-3*rng.Float64(), Y: y, Value: 100})
	}
	return samples
}

// A lattice of 300 by 260 nodes, more than one leaf and no whole number of them.
func farFieldLattice() interp.Lattice { return interp.Lattice{Cell: 10, Cols: 300, Rows: 260} }

// By polynomials the surface is within the bound of that by sums over all samples, which
// Predict works out; on samples, and in its distances, it is the same.
func TestFarFieldIsWithinItsBound(t *testing.T) {
	l, apart := farFieldLattice(), testkit.Few(23, 92)
	mask := func(col, row int) bool { return (col+3*row)%apart == 0 || row%50 == 0 && col > 100 }
	for name, samples := range manyClouds() {
		p := fit(t, interp.IDW{Neighbors: all}, samples)
		value, distance, err := interp.FillWithDistance(t.Context(), p, l, interp.FillSettings{Mask: mask})
		require.NoError(t, err)
		low, high := valueRange(interp.Pool(samples))
		var off float64
		for at, v := range value.Values {
			if !mask(at%l.Cols, at/l.Cols) {
				require.True(t, math.IsNaN(v) && math.IsNaN(distance.Values[at]), name)
				continue
			}
			want, d := p.PredictWithDistance(l.Node(at%l.Cols, at/l.Cols))
			require.Equal(t, d, distance.Values[at], "%s, node %d", name, at)
			require.True(t, v >= low && v <= high, "%s, node %d: %g", name, at, v)
			if d == 0 {
				require.Equal(t, want, v, "%s: on a sample", name)
			}
			off = max(off, math.Abs(v-want))
		}
		t.Logf("%s: off by %.1e of the range", name, off/(high-low))
		assert.LessOrEqual(t, off, farFieldBound*(high-low)+1e-15*max(high, -low), name)
	}
}

// Settings that far fields do not serve are filled to the bit as Predict says.
func TestFarFieldIsNotForAll(t *testing.T) {
	for name, s := range map[string]interp.IDW{"a radius": {Neighbors: all, Radius: 400}, "few samples": {Neighbors: all}} {
		samples := manyClouds()["scattered"]
		if name == "few samples" {
			samples = samples[:499]
		}
		l := interp.Lattice{Cell: 10, Cols: 300, Rows: 230}
		mask := func(col, row int) bool { return (col+3*row)%47 == 0 }
		p := fit(t, s, samples)
		value, err := interp.Fill(t.Context(), p, l, interp.FillSettings{Mask: mask})
		require.NoError(t, err)
		for at, v := range value.Values {
			if mask(at%l.Cols, at/l.Cols) {
				require.Equal(t, bits(p.Predict(l.Node(at%l.Cols, at/l.Cols))), bits(v), name)
			}
		}
	}
}
