package verdict_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/drawn"
)

// quiet is an invented field of 50 ha on which nothing is near the threshold of 40:
// 30 stops, mean 2, a map better than the mean.
func quiet() verdict.Figures {
	return verdict.Figures{
		Stats: fieldstats.Summary{
			Stops: 30, Mean: 2, Level: 0.95, Max: 6,
			Found: fieldstats.Proportion{Units: 30, Hits: 12, Share: 0.4},
			Edge:  fieldstats.Edge{InteriorStops: 30, InteriorMean: 2, EdgeMean: math.NaN()},
		},
		Next: 5,
		Low:  1, High: 4, Treat: 40, Watch: 12.6, Doubling: 4.2,
		Area: 50e4, TreatMean: math.NaN(), WatchMean: math.NaN(), RestMean: 2,
		Believed: true, Skill: 0.4, Needed: 30, Reach: 190,
	}
}

// spot is quiet but for a patch of 5 ha over the threshold.
func spot() verdict.Figures {
	f := quiet()
	f.Stats.Mean, f.Stats.Max, f.Low, f.High, f.Stats.Edge.InteriorMean = 10, 112, 5, 21, 10
	f.TreatArea, f.TreatMean, f.WatchArea, f.WatchMean, f.RestMean = 5e4, 63, 7e4, 23, 5
	f.Over, f.OverInside, f.Warm, f.Next, f.Borne = 4, 4, 8, 18, 0.16 // none has a sixth of the highest
	return f
}

// sums are those of spot, of 50 ha with a zone of 5, where nothing and the zone cost so
// many treatments of the field; who knew all would save half.
func sums(nothing, zone float64) decision.Sums {
	blind := min(1, nothing) * 50e4
	return decision.Sums{Area: 50e4, ZoneArea: 5e4, Nothing: nothing * 50e4, Zone: zone * 50e4, Whole: 50e4, Blind: blind, Seeing: blind / 2}
}

// unpatterned are figures of hot stops anywhere: nothing costs little more than the zone, and
// who knew the field would save such a part of it.
func unpatterned(f *verdict.Figures, saves float64) {
	f.Believed, f.TreatArea, f.OverInside, f.High = false, 15e4, 6, 40
	f.Sums = sums(0.6, 0.54)
	f.Sums.Blind, f.Sums.Seeing = f.Sums.Nothing, f.Sums.Nothing-0.1*saves*50e4
}

// poorSpot are prices by which the whole field pays, and a spot job of 100 averts so much.
func poorSpot(averts float64) *verdict.Costs {
	return &verdict.Costs{Spot: 100, Whole: 900, SpotAverts: averts, WholeAverts: 1000}
}

// byOne has one hot stop carry the mean over the threshold.
func byOne(change func(*verdict.Figures)) func(*verdict.Figures) {
	return func(f *verdict.Figures) {
		near(40, 39, 80)(f)
		f.Believed, f.OverInside, f.MeanWithout, f.Sums = false, 1, 39.9, sums(2, 1)
		change(f)
	}
}

// mild has three hot stops, each with another near that has a sixth of its count, on a map
// that is not believed; the zone saves hardly a hundredth.
func mild(change func(*verdict.Figures)) func(*verdict.Figures) {
	return func(f *verdict.Figures) {
		f.High, f.OverInside, f.Believed, f.Next, f.Borne, f.TreatArea = 112, 3, false, 60, 1./6, 4e4
		f.Sums = sums(0.3, 0)
		f.Sums.Zone = f.Sums.Nothing - 0.01*f.Sums.Area
		change(f)
	}
}

func near(mean, low, high float64) func(*verdict.Figures) {
	return func(f *verdict.Figures) {
		f.Stats.Mean, f.Stats.Edge.InteriorMean, f.Low, f.High = mean, mean, low, high
	}
}

