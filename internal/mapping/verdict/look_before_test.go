package verdict_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A field just below the level whose pest doubles each day is looked at tomorrow, hot
// stops or none, and at equality on the day itself.
func TestTheNextLookComesBeforeTheLevel(t *testing.T) {
	for _, c := range []struct{ mean, doubling, want float64 }{
		{39.9, 1, 1}, {39.9, 4.2, 1}, {20, 1, 1}, {10, 1, 2}, {9.9, 1, 2}, {5, 1, 3}, {10, 1.5, 3}, {10, 4.2, 7}, {10, 0, 3},
	} {
		f := quiet()
		f.Stats.Mean, f.Stats.Max, f.Low, f.High, f.Warm, f.Doubling = c.mean, c.mean, c.mean, c.mean, 30, c.doubling
		got := verdict.Decide(f, verdict.Settings{})
		assert.Equal(t, verdict.LookAgain, got.Kind)
		assert.Equal(t, c.want, got.Days, c)
	}
	f := quiet() // below a watch level of the user's own, for a pest that is quicker
	f.Doubling = 1
	got := verdict.Decide(f, verdict.Settings{})
	assert.Equal(t, verdict.NoSpray, got.Kind)
	assert.Equal(t, 4.0, got.Days, "2 a leaf is 32 in four days, 64 in five")
}

// A spot job is due before the ground outside it is over the level, and no sooner for what is
// sprayed; a job for the whole field leaves nothing, and a map that is not believed tells of no
// ground outside.
func TestASprayIsDueBeforeTheRestIsOver(t *testing.T) {
	for _, c := range []struct {
		rest     float64
		believed bool
		want     float64
	}{
		{10, true, 3}, {24, true, 3}, {24.5, true, 2}, {28.7, true, 2}, {28.8, true, 1}, {39.9, true, 1}, {40, true, 3}, {math.NaN(), true, 3},
	} {
		f := spot()
		f.Doubling, f.RestMean, f.Believed = 4.2, c.rest, c.believed
		got := verdict.Decide(f, verdict.Settings{})
		require.Equal(t, verdict.SpotSpray, got.Kind)
		assert.Equal(t, c.want, got.Days, c)
	}
	v := verdict.Verdict{Kind: verdict.Undecided, Instead: verdict.SpotSpray}
	v.Stats.Mean, v.RestMean = 20, 10
	assert.Equal(t, 20.0, v.Left(), "by the stops, where the map is not believed")
	v.Believed = true
	assert.Equal(t, 10.0, v.Left())
	v.Instead = verdict.LookAgain
	assert.Equal(t, 20.0, v.Left())
	v.Instead = verdict.TreatWhole
	assert.True(t, math.IsNaN(v.Left()))
}

// Wherever ground is left that is below the level, it is not expected over it by the day of
// the next look, unless that is tomorrow or today.
func TestNoFieldIsOverBeforeItIsLookedAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := quiet()
		if rapid.Bool().Draw(t, "hot") {
			f = spot()
			f.Over = rapid.IntRange(0, 9).Draw(t, "over")
			f.OverInside = rapid.IntRange(0, f.Over).Draw(t, "inside")
		}
		f.Doubling = rapid.Float64Range(0.2, 9).Draw(t, "days")
		f.Stats.Mean = f.Treat * rapid.Float64Range(0.001, 0.9999).Draw(t, "mean")
		f.Stats.Edge.InteriorMean = f.Stats.Mean
		f.Stats.Max = f.Stats.Mean * rapid.Float64Range(1, 9).Draw(t, "max")
		f.Low = f.Stats.Mean * rapid.Float64Range(0, 1).Draw(t, "low")
		f.High = f.Stats.Mean * rapid.Float64Range(1, 4).Draw(t, "high")
		f.Believed = rapid.Bool().Draw(t, "believed")
		f.RestMean = f.Stats.Mean * rapid.Float64Range(0, 1.5).Draw(t, "rest")
		f.Stats.Stops = rapid.IntRange(3, 40).Draw(t, "stops")
		f.Unscouted = f.Area * rapid.Float64Range(0, 0.5).Draw(t, "unscouted")
		v := verdict.Decide(f, verdict.Settings{})
		left := v.Left()
		if !(left < f.Treat) || v.Days <= 1 {
			return
		}
		by := left * math.Exp2(v.Days/f.Doubling)
		assert.LessOrEqual(t, by, f.Treat*(1+1e-9), "%s, %s, %v days", v.Kind, v.Line, v.Days)
	})
}
