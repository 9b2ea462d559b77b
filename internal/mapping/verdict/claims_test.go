package verdict_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/drawn"
)

// A claim is a part of a reason and what the figures must be for it to be true.
type claim struct {
	words string
	true  func(f verdict.Figures, s verdict.Settings) bool
}

// claims are what the reason of each line says of the figures.
func claims() map[string][]claim {
	type figures = verdict.Figures
	type settings = verdict.Settings
	surelyAtOrAbove := func(f figures, _ settings) bool { return f.Low >= f.Treat && f.Stats.Mean >= f.Treat }
	allBelowWatch := func(f figures, _ settings) bool {
		return f.Stats.Max < f.Watch && f.Warm == 0 && f.Stats.Mean < f.Watch && f.High < f.Watch
	}
	mayBeOver := func(f figures, _ settings) bool { return f.Stats.Mean < f.Treat && f.High >= f.Treat }
	wholeIsLeast := func(f figures, _ settings) bool {
		return f.Sums.Known() && f.Sums.Whole <= min(f.Sums.Nothing, f.Sums.Zone)
	}
	noStopOver := func(f figures, _ settings) bool { return f.Over == 0 && f.Stats.Max < f.Treat }
	return map[string][]claim{
		"few-inside": {{"fewer than the least number of stops lie inside, 8 m or more from the edge", func(f figures, s settings) bool {
			return f.Stats.Edge.InteriorStops < s.LeastInside
		}}},
		"part-only": {{"the stops stand in a part of the field", func(f figures, _ settings) bool { return f.Partial() }}},
		"does-not-pay": {{"no way of treating would avert what it costs", func(f figures, _ settings) bool {
			return f.Costs.WholeAverts < f.Costs.Whole && (f.TreatArea == 0 || f.Costs.SpotAverts < f.Costs.Spot)
		}}},
		"not-infested-enough": {
			{"the mean is at or above the threshold as surely as the stops can show", surelyAtOrAbove},
			{"a share infested that is not reached", func(f figures, s settings) bool {
				if f.Stats.Infested != nil {
					return f.Stats.Infested.Share < s.InfestedShare
				}
				return f.Stats.Found.Share < s.InfestedShare
			}},
		},
		"unscouted-much": {{"too much of the field lies beyond reach", func(f figures, s settings) bool { return f.Unscouted > s.UnscoutedShare*f.Area }}},
		"spread-unknown": {{"cannot be known from so few stops", func(f figures, _ settings) bool { return f.Stats.Stops < 3 && math.IsNaN(f.Needed) }}},
		"few-for-a-map": {
			{"stops are over the threshold, the mean is not surely", func(f figures, _ settings) bool { return f.Over > 0 && f.Low < f.Treat }},
			{"too few were walked", func(f figures, s settings) bool { return f.Stats.Stops < s.LeastStops }},
		},
		"edge-hot": {{"all stops over the threshold stand on the edge", func(f figures, _ settings) bool { return f.Over > 0 && f.OverInside == 0 }}},
		"over-by-edge": {
			{"the field's mean is at or above the threshold by its edge", func(f figures, _ settings) bool {
				return f.Stats.Mean >= f.Treat && f.Stats.Edge.EdgeMean >= f.Treat
			}},
			{"inside, 8 m or more from it, the mean is below", func(f figures, _ settings) bool { return f.Stats.Edge.InteriorMean < f.Treat }},
			{"the map is no better than the mean", func(f figures, _ settings) bool { return !f.Believed }},
			{"each hot stop of the edge", func(f figures, _ settings) bool { return f.Over > f.OverInside }},
		},
		"one-over": {
			{"the mean is below the threshold, but not surely", mayBeOver},
			{"one stop inside, 8 m or more from the edge, is over it", func(f figures, _ settings) bool { return f.OverInside == 1 }},
		},
		"few-over": {
			{"the mean is below the threshold, but not surely", mayBeOver},
			{"few stops inside, 8 m or more from the edge, are over it", func(f figures, _ settings) bool { return f.OverInside > 1 && f.OverInside-f.Beside <= 3 }},
		},
		"by-one-stop": {
			{"the mean is at or above the threshold, but not surely", func(f figures, _ settings) bool {
				return max(f.Stats.Mean, f.Stats.Edge.InteriorMean) >= f.Treat && f.Low < f.Treat
			}},
			{"below it without its hottest stop inside", func(f figures, _ settings) bool { return f.MeanWithout < f.Treat }},
		},
		"one-spot": {
			{"rests on one stop alone, inside, 8 m or more from the edge", func(f figures, _ settings) bool { return f.Over == 1 && f.OverInside == 1 && f.TreatArea > 0 }},
			{"no other has a sixth of its count", func(f figures, _ settings) bool { return f.Next < f.Stats.Max/6 || math.IsNaN(f.Next) }},
		},
		"patch": {
			{"stops round one over the threshold are over it as well, on average or more than one in four", func(f figures, _ settings) bool { return f.Patches > 0 && f.TreatArea > 0 }},
		},
		"single": {
			{"stops were walked round those over the threshold", func(f figures, _ settings) bool { return f.Walked > 0 }},
			{"are below it on average, with at most one in four over", func(f figures, _ settings) bool { return f.Patches == 0 }},
			{"without them the mean is below the threshold", func(f figures, _ settings) bool {
				return max(f.Stats.Mean, f.Stats.Edge.InteriorMean) < f.Treat || f.MeanWithout < f.Treat
			}},
		},
		"walked": {
			{"stops were walked round those over the threshold", func(f figures, _ settings) bool { return f.Walked > 0 }},
			{"treating the treat zone is expected to cost least", func(f figures, _ settings) bool {
				return f.Sums.Zone < min(f.Sums.Nothing, f.Sums.Whole)
			}},
		},
		"spot-costs-more": {{"a spot job costs no less than the whole field", func(f figures, _ settings) bool { return f.Costs.Spot >= f.Costs.Whole }}},
		"large-share":     {{"so large a share is treat ground", func(f figures, s settings) bool { return f.TreatArea >= s.WholeShare*f.Area }}},
		"whole-or-zone": {
			{"the mean is not surely over the threshold", func(f figures, _ settings) bool { return f.Low < f.Treat }},
			{"the map is no better than the mean", func(f figures, _ settings) bool { return !f.Believed }},
			{"treating only its treat zone is expected to cost less than the whole field", func(f figures, _ settings) bool {
				return f.TreatArea > 0 && f.Sums.Zone < f.Sums.Whole
			}},
		},
		"mean-over": {
			{"the mean is at or above the threshold", func(f figures, _ settings) bool {
				return max(f.Stats.Mean, f.Stats.Edge.InteriorMean) >= f.Treat
			}},
			{"there is no map to believe with a zone", func(f figures, s settings) bool {
				return f.TreatArea == 0 || f.Stats.Stops < s.LeastStops || !f.Believed
			}},
		},
		"whole-though-more": {
			{"the mean is at or above the threshold", func(f figures, _ settings) bool { return max(f.Stats.Mean, f.Stats.Edge.InteriorMean) >= f.Treat }},
			{"treating the treat zone is expected to cost no less than the whole field", func(f figures, _ settings) bool { return f.Sums.Whole <= f.Sums.Zone }},
		},
		"whole-close": {{"treating the whole field is expected to cost least", wholeIsLeast}, {"another choice hardly more", func(f figures, _ settings) bool {
			return min(f.Sums.Nothing, f.Sums.Zone) < 1.1*f.Sums.Area
		}}},
		"whole": {{"treating the whole field is expected to cost least", wholeIsLeast}},
		"single-places": {
			{"stops are over the threshold, but the map is no better than the mean", func(f figures, _ settings) bool { return f.Over > 0 && !f.Believed }},
		},
		"spot": {{"no choice is expected to cost clearly less than treating the treat zone", func(f figures, _ settings) bool {
			free := f.Stats.Mean < f.Treat && f.Stats.Edge.InteriorMean < f.Treat // to do nothing
			return f.TreatArea > 0 && f.Believed && f.Sums.Whole >= min(f.Sums.Zone, f.Sums.Nothing)-0.11*f.Sums.Area && (!free || f.Sums.Nothing >= f.Sums.Zone-0.11*f.Sums.Area)
		}}},
		"leave": {
			{"stops are over the threshold", func(f figures, _ settings) bool { return f.Over > 0 }},
			{"no treatment is expected to cost clearly less than doing nothing", func(f figures, _ settings) bool {
				return f.Sums.Nothing <= min(f.Sums.Zone, f.Sums.Whole)+0.1*f.Sums.Area
			}},
		},
		"unscouted": {{"too much ground that nobody has been near", func(f figures, s settings) bool { return f.Unscouted > s.UnscoutedLeft*f.Area }}},
		"grows": {
			{"no stop is over the threshold yet", noStopOver},
			{"stops, or the high end of the mean, are at or above the watch level", func(f figures, _ settings) bool { return f.Stats.Max >= f.Watch || f.High >= f.Watch }},
		},
		"watched": {
			{"all stops are below the watch level", allBelowWatch},
			{"the map has ground to treat or to watch", func(f figures, _ settings) bool { return f.TreatArea > 0 || f.WatchArea > 0 }},
		},
		"few-stops": {
			{"all is below the watch level", allBelowWatch},
			{"too few stops", func(f figures, s settings) bool { return f.Stats.Stops < s.LeastStops }},
		},
		"below": {
			{"all is below the watch level", allBelowWatch},
			{"with a stop in reach of nearly all ground", func(f figures, s settings) bool {
				return f.Unscouted <= s.UnscoutedLeft*f.Area && f.TreatArea == 0 && f.WatchArea-f.Unscouted < 0.005*f.Area
			}},
		},
	}
}

