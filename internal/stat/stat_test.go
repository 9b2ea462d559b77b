package stat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/stat"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func TestMean(t *testing.T) {
	assert.Equal(t, 2.0, stat.Mean([]float64{1, 2, 3}))
	assert.True(t, math.IsNaN(stat.Mean(nil)))
	large, small := 1e16, 1.0
	assert.Equal(t, large/4, stat.Mean([]float64{large, small, small, 0}), "added up from the first: a 1 beside it is lost")
}

// By hand, type 7: of 1, 2, 4, 8 the place of p is 3p from the first.
func TestQuantile(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		sorted  []float64
		p, want float64
	}{
		{[]float64{1, 2, 4, 8}, 0, 1}, {[]float64{1, 2, 4, 8}, 0.5, 3}, {[]float64{1, 2, 4, 8}, 0.75, 5}, {[]float64{1, 2, 4, 8}, 1, 8},
		{[]float64{5}, 0.3, 5}, {[]float64{2, 2}, 0.3, 2},
		{[]float64{1, 2, inf}, 0.5, 2}, {[]float64{1, 2, inf}, 0.6, inf}, {[]float64{-inf, 2, 3}, 0.2, -inf}, {[]float64{1, inf, inf}, 0.8, inf},
	} {
		assert.Equal(t, c.want, stat.Quantile(c.sorted, c.p), "%v at %g", c.sorted, c.p)
	}
}

// By hand: shares of 2, 0 and 1 in 4 about 3/12, squares 1 + 1 + 0, expected of single
// units 12·(1/4)·(3/4) = 9/4; 3/2·2/(9/4) = 4/3.
func TestDesignEffect(t *testing.T) {
	clusters := []stat.Cluster{{2, 4}, {0, 4}, {1, 4}}
	assert.InEpsilon(t, 4.0/3, stat.DesignEffect(clusters, 9.0/4), 1e-12)
	assert.Equal(t, 1.0, stat.DesignEffect(clusters, 9), "never below 1")
	assert.Equal(t, 1.0, stat.DesignEffect([]stat.Cluster{{1, 4}, {1, 4}}, 1), "clusters alike")
	assert.True(t, math.IsNaN(stat.DesignEffect(clusters[:1], 1)))
}

func TestInterval(t *testing.T) {
	assert.True(t, stat.Interval{Low: 0, High: 1}.Known())
	assert.False(t, stat.Unknown().Known())
	assert.False(t, stat.Interval{Low: 0, High: math.NaN()}.Known())
}
