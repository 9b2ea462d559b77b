package interp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// nearAndExact are chances by the nearest 32 counts, and by all.
func nearAndExact(t *testing.T, s ChanceModel, counts []Count) (near, exact *Chances) {
	near, err := s.Fit(counts)
	require.NoError(t, err)
	s.Neighbors = AllNeighbors
	exact, err = s.Fit(counts)
	require.NoError(t, err)
	return near, exact
}

// Above 200 counts chances stay near those by every count. A mean that each place
// makes for itself from the nearest 32 puts them off by up to 0.35 here, the one mean
// of all with the nearest 32 by up to 0.31.
func TestChancesOfManyCountsAreNearTheExactOnes(t *testing.T) {
	for n, offsets := range map[int][]float64{250: {20}, 600: {0.025, 20}, 1000: {80}} {
		if n > testkit.Few(1000, 600) {
			continue
		}
		counts := scattered(n, 7)
		for _, offset := range offsets {
			near, exact := nearAndExact(t, ChanceModel{Level: inventedLevel, Offset: offset}, counts)
			assert.Equal(t, exact.Parameters(), near.Parameters())
			assert.Equal(t, exact.LeaveOneOut(inventedLevel), near.LeaveOneOut(inventedLevel))
			var most float64
			for i := range 144 {
				x, y := inventedSide*(float64(i%12)+0.5)/12, inventedSide*(float64(i/12)+0.5)/12
				most = max(most, math.Abs(near.Over(inventedLevel).Predict(x, y)-exact.Over(inventedLevel).Predict(x, y)))
			}
			t.Logf("%d counts, offset %g: chances are off by %.4f at most", n, offset, most)
			assert.Less(t, most, 0.025)
		}
	}
}

// Beyond what can be solved at once the nearest 32 stand for all, under the one mean:
// where the process has a short range, the chance of ground far from every count
// is that of the mean.
func TestOneMeanFarFromEveryCount(t *testing.T) {
	counts := scattered(wholeSystem+50, 9)
	c, err := ChanceModel{Level: inventedLevel, Offset: 0.025}.Fit(counts)
	require.NoError(t, err)
	p := c.Parameters()[0]
	far := c.Over(inventedLevel)
	at := c.At(1e5, 1e5)
	require.Len(t, at, 1)
	assert.InDelta(t, p.Mean, at[0].Mean, 1e-9)
	assert.Greater(t, at[0].Variance, p.Variance)
	assert.Less(t, at[0].Variance, 1.2*p.Variance, "the mean is known by all counts")
	assert.Equal(t, [2]float64{1, 0.025}, [2]float64{at[0].Weight, at[0].Offset})
	assert.InDelta(t, far.Predict(1e5, 1e5), far.Predict(-1e5, 3e4), 1e-9, "the same wherever the nearest are")
	left := c.LeaveOneOut(inventedLevel)
	require.Len(t, left, len(counts))
	var predicted, found float64
	for i, l := range left {
		require.True(t, l.Reading >= 0 && l.Reading <= 1)
		predicted += l.Reading
		if counts[i].Mean >= inventedLevel {
			found++
		}
	}
	assert.InEpsilon(t, found, predicted, 0.2)
}

// scattered are counts on log-Gaussian ground.
func scattered(n int, seed uint64) (counts []Count) {
	rng := rand.New(rand.NewPCG(seed, 3))
	g := logGaussian(0.2)(rng)
	for range n {
		x, y := inventedSide*rng.Float64(), inventedSide*rng.Float64()
		c := leavesAt(g(x, y), 20, 1, rng)
		c.X, c.Y = x, y
		counts = append(counts, c)
	}
	return counts
}

// Conditioned on every count before it, Vecchia's likelihood is the exact one.
func TestVecchiaOnAllBeforeIsExact(t *testing.T) {
	counts := scattered(40, 1)
	v := &vecchia{order: spreadOrder(counts)}
	var places observed
	for i, at := range v.order {
		places.xs, places.ys = append(places.xs, counts[at].X), append(places.ys, counts[at].Y)
		var before []int
		for j := range i {
			before = append(before, j)
		}
		v.condition(&places, before)
	}
	p := ChanceParameters{Offset: 0.025, Aggregation: 1}
	parts, whole := newLikelihood(p, counts, v), newLikelihood(p, counts, nil)
	for _, at := range [][]float64{{0, 3}, {1, 4}, {-2, 5}} {
		assert.InEpsilon(t, whole.of(at), parts.of(at), 1e-9)
		assert.InEpsilon(t, whole.mean(), parts.mean(), 1e-9)
		assert.InEpsilon(t, whole.bb, parts.bb, 1e-9)
	}
}

