package fieldstats

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/stat"
)

// Of even values the quantiles are those of Student's t, z + (z³ + z)/4n up to 1/n
// (Abramowitz & Stegun 26.7.5).
func TestOfEvenValuesTheExpansionIsStudentsT(t *testing.T) {
	for _, z := range []float64{-1.96, 0.5, 2.576} {
		first, second := cornishFisher(z, 0, 0)
		assert.Zero(t, first)
		assert.InEpsilon(t, (z*z*z+z)/4, second, 1e-12)
	}
}

func skewed(n int, rng *rand.Rand) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = math.Floor(rng.ExpFloat64() * 40 * rng.ExpFloat64())
	}
	return v
}

// As many draws as are usual are off by some hundredths of a standard error, and by no
// more than four of that the expansion is away from them.
func TestTheExpansionIsWhereDrawsAre(t *testing.T) {
	s := Settings{}
	off := math.Sqrt(.025*.975/usualResamples) / normalDensity(1.96)
	sure := 0
	for seed := range uint64(6) {
		v := skewed(1000+300*int(seed), rand.New(rand.NewPCG(seed, 1)))
		low, high, is := expanded(v, .025, usualResamples)
		if !is {
			continue
		}
		sure++
		drawn := s.drawn(v, Mean(v), .025)
		assert.InDelta(t, stat.Quantile(drawn, .025), low, 4*off, "seed %d", seed)
		assert.InDelta(t, stat.Quantile(drawn, .975), high, 4*off, "seed %d", seed)
	}
	assert.Greater(t, sure, 3)
}

// The values of a morning are drawn, and so are many that one of them outweighs.
func TestWhereTheExpansionIsNotSure(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	v := make([]float64, leastExpanded)
	for i := range v {
		v[i] = rng.Float64()
	}
	_, _, sure := expanded(v, .025, usualResamples)
	assert.True(t, sure)
	_, _, sure = expanded(v[1:], .025, usualResamples)
	assert.False(t, sure, "one fewer")
	v[0] = 1000
	_, _, sure = expanded(v, .025, usualResamples)
	assert.False(t, sure, "one outweighs all")
}
