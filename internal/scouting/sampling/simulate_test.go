package sampling_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// Wald's bounds on the errors hold for independent units; three standard errors
// of the simulation are allowed for.
func TestErrorsStayWithinTheNominalOnes(t *testing.T) {
	for name, w := range map[string]sampling.Wald{
		"binomial":          {Low: .10, High: .22},
		"poisson":           {Distribution: sampling.Poisson, Low: 1, High: 1.6, Alpha: .05, Beta: .2},
		"negative binomial": {Distribution: sampling.NegativeBinomial, Low: 25, High: 60, K: .5},
	} {
		for kind, set := range map[string]sampling.Settings{
			"independent": {Most: 1000, Independent: true}, "as clusters": {Most: 1000},
		} {
			t.Run(name+" "+kind, func(t *testing.T) {
				got, err := sampling.Simulate(w, sampling.Walk{Stops: set}, []float64{w.Low, w.High, w.Lines().Slope})
				require.NoError(t, err)
				alpha, beta := w.Alpha, w.Beta
				if alpha == 0 {
					alpha, beta = .1, .1
				}
				t.Logf("over at low %.3f, under at high %.3f, stops %.1f, %.1f", got[0].Over, got[1].Under, got[0].Stops, got[1].Stops)
				assert.LessOrEqual(t, got[0].Over, alpha+3*math.Sqrt(alpha*(1-alpha)/2000))
				assert.LessOrEqual(t, got[1].Under, beta+3*math.Sqrt(beta*(1-beta)/2000))
				assert.Zero(t, got[0].Undecided)
				assert.Greater(t, got[2].Stops, got[0].Stops, "most stops between the two values")
				assert.InDelta(t, 1, got[0].Over+got[0].Under+got[0].Undecided, 1e-12)
			})
		}
	}
}

// With units of a stop alike, lines for independent units err more than they
// say; stops as clusters hold the errors down.
func TestClustering(t *testing.T) {
	cases := []struct {
		name       string
		rule       sampling.Wald
		clustering float64
	}{
		{"binomial, correlation 0.05", sampling.Wald{Low: .10, High: .22}, .05},
		{"binomial, correlation 0.2", sampling.Wald{Low: .10, High: .22}, .2},
		{"negative binomial, stops vary by 0.7", sampling.Wald{Distribution: sampling.NegativeBinomial, Low: 25, High: 60, K: .5}, .7},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			walk := func(set sampling.Settings) sampling.Walk {
				return sampling.Walk{Clustering: tc.clustering, Stops: set}
			}
			values := []float64{tc.rule.Low, tc.rule.High}
			plain, err := sampling.Simulate(tc.rule, walk(sampling.Settings{Independent: true, Most: 1000}), values)
			require.NoError(t, err)
			clusters, err := sampling.Simulate(tc.rule, walk(sampling.Settings{Most: 1000}), values)
			require.NoError(t, err)
			most, err := sampling.Simulate(tc.rule, walk(sampling.Settings{}), values)
			require.NoError(t, err)
			t.Logf("over at low, under at high: plain %.3f %.3f (%.1f stops), clusters %.3f %.3f (%.1f stops), at most 40: %.3f %.3f undecided %.3f %.3f", plain[0].Over, plain[1].Under,
				plain[0].Stops, clusters[0].Over, clusters[1].Under, clusters[0].Stops, most[0].Over, most[1].Under, most[0].Undecided, most[1].Undecided)
			assert.Less(t, clusters[0].Over, plain[0].Over)
			assert.Less(t, clusters[1].Under, plain[1].Under)
		})
	}
}

func TestSimulationIsRepeatable(t *testing.T) {
	w := sampling.Wald{Low: .1, High: .3}
	values := []float64{0, .1, .2, .5, 1}
	a, err := sampling.Simulate(w, sampling.Walk{Runs: 200, Seed: 5, Clustering: .1}, values)
	require.NoError(t, err)
	b, err := sampling.Simulate(w, sampling.Walk{Runs: 200, Seed: 5, Clustering: .1}, values)
	require.NoError(t, err)
	c, err := sampling.Simulate(w, sampling.Walk{Runs: 200, Seed: 6, Clustering: .1}, values)
	require.NoError(t, err)
	assert.Equal(t, a, b)
	assert.NotEqual(t, a, c)
	assert.Equal(t, 1.0, a[0].Under)
	assert.Equal(t, 1.0, a[4].Over)
}

func TestSimulationRefuses(t *testing.T) {
	w := sampling.Wald{Low: .1, High: .3}
	for name, tc := range map[string]struct {
		walk  sampling.Walk
		value float64
	}{
		"share above 1":    {sampling.Walk{}, 1.1},
		"not a number":     {sampling.Walk{}, math.NaN()},
		"correlation of 1": {sampling.Walk{Clustering: 1}, .1},
		"half a unit":      {sampling.Walk{PerStop: .5}, .1},
		"no runs":          {sampling.Walk{Runs: -1}, .1},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := sampling.Simulate(w, tc.walk, []float64{tc.value})
			assert.Error(t, err)
		})
	}
}