// drawnFigures are random figures that hang together: of stops on the edge and
// inside it, with an interval about their mean. What only a map can tell is drawn
// freely.
func drawnFigures(t *rapid.T) verdict.Figures {
	f := quiet()
	highest := rapid.SampledFrom([]float64{5, 20, 39, 60, 200}).Draw(t, "highest")
	value := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, highest), rapid.Just(highest))
	if rapid.IntRange(0, 9).Draw(t, "alike") == 0 {
		value = rapid.Just(rapid.SampledFrom([]float64{0, 13, 40, 90}).Draw(t, "all"))
	}
	n := rapid.SampledFrom([]int{30, 12, 5, 3, 1}).Draw(t, "n")
	inside := rapid.SliceOfN(value, n, n).Draw(t, "inside")
	edge := rapid.SliceOfN(rapid.Float64Range(0, 400), 0, 8).Draw(t, "edge")
	if rapid.Bool().Draw(t, "quiet edge") {
		edge = rapid.SliceOfN(value, 0, 8).Draw(t, "edge as inside")
	}
	if rapid.IntRange(0, 4).Draw(t, "bare edge") == 0 {
		edge = make([]float64, rapid.SampledFrom([]int{3, 20, 60}).Draw(t, "edge stops"))
	}
	var stops []fieldstats.Stop
	for i, v := range append(inside, edge...) {
		// Apart, or all were neighbours of all: whether neighbours are alike decides nothing here.
		s := fieldstats.Stop{X: 100 * float64(i), Value: v, Units: 10, Hits: math.NaN(), Infested: math.NaN(), Found: v > 0, Inside: 50}
		if i >= len(inside) {
			s.Inside = 4
		} else if v >= f.Treat {
			f.OverInside++
		}
		if v >= f.Treat {
			f.Over++
		}
		if v >= f.Watch {
			f.Warm++
		}
		stops = append(stops, s)
	}
	f.Stats = fieldstats.Settings{Resamples: 100}.Describe(stops, 0)
	f.Low, f.High = f.Stats.Interval.Low, f.Stats.Interval.High
	switch {
	case f.Stats.Stops < fieldstats.LeastStops:
		f.Low, f.High = 0, math.Inf(1)
	case !f.Stats.Interval.Known():
		f.Low, f.High = f.Stats.Mean, f.Stats.Mean
	}
	f.InsideLow = math.NaN()
	if len(inside) >= fieldstats.LeastStops {
		f.InsideLow = fieldstats.Mean(inside)
		if i := (fieldstats.Settings{Resamples: 100}).MeanInterval(inside); i.Known() {
			f.InsideLow = i.Low
		}
	}
	f.Needed = f.Stats.StopsToSettle(f.Treat)
	area := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1, 2e4), rapid.Float64Range(1, f.Area/3))
	f.TreatArea, f.WatchArea, f.Unscouted = area.Draw(t, "treat"), area.Draw(t, "watch"), area.Draw(t, "unscouted")
	if rapid.IntRange(0, 4).Draw(t, "much") == 0 {
		f.TreatArea = 0.9 * f.Area
	}
	f.WatchArea += f.Unscouted // as zones count it
	if f.Over == 0 && rapid.Bool().Draw(t, "none over") || f.OverInside > 0 && f.TreatArea == 0 {
		f.TreatArea = map[bool]float64{true: 2e4}[f.Over > 0] // stops carry their ground
	}
	drawn.Walks(t, &f)
	f.MeanWithout = withoutHottest(inside, edge)
	if f.Next = math.NaN(); len(stops) > 1 {
		f.Next = slices.Sorted(slices.Values(append(inside, edge...)))[len(stops)-2]
	}
	f.Borne = rapid.SampledFrom([]float64{0, 0.16, 0.17, 1, math.NaN()}).Draw(t, "borne out")
	f.Sums = drawn.Sums(t, f)
	f.Believed = f.Stats.Stops >= 10 && rapid.Bool().Draw(t, "believed")
	f.RestMean = rapid.SampledFrom([]float64{0, 2, 13, 30, math.NaN()}).Draw(t, "rest")
	if rapid.IntRange(0, 9).Draw(t, "in a part") == 0 {
		f.InPart(0.3)
	}
	if rapid.Bool().Draw(t, "infested given") {
		f.Stats.Infested = &fieldstats.Proportion{Share: rapid.Float64Range(0, 1).Draw(t, "infested")}
	}
	f.Costs = drawn.Costs(t)
	return f
}