// One case for each line of the table, in its order.
func TestEachLine(t *testing.T) {
	share := func(v float64) *fieldstats.Proportion { return &fieldstats.Proportion{Share: v} }
	for _, c := range []struct {
		line   string
		kind   verdict.Kind
		from   verdict.Figures
		change func(*verdict.Figures)
		set    verdict.Settings
		more   int
		days   float64
	}{
		{"few-inside", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Stats.Edge.InteriorStops = 3 }, verdict.Settings{}, 1, 3},
		{"part-only", verdict.Undecided, spot(), func(f *verdict.Figures) { near(60, 45, 80)(f); f.InPart(0.59) }, verdict.Settings{}, 10, 3},
		{"does-not-pay", verdict.LookAgain, spot(), func(f *verdict.Figures) {
			f.Costs = &verdict.Costs{Spot: 100, Whole: 900, SpotAverts: 99, WholeAverts: 500}
		}, verdict.Settings{}, 0, 3},
		{"not-infested-enough", verdict.LookAgain, spot(), func(f *verdict.Figures) { near(60, 45, 80)(f); f.Stats.Infested = share(0.79) },
			verdict.Settings{InfestedShare: 0.8}, 0, 3},
		{"unscouted-much", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Unscouted = 20e4 }, verdict.Settings{}, 2, 3},
		{"unscouted-much", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Unscouted, f.Reach = 20e4, 30 }, verdict.Settings{}, 4, 3}, // stops in one corner
		{"spread-unknown", verdict.Undecided, quiet(), func(f *verdict.Figures) {
			near(90, 0, math.Inf(1))(f)
			f.Stats.Stops, f.Stats.Edge.InteriorStops, f.Needed = 2, 2, math.NaN()
		}, verdict.Settings{LeastInside: 1}, 3, 3}, // anew, so that there are 3 and the first 2
		{"few-for-a-map", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Stats.Stops = 9 }, verdict.Settings{}, 1, 3},
		{"edge-hot", verdict.Undecided, spot(), func(f *verdict.Figures) { f.OverInside = 0 }, verdict.Settings{}, 4, 3},
		{"over-by-edge", verdict.Undecided, spot(), func(f *verdict.Figures) { // eight stops of the edge far over, one inside, no skill
			near(92.2, 64.6, 124)(f)
			f.Stats.Edge.InteriorMean, f.Stats.Edge.EdgeMean, f.Believed, f.Skill, f.Over, f.OverInside = 12, 400, false, -0.1, 9, 1
		}, verdict.Settings{}, 8, 3},
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.Believed, f.Sums, f.TreatArea = 40, 1, false, sums(0.13, 0.2), 1e4
		}, verdict.Settings{}, 4, 3},
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.TreatArea = 40, 1, 3.3e4 }, verdict.Settings{}, 4, 3},              // two stops stand for 3.33 ha
		{"few-over", verdict.Undecided, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.Beside, f.TreatArea = 40, 4, 3, 3.3e4 }, verdict.Settings{}, 4, 3}, // one place
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.Walked, f.TreatArea = 40, 1, 1, 3.3e4 }, verdict.Settings{}, 0, 3},     // walked round
		{"few-over", verdict.Undecided, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.Walked, f.TreatArea = 40, 3, 1, 3.3e4 }, verdict.Settings{}, 8, 3}, // the others
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.TreatArea = 40, 1, 3.4e4 }, verdict.Settings{}, 0, 3},
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.TreatArea, f.Sums = 40, 1, 1.6e4, sums(0.3, 0.29)
		}, verdict.Settings{}, 4, 3}, // one stop stands for 1.67 ha
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.TreatArea, f.Sums = 40, 1, 1.7e4, sums(0.3, 0.3)
		}, verdict.Settings{}, 0, 3}, // expected to cost least
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.TreatArea, f.Sums = 40, 1, 1.7e4, sums(0.3, 0.31)
		}, verdict.Settings{}, 4, 3}, // hardly more
		{"few-over", verdict.Undecided, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.Believed, f.Sums, f.TreatArea = 40, 3, false, sums(0.13, 0.2), 1e4
		}, verdict.Settings{}, 12, 3},
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.Believed, f.Sums, f.TreatArea = 39.9, 3, false, sums(0.13, 0.3), 1e4
		}, verdict.Settings{}, 0, 3},
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.TreatArea, f.Borne = 40, 1, 1e4, 0.17 }, verdict.Settings{}, 0, 3}, // another bears it out
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) {
			f.High, f.OverInside, f.TreatArea, f.Next, f.Borne = 40, 1, 1e4, math.NaN(), 0
		}, verdict.Settings{}, 4, 3},
		{"one-over", verdict.Undecided, spot(), func(f *verdict.Figures) { f.High, f.OverInside, f.TreatArea, f.Next = 40, 1, 1e4, 112 }, verdict.Settings{}, 4, 3}, // another far away
		{"one-spot", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Over, f.OverInside = 1, 1 }, verdict.Settings{}, 4, 3},
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Over, f.OverInside, f.Stats.Max = 1, 1, 108 }, verdict.Settings{}, 0, 3}, // a sixth
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Over, f.OverInside, f.Walked = 1, 1, 1 }, verdict.Settings{}, 0, 3},
		{"few-over", verdict.Undecided, spot(), mild(func(f *verdict.Figures) { f.Stats.Max = 120 }), verdict.Settings{}, 12, 3}, // very hot
		{"leave", verdict.LookAgain, spot(), mild(func(f *verdict.Figures) {}), verdict.Settings{}, 0, 3},
		{"few-over", verdict.Undecided, spot(), mild(func(f *verdict.Figures) { f.Borne = 0.166 }), verdict.Settings{}, 12, 3},   // one alone
		{"few-over", verdict.Undecided, spot(), mild(func(f *verdict.Figures) { f.Sums.Zone -= 1 }), verdict.Settings{}, 12, 3},  // the zone saves a hundredth
		{"few-over", verdict.Undecided, spot(), mild(func(f *verdict.Figures) { f.Stats.Mean = 20 }), verdict.Settings{}, 12, 3}, // twice as much is over
		{"few-over", verdict.Undecided, spot(), mild(func(f *verdict.Figures) { f.Stats.Edge.InteriorMean = 20 }), verdict.Settings{}, 12, 3},
		{"leave", verdict.LookAgain, spot(), mild(func(f *verdict.Figures) { f.Stats.Mean, f.High = 20, 39.9 }), verdict.Settings{}, 0, 3}, // surely below
		{"patch", verdict.SpotSpray, spot(), mild(func(f *verdict.Figures) { f.Patches = 1 }), verdict.Settings{}, 0, 3},                   // a patch is never left
		{"spot-costs-more", verdict.TreatWhole, spot(), func(f *verdict.Figures) {
			f.Costs = &verdict.Costs{Spot: 900, Whole: 900, SpotAverts: math.NaN(), WholeAverts: math.NaN()}
		}, verdict.Settings{}, 0, 3},
		{"large-share", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(38, 20, 60)(f); f.TreatArea = 45e4 }, verdict.Settings{}, 0, 3}, // at the share
		{"by-one-stop", verdict.Undecided, spot(), byOne(func(f *verdict.Figures) {}), verdict.Settings{}, 4, 3},
		{"mean-over", verdict.TreatWhole, spot(), byOne(func(f *verdict.Figures) { f.MeanWithout = 40 }), verdict.Settings{}, 0, 3},
		{"mean-over", verdict.TreatWhole, spot(), byOne(func(f *verdict.Figures) { f.Low = 40 }), verdict.Settings{}, 0, 3},
		{"mean-over", verdict.TreatWhole, spot(), byOne(func(f *verdict.Figures) { f.OverInside = 4 }), verdict.Settings{}, 0, 3},
		{"mean-over", verdict.TreatWhole, spot(), byOne(func(f *verdict.Figures) { f.Walked, f.Patches = 1, 1 }), verdict.Settings{}, 0, 3},
		{"patch", verdict.SpotSpray, spot(), byOne(func(f *verdict.Figures) { f.Walked, f.Patches, f.Sums = 1, 1, sums(2, 0.99) }), verdict.Settings{}, 0, 3},
		{"single", verdict.LookAgain, spot(), byOne(func(f *verdict.Figures) { f.Walked, f.Sums = 1, sums(0.3, 0.29) }), verdict.Settings{}, 0, 1}, // a single place
		{"single", verdict.LookAgain, spot(), byOne(func(f *verdict.Figures) { f.Walked, f.Sums = 1, sums(2, 1.2) }), verdict.Settings{}, 0, 1},
		{"whole-or-zone", verdict.Undecided, spot(), func(f *verdict.Figures) { near(40, 39, 80)(f); f.Believed, f.Sums = false, sums(2, 0.99) }, verdict.Settings{}, 10, 3},
		{"mean-over", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(40, 39, 80)(f); f.Believed, f.Sums = false, sums(2, 1) }, verdict.Settings{}, 0, 3},   // at equality
		{"mean-over", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Believed, f.Sums = false, sums(2, 0.8) }, verdict.Settings{}, 0, 3}, // surely over
		{"mean-over", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(40, 39, 80)(f); f.Believed, f.TreatArea = false, 0 }, verdict.Settings{}, 0, 3},       // no zone
		{"mean-over", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Stats.Stops = 9 }, verdict.Settings{}, 0, 3},
		{"whole", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Sums = sums(2, 1.2) }, verdict.Settings{}, 0, 3},
		{"whole-close", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Sums = sums(1.05, 1.2) }, verdict.Settings{}, 0, 3},
		{"whole-though-more", verdict.TreatWhole, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Sums = sums(0.5, 1.2) }, verdict.Settings{}, 0, 3},
		{"whole-close", verdict.TreatWhole, spot(), func(f *verdict.Figures) { f.Sums = sums(1.3, 1.05); f.Costs = poorSpot(99) }, verdict.Settings{}, 0, 3}, // the zone in a close call, that averts less than it costs
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Sums = sums(1.3, 1.05); f.Costs = poorSpot(100) }, verdict.Settings{}, 0, 3},
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { f.Sums = sums(0.3, 0.31); f.Costs = poorSpot(99) }, verdict.Settings{}, 0, 3},
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Sums = sums(0.3, 0.29); f.Costs = poorSpot(99) }, verdict.Settings{}, 0, 3},      // the least
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { near(60, 40, 80)(f); f.Sums = sums(2, 1.05) }, verdict.Settings{}, 0, 3},           // close
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Believed, f.Sums = false, sums(0.41, 0.3) }, verdict.Settings{}, 12, 3}, // four hot stops
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.OverInside = false, sums(0.3, 0.29), 2 }, verdict.Settings{}, 8, 3},
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { f.Believed = false }, verdict.Settings{MostStops: 5}, 5, 3},
		{"walked", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.Walked = false, sums(0.41, 0.3), 3 }, verdict.Settings{}, 0, 3},
		{"single", verdict.LookAgain, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.Walked = false, sums(0.39, 0.3), 3 }, verdict.Settings{}, 0, 3},             // a close call
		{"patch", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.Walked, f.Patches = false, sums(0.3, 0.5), 3, 1 }, verdict.Settings{}, 0, 3}, // whatever it costs
		{"patch", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Sums, f.Walked, f.Patches = sums(0.3, 0.41), 1, 1 }, verdict.Settings{}, 0, 3},                   // of a map that is believed
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.TreatArea = false, sums(0.3, 0.31), 6e4 }, verdict.Settings{}, 0, 3},
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { f.Believed, f.Sums, f.TreatArea = false, sums(0.3, 0.31), 4.9e4 }, verdict.Settings{}, 0, 3}, // little ground
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { unpatterned(f, 0.6) }, verdict.Settings{}, 12, 3},                                    // ten more stops save 1 % and more
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { unpatterned(f, 0.6); f.Sums.Zone = 27.5e4 }, verdict.Settings{}, 0, 3},                       // the zone saves a twentieth
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { unpatterned(f, 0.6); f.OverInside, f.High = 3, 39 }, verdict.Settings{}, 12, 3},      // of few a walk round them tells
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { unpatterned(f, 0.6); f.High = 39.9 }, verdict.Settings{}, 0, 3},
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { unpatterned(f, 0.2) }, verdict.Settings{}, 0, 3},
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { unpatterned(f, 0.6) }, verdict.Settings{Money: &verdict.Money{Cost: 1, Stop: 5e4}}, 0, 3}, // a stop costs a tenth of the field
		{"single-places", verdict.Undecided, spot(), func(f *verdict.Figures) { unpatterned(f, 0.2); f.OverInside, f.High = 3, 39 }, verdict.Settings{}, 12, 3},   // few, and a close call
		{"spot", verdict.SpotSpray, spot(), nil, verdict.Settings{}, 0, 3},
		{"spot", verdict.SpotSpray, spot(), func(f *verdict.Figures) { f.Sums = sums(0.3, 0.39) }, verdict.Settings{}, 0, 3}, // close
		{"leave", verdict.LookAgain, spot(), func(f *verdict.Figures) { f.Sums = sums(0.3, 0.41) }, verdict.Settings{}, 0, 3},
		{"unscouted", verdict.LookAgain, quiet(), func(f *verdict.Figures) { f.Unscouted = 8e4 }, verdict.Settings{}, 0, 7},
		{"unscouted", verdict.LookAgain, quiet(), func(f *verdict.Figures) { f.Unscouted, f.Warm, f.Stats.Max = 8e4, 2, 14.6 }, verdict.Settings{}, 0, 6},
		{"grows", verdict.LookAgain, quiet(), func(f *verdict.Figures) { f.Warm, f.WatchArea, f.Stats.Max = 2, 3e4, 14.6 }, verdict.Settings{}, 0, 6}, // 4.2·log2(40/14.6) = 6.1
		{"watched", verdict.LookAgain, quiet(), func(f *verdict.Figures) { f.TreatArea = 1e4 }, verdict.Settings{}, 0, 7},
		{"few-stops", verdict.LookAgain, quiet(), func(f *verdict.Figures) { f.Stats.Stops = 9 }, verdict.Settings{}, 0, 7},
		{"below", verdict.NoSpray, quiet(), func(f *verdict.Figures) { f.Unscouted, f.WatchArea = 7.5e4, 7.6e4 }, verdict.Settings{}, 0, 7}, // as much as may be left
		{"below", verdict.NoSpray, quiet(), nil, verdict.Settings{}, 0, 7},
	} {
		t.Run(c.line, func(t *testing.T) {
			f := c.from
			if c.change != nil {
				c.change(&f)
			}
			v := verdict.Decide(f, c.set)
			assert.Equal(t, c.line, v.Line)
			assert.Equal(t, c.kind, v.Kind, v.Why)
			assert.Equal(t, c.more, v.More)
			assert.Equal(t, c.days, v.Days)
			assert.NotEmpty(t, v.Why)
		})
	}
}

