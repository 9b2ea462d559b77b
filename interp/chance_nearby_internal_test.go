package interp

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// manyCounts is above what is solved for at once, and above what decides on weights.
const manyCounts = vecchiaCounts + 200

func krigedOf(t *testing.T, counts []Count, offset float64) *kriged {
	p := ChanceParameters{Offset: offset, Aggregation: aggregation(counts)}
	k := newKriged(counts, p, DefaultChanceNeighbors, newVecchia(counts), nil)
	require.NotNil(t, k)
	return k
}

// What the nearest say is what the library's solver makes of the same equations: at places,
// at counts, and far away.
func TestNearbyIsAsTheWholeEquations(t *testing.T) {
	k := krigedOf(t, scattered(wholeSystem+200, 3), 0.025)
	same := func(x, y float64, skip int32) {
		value, variance := k.latent.smoothed(x, y, skip)
		told := k.byNearest(x, y, skip)
		assert.InDelta(t, value, told.mean, 1e-11*(1+math.Abs(value)))
		assert.InDelta(t, variance, told.variance, 1e-11*(1+variance))
	}
	for i := range 400 {
		same(inventedSide*(float64(i%20)+0.5)/20, inventedSide*(float64(i/20)+0.5)/20, none)
	}
	for i, x := range k.latent.xs {
		same(x, k.latent.ys[i], none)
		same(x, k.latent.ys[i], k.latent.id[i])
	}
	same(1e6, -1e6, none)
	same(1e99, 0, none)
}

// Whom the bound lets pass, the equations of every place let pass; counts so near each
// other and so sure that the bound says nothing are looked at one by one.
func TestSolvableByABoundOrByTheEquations(t *testing.T) {
	counts := scattered(wholeSystem+200, 4)
	k := krigedOf(t, counts, 0.025)
	assert.True(t, k.solvable())
	assert.True(t, k.latent.wellConditioned())
	for i := range k.latent.seen.noise {
		k.latent.seen.noise[i] = 1e-300
	}
	k.latent.xs[1], k.latent.ys[1] = k.latent.xs[0], k.latent.ys[0]
	assert.False(t, k.solvable(), "two counts at one place without error")
}

// Above 3,000 counts so many of them decide on the weights, as all would; each count is
// still left out where its process has a weight.
func TestSpreadCountsDecideAsAllDo(t *testing.T) {
	counts := scattered(manyCounts, 5)
	c, err := ChanceModel{Level: inventedLevel}.Fit(counts)
	require.NoError(t, err)
	require.Len(t, c.judging(), vecchiaCounts)
	near := newVecchia(c.pooled)
	var fitted []*kriged
	for _, offset := range (ChanceModel{Level: inventedLevel}).offsets(c.pooled) {
		p := ChanceParameters{Offset: offset, Aggregation: aggregation(c.pooled)}
		fitted = append(fitted, newKriged(c.pooled, p, DefaultChanceNeighbors, near, nil))
	}
	by := func(judges []int) map[float64]float64 {
		copied := &Chances{ensemble: &likeliest{all: slices.Clone(fitted), judges: judges}, pooled: c.pooled}
		copied.weigh(inventedLevel)
		weights := map[float64]float64{}
		for _, p := range copied.members {
			weights[p.Offset] = p.Weight
		}
		return weights
	}
	all, judges := by(nil), by(c.judging())
	for _, offset := range (ChanceModel{Level: inventedLevel}).offsets(c.pooled) {
		assert.InDelta(t, all[offset], judges[offset], 0.05)
	}
	for _, p := range c.members {
		for i, left := range p.left {
			require.Greater(t, left.variance, 0.0, "count %d", i)
		}
	}
}

// What has no weight is no parameter.
func TestParametersAreNumbers(t *testing.T) {
	c, err := ChanceModel{Level: inventedLevel}.Fit(scattered(600, 6))
	require.NoError(t, err)
	var sum float64
	for _, p := range c.Parameters() {
		assert.Greater(t, p.Weight, 0.0)
		assert.Greater(t, p.Variance, 0.0)
		assert.Greater(t, p.Range, 0.0)
		assert.False(t, math.IsNaN(p.Mean))
		sum += p.Weight
	}
	assert.InDelta(t, 1, sum, 1e-12)
}