// withoutHottest is the larger mean, of all and of those inside, without the hottest
// inside.
func withoutHottest(inside, edge []float64) float64 {
	inside = slices.Sorted(slices.Values(inside))
	inside = inside[:len(inside)-1]
	all := fieldstats.Mean(append(slices.Clone(inside), edge...))
	if len(inside) == 0 {
		return all
	}
	return max(all, fieldstats.Mean(inside))
}

func drawnSettings(t *rapid.T) verdict.Settings {
	s := verdict.Settings{}
	if rapid.Bool().Draw(t, "own settings") {
		s.LeastInside, s.MostStops = rapid.IntRange(1, 6).Draw(t, "least inside"), rapid.IntRange(1, 100).Draw(t, "most stops")
		s.WholeShare = rapid.Float64Range(0.1, 1).Draw(t, "whole share")
		s.InfestedShare = rapid.SampledFrom([]float64{0, 0.8}).Draw(t, "infested share")
	}
	return s.WithDefaults()
}

// Each reason and each heading must be true of the figures that led to them, whatever they
// are, and each line must be met: one draw of figures for both, since drawing takes longest.
func TestReasonsAndHeadingsAreTrue(t *testing.T) {
	reasons, headings, met := claims(), says(), map[string]int{}
	testkit.Hundreds(t, 100, func(t *rapid.T) {
		f, s := drawnFigures(t), drawnSettings(t)
		v := verdict.Decide(f, s)
		met[v.Line]++
		reasonHolds(t, v, f, s, reasons[v.Line])
		headingHolds(t, v, f, s, headings)
	})
	t.Log(met)
	for line := range reasons {
		assert.Positive(t, met[line], "%s was never met", line)
	}
}

