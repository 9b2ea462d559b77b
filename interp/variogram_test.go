package interp_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// A model never leaves 0 … sill, and grows with distance.
func TestVariogramModelGrows(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		m := interp.VariogramModel{
			Kind:   interp.VariogramKind(rapid.IntRange(int(interp.Spherical), int(interp.Matern32)).Draw(t, "kind")),
			Nugget: rapid.Float64Range(0, 10).Draw(t, "nugget"), PartialSill: rapid.Float64Range(0.1, 10).Draw(t, "sill"),
			Range: rapid.Float64Range(1e-3, 1e6).Draw(t, "range"),
		}
		require.NoError(t, m.Validate())
		require.Zero(t, m.Semivariance(0))
		require.Equal(t, m.Sill(), m.Covariance(0))
		h, step := rapid.Float64Range(1e-3, 1e7).Draw(t, "h"), rapid.Float64Range(0, 1e6).Draw(t, "step")
		near, far := m.Semivariance(h), m.Semivariance(h+step)
		rounding := 1e-12 * m.Sill()
		require.True(t, near >= m.Nugget-rounding && near <= far+rounding && far <= m.Sill()+rounding, "%g, %g", near, far)
		require.InDelta(t, m.Sill(), m.Semivariance(1e200), 1e-12)
		require.True(t, math.IsNaN(m.Semivariance(-1)) && math.IsNaN(m.Covariance(math.NaN())))
	})
}

// The formulas at one range: 1 − e⁻¹ for exponential and Gaussian, 1 − 2e⁻¹ for
// Matérn 3/2, 1 for spherical, and 11/16 at half of one.
func TestVariogramKinds(t *testing.T) {
	for kind, want := range map[interp.VariogramKind]float64{
		interp.Spherical: 1, interp.Exponential: 0.632120558828558, interp.Gaussian: 0.632120558828558, interp.Matern32: 0.264241117657115,
	} {
		assert.InDelta(t, want, interp.VariogramModel{Kind: kind, PartialSill: 1, Range: 7}.Semivariance(7), 1e-14, kind.String())
	}
	assert.InDelta(t, 11.0/16, interp.VariogramModel{Kind: interp.Spherical, PartialSill: 1, Range: 8}.Semivariance(4), 1e-15)
}

func TestVariogramModelRefuses(t *testing.T) {
	for _, m := range []interp.VariogramModel{
		{Kind: 9, PartialSill: 1, Range: 1}, {Kind: 1, PartialSill: -1, Range: 1}, {Kind: 1, Nugget: math.NaN(), Range: 1},
		{Kind: 1, Range: 1}, {Kind: 1, Nugget: 1}, {Kind: 1, Nugget: 1, Range: math.Inf(1)},
	} {
		assert.Error(t, m.Validate(), "%+v", m)
	}
}
