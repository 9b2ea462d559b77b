package interp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The error of log(share + c) over binomial draws against what the model takes it
// for: its mean must be within a third of the truth for the offsets that are tried,
// from shares that are rare to those that are nearly all.
func TestErrorsOfSharesAreThoseOfBinomialDraws(t *testing.T) {
	const level, draws = 0.3, 20000
	for _, units := range []int{20, 40} {
		for _, c := range []float64{0.5 / float64(units), level / 2, level * 2} {
			p := ChanceParameters{Offset: c, binomial: true}
			for _, share := range []float64{0.1, 0.3, 0.6, 0.9} {
				rng := rand.New(rand.NewPCG(5, uint64(units)))
				var sum, squares, noise float64
				for range draws {
					hits := 0
					for range units {
						if rng.Float64() < share {
							hits++
						}
					}
					seen := float64(hits) / float64(units)
					y := math.Log(seen + c)
					sum, squares, noise = sum+y, squares+y*y, noise+p.noise(seen, float64(units))
				}
				truth := squares/draws - sum/draws*sum/draws
				ratio := noise / draws / truth
				t.Logf("%d units, c %g, share %g: %.2f of the true variance", units, c, share, ratio)
				assert.True(t, ratio > 0.75 && ratio < 1.33, "%d units, c %g, share %g: %g times", units, c, share, ratio)
				at := p.noise(share, float64(units)) // at the level, of readings
				assert.InEpsilon(t, share*(1-share)/(float64(units)*(share+c)*(share+c)), at, 0.25)
			}
		}
	}
	for _, sure := range []float64{0, 1, 1.2} {
		assert.Positive(t, ChanceParameters{Offset: 0.025, binomial: true}.noise(sure, 20), "none and all are not known without error")
	}
	// By means it is (1/(m + c) + κ)/n still, to the last bit.
	m, p := 3.7, ChanceParameters{Offset: 0.025, Aggregation: 0.4}
	assert.Equal(t, (1/(m+p.Offset)+p.Aggregation)/20, p.noise(m, 20))
}