// The parameters by Vecchia's likelihood shift chances by next to nothing.
func TestVecchiaFindsTheExactParameters(t *testing.T) {
	counts := scattered(400, 2)
	p := ChanceParameters{Offset: 0.025, Aggregation: aggregation(counts)}
	near := newVecchia(counts)
	require.NotNil(t, near)
	fast, slow := process{ChanceParameters: p}, process{ChanceParameters: p}
	fastModel, _ := fast.fit(counts, near)
	slowModel, _ := slow.fit(counts, nil)
	assert.InDelta(t, slow.likelihood, fast.likelihood, 2)
	var most float64
	a, b := predictorOf(t, counts, p, fastModel), predictorOf(t, counts, p, slowModel)
	for i := range 400 {
		x, y := inventedSide*(float64(i%20)+0.5)/20, inventedSide*(float64(i/20)+0.5)/20
		most = max(most, math.Abs(p.above(inventedLevel, gaussian(a.smoothed(x, y, none)))-p.above(inventedLevel, gaussian(b.smoothed(x, y, none)))))
	}
	t.Logf("chances are off by %.4f at most; range %.1f and %.1f m, variance %.2f and %.2f", most, fast.Range, slow.Range, fast.Variance, slow.Variance)
	assert.Less(t, most, 0.02)
}

func predictorOf(t *testing.T, counts []Count, p ChanceParameters, m VariogramModel) *kriging {
	var samples []Sample
	for _, c := range counts {
		samples = append(samples, Sample{X: c.X, Y: c.Y, Value: math.Log(c.Mean + p.Offset)})
	}
	k := newKriging(OrdinaryKriging{Model: m, Neighbors: AllNeighbors}, samples)
	for _, id := range k.id {
		k.seen.noise = append(k.seen.noise, p.noise(counts[id].Mean, counts[id].Units))
	}
	require.True(t, k.wellConditioned())
	return k
}

// Newton's steps end where a simplex does, or say that they cannot.
func TestNewtonFindsWhatASimplexDoes(t *testing.T) {
	found := 0
	for seed := range uint64(testkit.Few(2, 1)) {
		counts := scattered(800, seed)
		near := newVecchia(counts)
		for _, offset := range []float64{0.025, 20, 80} {
			p := ChanceParameters{Offset: offset, Aggregation: aggregation(counts)}
			l := newLikelihood(p, counts, near)
			start := l.clamped(newLikelihood(p, near.first(counts, netCounts), nil).lowest())
			slow := l.downhill(start)
			l.parts = partsFirst
			start = l.downhill(start)
			l.parts = len(near.order)
			fast, ok := l.newton(start, newtonLeast)
			if !ok {
				continue
			}
			found++
			assert.InDelta(t, l.of(slow), l.of(fast), 0.01)
		}
	}
	assert.GreaterOrEqual(t, found, testkit.Few(4, 2), "of 6, or of 3")
}

// Where the lowest place is at a bound, the steps go along it, and end where a simplex
// does that knows no way but inside.
func TestNewtonAlongTheBounds(t *testing.T) {
	counts := scattered(700, 1)
	near := newVecchia(counts)
	for side := range 2 {
		l := newLikelihood(ChanceParameters{Offset: 20, Aggregation: 1}, counts, near)
		best, ok := l.newton(l.downhill(l.clamped([]float64{0, 3})), newtonLeast)
		require.True(t, ok)
		for _, high := range []bool{false, true} {
			bounded := *l
			if high {
				bounded.low[side] = best[side] + 0.3
			} else {
				bounded.high[side] = best[side] - 0.3
			}
			along, ok := bounded.newton(bounded.clamped([]float64{best[0], best[1]}), newtonLeast)
			require.True(t, ok)
			slow := bounded.downhill(bounded.clamped([]float64{best[0], best[1]}))
			assert.LessOrEqual(t, bounded.of(along), bounded.of(slow)+0.01)
			assert.LessOrEqual(t, l.of(best), bounded.of(along))
		}
	}
}

// From everywhere within bounds the steps end as low, or say that they cannot.
func TestNewtonFromEverywhere(t *testing.T) {
	counts := scattered(700, 1)
	near := newVecchia(counts)
	l := newLikelihood(ChanceParameters{Offset: 20, Aggregation: 1}, counts, near)
	least := l.of(l.downhill(l.clamped([]float64{0, 3})))
	found := 0
	for i := 0; i < 16; i += testkit.Few(1, 5) {
		x, y := float64(i%4)/3, float64(i/4)/3
		at := []float64{l.low[0] + float64(x*(l.high[0]-l.low[0])), l.low[1] + float64(y*(l.high[1]-l.low[1]))}
		if best, ok := l.newton(at, newtonLeast); ok {
			found++
			assert.InDelta(t, least, l.of(best), 0.01, at)
		}
	}
	assert.Greater(t, found, testkit.Few(4, 1))
}
