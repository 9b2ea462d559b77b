package interp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The product without assembly is that of the library to the last digits, whatever is left
// over when it goes in steps of eight.
func TestMultiplyPlain(t *testing.T) {
	chance := rand.New(rand.NewPCG(5, 8))
	for _, n := range []int{1, 7, 8, 9, 15, 16, 60} {
		rows, v := make([]float64, n*n), make([]float64, n)
		for i := range rows {
			rows[i] = chance.NormFloat64()
		}
		for i := range v {
			v[i] = chance.NormFloat64()
		}
		want, got := make([]float64, n), make([]float64, n)
		multiply(rows, v, want)
		multiplyPlain(rows, v, got)
		for i := range want {
			var size float64
			for k, x := range v {
				size += math.Abs(rows[i*n+k] * x)
			}
			assert.InDelta(t, want[i], got[i], 1e-15*size, "%d of %d", i, n)
		}
	}
}
