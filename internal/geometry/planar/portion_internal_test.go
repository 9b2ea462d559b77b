package planar

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ⌊(2·step·along + all) / 2·all⌋ by numbers of any length.
func TestAPortionIsRoundedExactly(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, size := range []int64{3, 12, 1 << 20, 1 << 52} {
		for range 20_000 {
			some := func() float64 { return float64(rng.Int64N(2*size-1) - size + 1) }
			step, along, all := some(), cross(some(), some(), some(), some()), cross(some(), some(), some(), some())
			if _, below := along.minus(all); !below {
				along, all = all, along
			}
			if along == all {
				continue
			}
			n := new(big.Int).Mul(big.NewInt(int64(step)), long(along))
			n.Lsh(n, 1).Add(n, long(all)).Div(n, new(big.Int).Lsh(long(all), 1))
			require.EqualValues(t, n.Int64(), portion(step, along, all), "%v of %v in %v", step, along, all)
		}
	}
}

func TestACrossProductIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	whole := func(v float64) *big.Int { return big.NewInt(int64(v)) }
	for _, size := range []int64{3, 1 << 52} {
		for range 20_000 {
			some := func() float64 { return float64(rng.Int64N(2*size-1) - size + 1) }
			ax, ay, bx, by := some(), some(), some(), some()
			p, q := new(big.Int).Mul(whole(ax), whole(by)), new(big.Int).Mul(whole(ay), whole(bx))
			assert.Zero(t, p.Sub(p, q).CmpAbs(long(cross(ax, ay, bx, by))), "%v %v %v %v", ax, ay, bx, by)
		}
	}
}

func long(w whole) *big.Int {
	high := new(big.Int).SetUint64(w.high)
	return high.Lsh(high, 64).Add(high, new(big.Int).SetUint64(w.low))
}