// The thresholds of the table are settings: each changes a verdict.
func TestSettingsOfTheTable(t *testing.T) {
	for name, c := range map[string]struct {
		f    verdict.Figures
		set  verdict.Settings
		want string
	}{
		"least inside":      {spot(), verdict.Settings{LeastInside: 31}, "few-inside"},
		"whole share":       {spot(), verdict.Settings{WholeShare: 0.1}, "large-share"},
		"unscouted left":    {with(quiet(), func(f *verdict.Figures) { f.Unscouted = 6e4 }), verdict.Settings{UnscoutedLeft: 0.1}, "unscouted"},
		"unscouted share":   {with(spot(), func(f *verdict.Figures) { f.Unscouted = 6e4 }), verdict.Settings{UnscoutedShare: 0.1}, "unscouted-much"},
		"least stops":       {quiet(), verdict.Settings{LeastStops: 31}, "few-stops"},
		"infested is given": {with(spot(), near(60, 45, 80)), verdict.Settings{InfestedShare: 0.8}, "spot"}, // the units do not say
	} {
		assert.Equal(t, c.want, verdict.Decide(c.f, c.set).Line, name)
	}
	assert.Equal(t, 5.0, verdict.Decide(spot(), verdict.Settings{RevisitFound: 5}).Days)
	assert.Equal(t, 10.0, verdict.Decide(quiet(), verdict.Settings{Revisit: 10}).Days)
	assert.Equal(t, 2.0, verdict.Decide(spot(), verdict.Settings{Revisit: 2}).Days, "never later than the usual visit")
	assert.Equal(t, 3.0, verdict.Decide(with(quiet(), func(f *verdict.Figures) { f.Warm, f.Doubling = 1, 0 }), verdict.Settings{}).Days, "no growth known: soon")
}

