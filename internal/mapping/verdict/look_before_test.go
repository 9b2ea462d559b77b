package verdict_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
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

// Wherever nothing is sprayed and the mean is below the level, it is not expected over it
// by the day of the next look, unless that is tomorrow or today.
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
		f.Stats.Stops = rapid.IntRange(3, 40).Draw(t, "stops")
		f.Unscouted = f.Area * rapid.Float64Range(0, 0.5).Draw(t, "unscouted")
		v := verdict.Decide(f, verdict.Settings{})
		sprayed := v.Kind == verdict.SpotSpray || v.Kind == verdict.TreatWhole || v.Instead == verdict.SpotSpray || v.Instead == verdict.TreatWhole
		if sprayed || v.Days <= 1 {
			return
		}
		by := f.Stats.Mean * math.Exp2(v.Days/f.Doubling)
		assert.LessOrEqual(t, by, f.Treat*(1+1e-9), "%s, %s, %v days", v.Kind, v.Line, v.Days)
	})
}
