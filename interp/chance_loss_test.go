package interp_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// byQuadrature is the expected min(max(m, 0), most) by the midpoint rule over the
// standard normal from −9 to 9.
func byQuadrature(d interp.ShiftedLogNormal, most float64) (sum float64) {
	const steps = 200_000
	for i := range steps {
		z := -9 + 18*(float64(i)+0.5)/steps
		m := math.Exp(d.Mean+math.Sqrt(d.Variance)*z) - d.Offset
		sum += min(max(m, 0), most) * math.Exp(-z*z/2)
	}
	return d.Weight * sum * 18 / steps / math.Sqrt(2*math.Pi)
}

func TestCappedAgainstQuadrature(t *testing.T) {
	for _, c := range []interp.ShiftedLogNormal{
		{1, 0.025, math.Log(40), 1}, {0.3, 0.025, math.Log(3), 2.5}, {1, 80, math.Log(90), 0.2}, {1, 20, math.Log(20), 0.01},
		{1, 0.05, math.Log(200), 0.5}, {1, 0.05, -3, 9}, {0.5, 80, math.Log(85), 1e-6}, {1, 0.05, 3, 0},
	} {
		for _, most := range []float64{0, 1, 40, 200} {
			assert.InDelta(t, byQuadrature(c, most), c.Capped(most), 1e-5*(1+most), "%+v capped at %g", c, most)
		}
	}
}

// By hand: without variance the mean itself is capped; a log-normal mean without a cap is
// e^(μ+v/2).
func TestCappedByHand(t *testing.T) {
	sure := interp.ShiftedLogNormal{Weight: 0.5, Offset: 2, Mean: math.Log(12)}
	assert.InDelta(t, 5, sure.Capped(100), 1e-12)
	assert.InDelta(t, 3, sure.Capped(6), 1e-12)
	assert.InDelta(t, 5, sure.Capped(10), 1e-12, "at the cap")
	below := interp.ShiftedLogNormal{Weight: 1, Offset: 2, Mean: 0}
	assert.Zero(t, below.Capped(10), "a mean below 0 is none")
	wide := interp.ShiftedLogNormal{Weight: 1, Offset: 1e-9, Mean: 1, Variance: 1}
	assert.InDelta(t, math.Exp(1.5), wide.Capped(1e9), 1e-6)
}

// Expected losses are those of the chances: the integral of the chance of being over
// each level up to the cap, they lie between none and the cap, and grow with it.
func TestCappedIsTheIntegralOfChances(t *testing.T) {
	testkit.Hundreds(t, 1, func(t *rapid.T) {
		n := rapid.IntRange(4, 25).Draw(t, "counts")
		counts := make([]interp.Count, n)
		for i := range counts {
			counts[i] = interp.Count{
				X: rapid.Float64Range(0, 500).Draw(t, "x"), Y: rapid.Float64Range(0, 500).Draw(t, "y"),
				Mean: rapid.Float64Range(0, 200).Draw(t, "mean"), Units: 20,
			}
		}
		model, err := interp.ChanceModel{Level: 40}.Fit(counts)
		require.NoError(t, err)
		x, y := rapid.Float64Range(-100, 600).Draw(t, "at x"), rapid.Float64Range(-100, 600).Draw(t, "at y")
		capped := func(most float64) (sum float64) {
			for _, d := range model.At(x, y) {
				sum += d.Capped(most)
			}
			return sum
		}
		const most, steps = 200.0, 400
		var integral float64
		for i := range steps { // by the square of a step, finer where chances fall fast
			from, to := most*square(float64(i)/steps), most*square(float64(i+1)/steps)
			integral += model.Over((from+to)/2).Predict(x, y) * (to - from)
		}
		require.InDelta(t, integral, capped(most), 0.005*most)
		require.LessOrEqual(t, capped(40), min(40, capped(most))+1e-9)
		require.LessOrEqual(t, capped(most), most+1e-9)
	})
	model, err := interp.ChanceModel{Level: 40}.Fit([]interp.Count{{X: 0, Mean: 1, Units: 1}, {X: 1, Mean: 1, Units: 1}, {X: 2, Mean: 3, Units: 1}})
	require.NoError(t, err)
	assert.Nil(t, model.At(math.NaN(), 0))
}

