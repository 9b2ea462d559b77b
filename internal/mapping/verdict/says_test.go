package verdict_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// says are what the heading of each line says, and what the figures must be for it to
// be true.
func says() map[string]claim {
	type figures = verdict.Figures
	type settings = verdict.Settings
	over := func(f figures, _ settings) bool { return f.Low >= f.Treat && f.Stats.Mean >= f.Treat }
	inside := func(f figures) bool { return f.Stats.Edge.InteriorMean >= f.Treat }
	return map[string]claim{
		"few-inside":          {"too few stops lie inside it", func(f figures, s settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside }},
		"part-only":           {"the stops stand in a part of it", func(f figures, _ settings) bool { return f.Partial() }},
		"does-not-pay":        {"treating costs more than it would save", func(f figures, _ settings) bool { return f.Costs.WholeAverts < f.Costs.Whole }},
		"not-infested-enough": {"over the threshold, but too little is infested for the rule", func(f figures, s settings) bool { return over(f, s) && s.InfestedShare > 0 }},
		"unscouted-much":      {"too much of it lies beyond reach of any stop", func(f figures, s settings) bool { return f.Unscouted > s.UnscoutedShare*f.Area }},
		"spread-unknown":      {"too few stops to know how sure the mean is", func(f figures, _ settings) bool { return f.Stats.Stops < 3 }},
		"few-for-a-map":       {"stops are over the threshold, but too few were walked for a map", func(f figures, s settings) bool { return f.Over > 0 && f.Stats.Stops < s.LeastStops }},
		"edge-hot":            {"all stops over the threshold stand on its edge", func(f figures, _ settings) bool { return f.Over > 0 && f.OverInside == 0 }},
		"over-by-edge":        {"at or above the threshold by its edge, below it inside", func(f figures, _ settings) bool { return f.Stats.Mean >= f.Treat && !inside(f) }},
		"one-over":            {"one hot stop", func(f figures, _ settings) bool { return f.OverInside == 1 && f.High >= f.Treat }},
		"few-over":            {"few hot stops", func(f figures, _ settings) bool { return f.OverInside-f.Beside <= 3 && f.High >= f.Treat }},
		"spot-costs-more":     {"a spot job costs no less", func(f figures, _ settings) bool { return f.Costs.Spot >= f.Costs.Whole }},
		"large-share":         {"nearly all of it is treat ground", func(f figures, s settings) bool { return f.TreatArea >= s.WholeShare*f.Area }},
		"whole-or-zone": {"too few stops to know whether all of it needs spray", func(f figures, _ settings) bool {
			return f.Low < f.Treat && f.Sums.Zone < f.Sums.Whole
		}},
		"mean-over":         {"at or above the threshold, and the map does not tell which part to spray", func(f figures, _ settings) bool { return f.Stats.Mean >= f.Treat || inside(f) }},
		"whole-though-more": {"at or above the threshold, and a spot job is expected to cost no less", func(f figures, _ settings) bool { return f.Sums.Whole <= f.Sums.Zone }},
		"whole-close":       {"that is expected to cost least, but it is a close call", func(f figures, _ settings) bool { return f.Sums.Whole <= min(f.Sums.Nothing, f.Sums.Zone) }},
		"whole":             {"that is expected to cost least", func(f figures, _ settings) bool { return f.Sums.Whole <= min(f.Sums.Nothing, f.Sums.Zone) }},
		"single-places":     {"stops over the threshold may be single places", func(f figures, _ settings) bool { return f.OverInside > 0 && !f.Believed }},
		"single":            {"what is over the threshold are single places", func(f figures, _ settings) bool { return f.Walked > 0 && f.Patches == 0 }},
		"by-one-stop": {"at or above the threshold by one hot stop alone", func(f figures, _ settings) bool {
			return (f.Stats.Mean >= f.Treat || inside(f)) && f.MeanWithout < f.Treat && f.OverInside > 0
		}},
		"one-spot": {"what to spray rests on one stop", func(f figures, _ settings) bool { return f.Over == 1 && f.OverInside == 1 }},
		"patch":    {"stops round a hot one are hot as well", func(f figures, _ settings) bool { return f.Patches > 0 }},
		"walked":   {"hot stops were walked round, and spraying is expected to pay", func(f figures, _ settings) bool { return f.Walked > 0 && f.Sums.Zone < f.Sums.Nothing }},
		"spot":     {"", func(f figures, _ settings) bool { return f.TreatArea > 0 }},
		"leave": {"stops are over the threshold, but treating is not expected to pay", func(f figures, _ settings) bool {
			return f.Over > 0 && f.Sums.Nothing <= min(f.Sums.Zone, f.Sums.Whole)+0.1*f.Sums.Area
		}},
		"unscouted": {"there is ground that nobody has been near", func(f figures, _ settings) bool { return f.Unscouted > 0 }},
		"grows":     {"no stop is over the threshold yet", func(f figures, _ settings) bool { return f.Over == 0 }},
		"watched":   {"all stops are below the watch level, but not all of the map", func(f figures, _ settings) bool { return f.Warm == 0 && f.TreatArea+f.WatchArea > 0 }},
		"few-stops": {"too few stops to call it clear", func(f figures, s settings) bool { return f.Stats.Stops < s.LeastStops }},
		"below":     {"all is below the watch level", func(f figures, _ settings) bool { return f.Stats.Max < f.Watch && f.High < f.Watch }},
	}
}

// headingHolds: what a heading says is that of the line that decided, true of the figures,
// and goes with the kind; there is always a day to look next, of what is undecided soon.
func headingHolds(t *rapid.T, v verdict.Verdict, f verdict.Figures, s verdict.Settings, headings map[string]claim) {
	c, known := headings[v.Line]
	require.True(t, known, v.Line)
	require.Equal(t, c.words, v.Says, v.Line)
	require.True(t, c.true(f, s), "%s: %q", v.Line, v.Says)
	require.GreaterOrEqual(t, v.Days, 1.0)
	require.Equal(t, v.Kind == verdict.Undecided, v.More > 0)
	if v.Kind == verdict.Undecided {
		require.LessOrEqual(t, v.Days, s.RevisitFound)
		require.Contains(t, []verdict.Kind{verdict.LookAgain, verdict.SpotSpray, verdict.TreatWhole}, v.Instead, "what to do today")
	} else {
		require.Empty(t, v.Where)
		require.Equal(t, verdict.None, v.Instead)
	}
}

func TestNoTwoLinesHaveOneHeading(t *testing.T) {
	words := map[string]string{}
	for line, c := range says() {
		assert.Empty(t, words[c.words], "%s and %s say the same", line, words[c.words])
		words[c.words] = line
	}
	assert.Len(t, says(), len(claims()), "as many as give reasons")
}
