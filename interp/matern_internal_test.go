package interp

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The table keeps to its bound between its places, at them, at its end and beyond.
func TestMaternTableKeepsItsBound(t *testing.T) {
	var most float64
	check := func(u float64) {
		if off := math.Abs(exponentials().matern32(u) - Matern32.shape(u)); !(off <= most) {
			most = off
		}
	}
	for i := range 1_000_000 {
		check(float64(i) * (maternReach + 2) / 1_000_000)
	}
	for k := range maternPace * (maternReach + 1) {
		for _, u := range []float64{float64(k) / maternPace, (float64(k) + 0.5) / maternPace} {
			check(u)
			check(math.Nextafter(u, math.Inf(1)))
			check(math.Nextafter(u, 0))
		}
	}
	for _, u := range []float64{5e-324, 1e-300, 1e-9, 1e9, math.MaxFloat64, math.Inf(1)} {
		check(u)
	}
	t.Logf("off by %.1e at most", most)
	assert.LessOrEqual(t, most, 1e-15)
	assert.Equal(t, 1.0, exponentials().matern32(0))
}

func BenchmarkMatern(b *testing.B) {
	d, c := make([]float64, 496), make([]float64, 496)
	for i := range d {
		d[i] = float64(i) * 0.7
	}
	m := VariogramModel{Kind: Matern32, PartialSill: 2, Range: 60}
	b.Run("table", func(b *testing.B) {
		for b.Loop() {
			covariances(m, d, c)
		}
	})
	b.Run("exponential", func(b *testing.B) {
		for b.Loop() {
			for i, v := range d {
				c[i] = m.Covariance(v)
			}
		}
	})
}