func with(f verdict.Figures, change func(*verdict.Figures)) verdict.Figures {
	change(&f)
	return f
}

// Whatever the figures, some verdicts must not happen.
func TestWhatMustNotHappen(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 120))
		area := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 50e4))
		stops := rapid.IntRange(0, 60)
		f := quiet()
		f.Stats.Stops, f.Stats.Edge.InteriorStops = stops.Draw(t, "stops"), stops.Draw(t, "inside")
		f.Stats.Mean, f.Stats.Edge.InteriorMean, f.Stats.Max = rapid.Float64Range(0, 120).Draw(t, "mean"), value.Draw(t, "inside mean"), value.Draw(t, "max")
		f.Stats.Found.Share = rapid.Float64Range(0, 1).Draw(t, "found")
		f.Low, f.High = f.Stats.Mean*rapid.Float64Range(0, 1).Draw(t, "low"), f.Stats.Mean+value.Draw(t, "width")
		f.TreatArea, f.WatchArea, f.Unscouted = area.Draw(t, "treat"), area.Draw(t, "watch"), area.Draw(t, "unscouted")
		f.RestMean, f.Needed = value.Draw(t, "rest"), rapid.Float64Range(0, 300).Draw(t, "needed")
		f.Believed = rapid.Bool().Draw(t, "believed")
		f.Over = rapid.IntRange(0, 5).Draw(t, "over")
		f.OverInside, f.Warm = rapid.IntRange(0, f.Over).Draw(t, "over inside"), f.Over+rapid.IntRange(0, 5).Draw(t, "warm")
		if max(f.Stats.Mean, f.Stats.Edge.InteriorMean) >= f.Treat && f.Over == 0 {
			return // no mean is over without a stop that is
		}
		f.Sums = drawn.Sums(t, f)
		v := verdict.Decide(f, verdict.Settings{})

		require.NotEqual(t, verdict.None, v.Kind)
		if f.Low >= f.Treat {
			require.NotEqual(t, verdict.LookAgain, v.Kind, "told to wait with a mean surely over")
			require.NotEqual(t, verdict.NoSpray, v.Kind)
		}
		if v.Kind == verdict.SpotSpray {
			require.True(t, f.Believed, "spot spray from a map without skill")
			require.Positive(t, f.TreatArea)
			require.Positive(t, f.OverInside, "spot spray with no stop over the threshold inside")
		}
		if v.Kind == verdict.NoSpray {
			require.LessOrEqual(t, f.Unscouted, 0.15*f.Area, "clear with much unscouted ground")
			require.Zero(t, f.Over)
			require.Zero(t, f.TreatArea)
			require.Zero(t, f.Warm)
			require.Less(t, f.High, f.Watch)
			require.GreaterOrEqual(t, f.Stats.Stops, 10)
		}
		if v.Kind == verdict.TreatWhole {
			require.True(t, f.OverInside > 0 || f.Stats.Edge.InteriorMean >= f.Treat, "the whole field for its edge alone")
		}
		if f.Stats.Edge.InteriorStops < 4 {
			require.Equal(t, verdict.Undecided, v.Kind, "a verdict from edge stops alone")
		}
		require.Equal(t, v.Kind == verdict.Undecided, v.More > 0)
		require.GreaterOrEqual(t, v.Days, 3.0)
		require.LessOrEqual(t, v.Days, 7.0)
		require.NotEqual(t, "nothing-holds", v.Line)
	})
}

