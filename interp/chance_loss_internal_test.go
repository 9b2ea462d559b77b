package interp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// What is left out of a cap far above a place changes no bit, wherever the cap begins to be
// far, and it is left out of many.
func TestCapsFarAboveAreTheSame(t *testing.T) {
	draw, skipped, draws := rand.New(rand.NewPCG(8, 3)), 0, testkit.Draws(100_000)
	for range draws {
		d := ShiftedLogNormal{draw.Float64(), math.Exp(draw.NormFloat64() - 3), 2 * draw.NormFloat64(), math.Exp(2*draw.NormFloat64() - 2)}
		c := d.cappings(math.Log(d.Offset))
		b := surelyBelow + math.Sqrt(d.Variance) + draw.NormFloat64()*[]float64{0, 1e-15, 0.5, 9}[draw.IntN(4)]
		most := math.Exp(d.Mean+b*c.s) - d.Offset
		if !(most >= 0) || math.IsInf(most, 1) {
			continue
		}
		logHigh := math.Log(d.Offset + most)
		b = (logHigh - d.Mean) / c.s
		require.Equal(t, c.within(most, b), c.at(most, logHigh), "%+v capped at %g", d, most)
		if b-c.s >= surelyBelow && !c.plain.above {
			skipped++
		}
	}
	assert.Greater(t, skipped, draws/4)
	assert.Equal(t, 1.0, 1-normalTails().beyond(surelyBelow))
}
