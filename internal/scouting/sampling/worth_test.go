package sampling_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Worked by hand; other programs that answer beside the walk use the same values.
func TestRegretByHand(t *testing.T) {
	for _, c := range []struct {
		name      string
		means     []float64
		threshold float64
		want      float64
	}{
		{"clean", []float64{0, 0, 0, 0}, 40, .06},                       // 0.3/5
		{"all far over", []float64{400, 50, 40, 90}, 40, .06},           // each is 1
		{"half over", []float64{0, 0, 80, 80}, 40, .9/3 + .06},          // s² = 4·0.25/3
		{"half the threshold", []float64{0, 20}, 40, .9*.125 + .1},      // s² = 0.125
		{"five", []float64{4, 8, 16, 40, 100}, 40, .9*.188 + .3/6},      // 0.1 0.2 0.4 1 1, mean 0.54, Σd² = 0.752
		{"at the threshold", []float64{40, 40, 39.999999, 40}, 40, .06}, // up to rounding
	} {
		assert.InDelta(t, c.want, sampling.Regret(c.means, c.threshold), 1e-9, c.name)
	}
	assert.True(t, math.IsNaN(sampling.Regret([]float64{3}, 40)))
	assert.True(t, math.IsNaN(sampling.Regret([]float64{3, 4}, 0)))
	assert.True(t, math.IsNaN(sampling.Regret([]float64{3, 4}, math.NaN())))
}

func TestWorthByHand(t *testing.T) {
	w := sampling.Worth{Area: 50, Regret: .24, Stops: 12, Price: .5}
	assert.InDelta(t, .5, w.Next(), 1e-12) // 50·0.24/24
	assert.False(t, w.Enough(), "a stop that saves its price is walked to")
	w.Price = .5000001
	assert.True(t, w.Enough())
	w.Stops, w.Price = 11, 9
	assert.False(t, w.Enough(), "never before twelve")
	assert.Equal(t, 1, w.More(40))

	w = sampling.Worth{Area: 50, Regret: .24, Stops: 12, Price: .0625}
	assert.Equal(t, 36, w.More(100)) // 12·8^(2/3) = 48
	assert.Equal(t, 20, w.More(20))

	unknown := sampling.Worth{Area: 50, Regret: math.NaN(), Stops: 20, Price: 1}
	assert.False(t, unknown.Enough())
	assert.Zero(t, unknown.More(40))
	assert.False(t, sampling.Worth{Area: 50, Regret: .1, Stops: 20}.Enough(), "no price, no answer")
	assert.Error(t, sampling.Worth{Price: 1}.Validate())
	assert.Error(t, sampling.Worth{Area: 5, Price: math.NaN()}.Validate())
	assert.NoError(t, sampling.Worth{Area: 5}.Validate())
}

// More is 0 just where the stops are enough, and falls with the price.
func TestMoreAgreesWithEnough(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		w := sampling.Worth{
			Area: rapid.Float64Range(.5, 200).Draw(t, "area"), Regret: rapid.Float64Range(.001, .5).Draw(t, "regret"),
			Stops: rapid.IntRange(2, 90).Draw(t, "stops"), Price: rapid.Float64Range(.001, 3).Draw(t, "price"),
		}
		more := w.More(1000)
		assert.Equal(t, w.Enough(), more == 0)
		dearer := w
		dearer.Price *= 2
		assert.LessOrEqual(t, dearer.More(1000), more)
	})
}

// A tally weighs stops where it is given what they cost, and a clean field needs none
// beyond those that an answer wants.
func TestTallyWeighsStops(t *testing.T) {
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{Area: 50, Price: .2})
	require.NoError(t, err)
	var a sampling.Answer
	for i := range 14 {
		a, err = tally.Add(sampling.Count{Total: float64(i % 2 * 9), Units: 10})
		require.NoError(t, err)
	}
	// Half of the stops at 1, half at 0, T = 0.2: s² = 14·0.25/13.
	assert.InDelta(t, .9*3.5/13+.02, a.Regret, 1e-12)
	assert.True(t, a.Weighed)
	assert.Equal(t, sampling.Worth{Area: 50, Regret: a.Regret, Stops: 14, Price: .2}.More(100), a.More)
	assert.Positive(t, a.More)
	plain, err := sampling.NewTally(share(.1, .3), sampling.Settings{Area: 50})
	require.NoError(t, err)
	a, err = plain.Add(sampling.Count{Total: 1, Units: 10})
	require.NoError(t, err)
	assert.False(t, a.Weighed)
}

// By the map, with the values of TestWorthByHand: a stop that saves its price is walked
// to, a dearer one not; the plan's own answer does not end such a walk, its most stops do.
func TestAnswersByTheMap(t *testing.T) {
	set := sampling.Settings{Area: 50, Price: .5}
	a := sampling.Answer{Stops: 12, Most: 40, Crossed: true, Verdict: sampling.Over}
	got := a.ByMap(set, .24)
	assert.Equal(t, sampling.GoOn, got.Verdict, "at equality")
	assert.Equal(t, 1, got.More)
	assert.True(t, got.Weighed)
	set.Price = .5000001
	got = a.ByMap(set, .24)
	assert.Equal(t, sampling.Mappable, got.Verdict)
	assert.Zero(t, got.More)

	a.Crossed, a.Verdict = false, sampling.GoOn
	assert.Equal(t, sampling.GoOn, a.ByMap(set, .24).Verdict, "not before the field is crossed")
	a.Crossed, a.Stops = true, 11
	assert.Equal(t, sampling.GoOn, a.ByMap(set, .24).Verdict, "never before twelve")
	a.Stops, a.Verdict = 40, sampling.Under
	assert.Equal(t, sampling.Undecided, a.ByMap(sampling.Settings{Area: 50, Price: .01}, .24).Verdict, "the most")
	assert.Equal(t, a, a.ByMap(sampling.Settings{Area: 50}, .24), "no price")
	assert.Equal(t, a, a.ByMap(set, math.NaN()), "no map")
}