func TestFiguresThatTellNothing(t *testing.T) {
	f := quiet()
	f.Low, f.High = math.NaN(), math.NaN()
	v := verdict.Decide(f, verdict.Settings{})
	assert.Equal(t, verdict.LookAgain, v.Kind)
	assert.Equal(t, "nothing-holds", v.Line)
	assert.NotEqual(t, verdict.NoSpray, verdict.Decide(verdict.Figures{}, verdict.Settings{}).Kind)
}

func TestKinds(t *testing.T) {
	assert.Equal(t, "none", verdict.Kind(0).String())
	assert.Equal(t, "spot spray", verdict.SpotSpray.String())
	assert.Equal(t, "kind 9", verdict.Kind(9).String())
	rising := []verdict.Kind{verdict.NoSpray, verdict.LookAgain, verdict.Undecided, verdict.SpotSpray, verdict.TreatWhole}
	for i, k := range rising {
		assert.False(t, k.Graver(k), "%s", k)
		for _, milder := range rising[:i] {
			assert.True(t, k.Graver(milder), "%s, %s", k, milder)
			assert.False(t, milder.Graver(k), "%s, %s", milder, k)
		}
	}
}

func TestSettingsRefuse(t *testing.T) {
	for want, s := range map[string]verdict.Settings{
		"share for the whole field 1.5": {WholeShare: 1.5},
		"unscouted share NaN":           {UnscoutedShare: math.NaN()},
		"least stops inside -1":         {LeastInside: -1},
		"revisit -2":                    {Revisit: -2},
		"cost 0":                        {Money: &verdict.Money{}},
		"cost NaN":                      {Money: &verdict.Money{Cost: math.NaN()}},
		"wants both the price":          {Money: &verdict.Money{Cost: 1, Price: 4}},
		"control 2":                     {Money: &verdict.Money{Cost: 1, Control: 2}},
	} {
		assert.ErrorContains(t, s.Validate(), want)
	}
	assert.NoError(t, verdict.Settings{}.Validate())
	assert.NoError(t, verdict.Settings{}.WithDefaults().Validate())
}
