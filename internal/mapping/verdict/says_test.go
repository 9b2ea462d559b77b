package verdict_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/testkit"
)

// says are what the heading of each line says, and what the figures must be for it to
// be true.
func says() map[string]claim {
	type figures = verdict.Figures
	type settings = verdict.Settings
	over := func(f figures, _ settings) bool { return f.Low >= f.Treat && f.Stats.Mean >= f.Treat }
	inside := func(f figures) bool { return f.Stats.Edge.InteriorMean >= f.Treat }
	unsure := func(f figures) bool { return f.Low < f.Treat && f.High >= f.Treat }
	return map[string]claim{
		"few-inside":          {"too few stops lie inside it", func(f figures, s settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside }},
		"does-not-pay":        {"treating costs more than it would save", func(f figures, _ settings) bool { return f.Costs.WholeAverts < f.Costs.Whole }},
		"not-infested-enough": {"over the threshold, but too little is infested for the rule", func(f figures, s settings) bool { return over(f, s) && s.InfestedShare > 0 }},
		"all-alike-over":      {"all stops say the same, at or above the threshold", func(f figures, s settings) bool { return over(f, s) && f.Stats.Variance == 0 }},
		"whole-over":          {"surely at or above the threshold", over},
		"unscouted-much":      {"too much of it lies beyond reach of any stop", func(f figures, s settings) bool { return f.Unscouted > s.UnscoutedShare*f.Area }},
		"large-share":         {"so large a share is treat ground", func(f figures, s settings) bool { return f.TreatArea >= s.WholeShare*f.Area }},
		"everywhere":          {"the pest is all over it", func(f figures, s settings) bool { return f.Stats.Found.Share >= s.Everywhere }},
		"spot-costs-more":     {"a spot job costs no less", func(f figures, _ settings) bool { return f.Costs.Spot >= f.Costs.Whole }},
		"finer-than-stops":    {"one stop alone is over the threshold inside", func(f figures, _ settings) bool { return f.OverInside == 1 }},
		"spot":                {"", func(f figures, _ settings) bool { return f.TreatArea > 0 }},
		"edge-hot":            {"all stops over the threshold stand on its edge", func(f figures, _ settings) bool { return f.Over > 0 && f.OverInside == 0 }},
		"whole-over-inside":   {"surely at or above the threshold inside, 8 m or more from the edge", func(f figures, _ settings) bool { return f.InsideLow >= f.Treat }},
		"straddles":           {"the mean may lie on either side of the threshold", func(f figures, _ settings) bool { return unsure(f) }},
		"spread-unknown":      {"too few stops tell how sure the mean is", func(f figures, _ settings) bool { return f.Stats.Stops < 3 }},
		"over-by-edge":        {"at or above the threshold by its edge, below it inside", func(f figures, _ settings) bool { return f.Stats.Mean >= f.Treat && !inside(f) }},
		"too-close-over":      {"at or above the threshold inside, but not surely", func(f figures, _ settings) bool { return inside(f) && unsure(f) }},
		"under-by-edge":       {"below the threshold by its edge, at or above it inside", func(f figures, _ settings) bool { return f.Stats.Mean < f.Treat && inside(f) }},
		"one-over": {"one stop inside is over the threshold, and the mean may be", func(f figures, _ settings) bool {
			return f.OverInside == 1 && f.Stats.Mean < f.Treat && unsure(f)
		}},
		"few-over": {"few stops inside are over the threshold, and the mean may be", func(f figures, _ settings) bool {
			return f.OverInside > 1 && f.OverInside <= 3 && f.Stats.Mean < f.Treat && unsure(f)
		}},
		"too-close-under":   {"below the threshold, but not surely", func(f figures, _ settings) bool { return f.Stats.Mean < f.Treat && unsure(f) }},
		"hot-without-skill": {"below the threshold on average, though stops are over it", func(f figures, _ settings) bool { return f.Stats.Mean < f.Treat && f.Over > 0 }},
		"unscouted":         {"there is ground that nobody has been near", func(f figures, _ settings) bool { return f.Unscouted > 0 }},
		"grows":             {"no stop is over the threshold yet", func(f figures, _ settings) bool { return f.Over == 0 }},
		"watched":           {"all stops are below the watch level, but not all of the map", func(f figures, _ settings) bool { return f.Warm == 0 && f.TreatArea+f.WatchArea > 0 }},
		"few-stops":         {"too few stops to call it clear", func(f figures, s settings) bool { return f.Stats.Stops < s.LeastStops }},
		"below":             {"all is below the watch level", func(f figures, _ settings) bool { return f.Stats.Max < f.Watch && f.High < f.Watch }},
	}
}

// What a heading says is that of the line that decided, true of the figures, and goes
// with the kind; there is always a day to look next, of what is undecided soon.
func TestWhatHeadingsSayIsTrue(t *testing.T) {
	all, met := says(), map[string]int{}
	testkit.Hundreds(t, 100, func(t *rapid.T) {
		f, s := drawnFigures(t), drawnSettings(t)
		v := verdict.Decide(f, s)
		met[v.Line]++
		c, known := all[v.Line]
		require.True(t, known, v.Line)
		require.Equal(t, c.words, v.Says, v.Line)
		require.True(t, c.true(f, s), "%s: %q", v.Line, v.Says)
		require.GreaterOrEqual(t, v.Days, 1.0)
		require.Equal(t, v.Kind == verdict.Undecided, v.More > 0)
		if v.Kind == verdict.Undecided {
			require.LessOrEqual(t, v.Days, s.RevisitFound)
		} else {
			require.Empty(t, v.Where)
		}
	})
	words := map[string]string{}
	for line, c := range all {
		assert.Positive(t, met[line], line)
		assert.Empty(t, words[c.words], "%s and %s say the same", line, words[c.words])
		words[c.words] = line
	}
	assert.Len(t, all, len(claims()), "as many as give reasons")
}