// Numbers beyond all use are no trouble.
func TestCappedOfHugeVariance(t *testing.T) {
	for _, variance := range []float64{1e2, 1e4, 1e300} {
		v := interp.ShiftedLogNormal{Weight: 1, Offset: 0.1, Mean: 3, Variance: variance}.Capped(200)
		assert.False(t, math.IsNaN(v) || v < 0 || v > 200, "variance %g: %g", variance, v)
	}
}

func square(v float64) float64 { return v * v }

// What is asked of many places together is what each is told by itself, to the bit: also of
// those that are left over, out of reach, and of none.
func TestChancesOfManyPlaces(t *testing.T) {
	for name, c := range map[string]*interp.Chances{
		"averaged":  chances(t, interp.ChanceModel{Level: 40}, counted(rand.New(rand.NewPCG(3, 1)), 20)),
		"likeliest": chances(t, interp.ChanceModel{Level: 40, Offset: 1}, counted(rand.New(rand.NewPCG(3, 1)), 20)),
	} {
		t.Run(name, func(t *testing.T) {
			require.Empty(t, c.AtEach(nil))
			l := interp.Lattice{X0: -30, Y0: 10, Cell: 37, Cols: 37, Rows: 2}
			over, err := interp.Fill(t.Context(), c.Over(40), l, interp.FillSettings{Mask: func(col, row int) bool { return col%5 > row }})
			require.NoError(t, err)
			var places [][2]float64
			for i := range l.Len() {
				col, row := i%l.Cols, i/l.Cols
				x, y := l.Node(col, row)
				places = append(places, [2]float64{x, y})
				if want := c.Over(40).Predict(x, y); col%5 > row {
					require.Equal(t, want, over.Values[i])
				} else {
					require.True(t, math.IsNaN(over.Values[i]))
				}
			}
			places = append(places, [2]float64{math.NaN(), 0}, [2]float64{0, 2e100})
			for i, told := range c.AtEach(places) {
				require.Equal(t, c.At(places[i][0], places[i][1]), told)
				require.Equal(t, i < l.Len(), told != nil)
			}
		})
	}
	far := interp.Lattice{X0: 1e100, Cell: 1e99, Cols: 2, Rows: 1}
	over, err := interp.Fill(t.Context(), chances(t, interp.ChanceModel{Level: 40}, counted(rand.New(rand.NewPCG(3, 1)), 20)).Over(40), far, interp.FillSettings{})
	require.NoError(t, err)
	require.False(t, math.IsNaN(over.Values[0]))
	require.True(t, math.IsNaN(over.Values[1]))
}

// Sums over what is known of one place after the other are those of each process, to the bit,
// whatever the processes of the place before were.
func TestSumsOverPlaces(t *testing.T) {
	d := func(offset, mean, variance float64) interp.ShiftedLogNormal {
		return interp.ShiftedLogNormal{Weight: 0.5, Offset: offset, Mean: mean, Variance: variance}
	}
	caps, threshold := interp.NewCaps(400, 40), interp.NewThreshold(40)
	for _, place := range [][]interp.ShiftedLogNormal{
		{d(0.025, 3, 1), d(20, 4, 0.1)}, {d(20, 4, 2), d(0.025, 1, 30)}, nil, {d(80, 4.5, 0)}, {d(0, 2, 1), d(80, 5, 1), d(20, 3, 2)},
	} {
		var one, other, chance float64
		for _, p := range place {
			one, other, chance = one+p.Capped(400), other+p.Capped(40), chance+p.Over(40)
		}
		gotOne, gotOther := caps.Of(place)
		assert.Equal(t, [3]float64{one, other, chance}, [3]float64{gotOne, gotOther, threshold.Of(place)}, "%v", place)
	}
	assert.Equal(t, 1.0, interp.NewThreshold(0).Of([]interp.ShiftedLogNormal{d(1, 1, 1), d(2, 1, 1)}), "a level of 0 is reached everywhere")
}