func reasonHolds(t *rapid.T, v verdict.Verdict, f verdict.Figures, s verdict.Settings, reason []claim) {
	require.NotEmpty(t, reason, "line %s claims nothing", v.Line)
	for _, c := range reason {
		require.Contains(t, v.Why, c.words)
		require.True(t, c.true(f, s), "%s: %q", v.Line, c.words)
	}
	if v.LowNumbers {
		require.Less(t, f.Stats.Mean, f.Treat, "low numbers beside a mean over the threshold")
	}
}

// Whoever has a field whose mean is surely over the threshold, or over it as far as
// can be known, is not told to leave it: but by prices and by a rule's second half,
// which they gave themselves.
func TestNobodyIsTalkedOutOfSprayingAFieldThatIsOver(t *testing.T) {
	over := 0
	testkit.Hundreds(t, 30, func(t *rapid.T) {
		f, s := drawnFigures(t), drawnSettings(t)
		if max(f.Stats.Mean, f.Stats.Edge.InteriorMean) < f.Treat {
			return
		}
		if f.Walked > 0 && f.Patches == 0 && f.Low < f.Treat && f.MeanWithout < f.Treat {
			return // by one stop, and those round it show a single place
		}
		over++
		v := verdict.Decide(f, s)
		if v.Line == "does-not-pay" || v.Line == "not-infested-enough" {
			require.True(t, f.Costs != nil || s.InfestedShare > 0)
			return
		}
		require.NotContains(t, []verdict.Kind{verdict.None, verdict.NoSpray, verdict.LookAgain}, v.Kind, v.Line)
	})
	assert.Greater(t, over, testkit.Draws(300))
}

// Ground that nobody has been near is no reason to come back later.
func TestUnscoutedGroundNeverPutsOffTheNextLook(t *testing.T) {
	held := 0
	testkit.Hundreds(t, 10, func(t *rapid.T) {
		f, s := drawnFigures(t), drawnSettings(t)
		f.Unscouted = 0.2 * f.Area
		f.WatchArea = f.Unscouted // watched for that alone
		v := verdict.Decide(f, s)
		if v.Line != "unscouted" {
			return
		}
		held++
		f.WatchArea, f.Unscouted = 0, 0
		require.LessOrEqual(t, v.Days, verdict.Decide(f, s).Days)
	})
	assert.Greater(t, held, testkit.Draws(100))
}
