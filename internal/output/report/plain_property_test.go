package report_test

import (
	"flag"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/drawn"
)

// With RAPID_SEED in the environment and -sentences 100 ten thousand others are drawn.
var hundreds = flag.Int("sentences", 20, "hundreds of invented figures of which sentences must be true")

// mostWords of a sentence that is read first.
const mostWords = 25

// invented are random figures that hang together: stops on the edge and inside it, with
// an interval about their mean. What only a map can tell is drawn freely.
func invented(t *rapid.T) verdict.Figures {
	f := verdict.Figures{Treat: 40, Watch: 13, Doubling: 4.2, Area: 50e4, Added: math.NaN(), TreatMean: 60, WatchMean: 20, Reach: 200, PaysAt: 40}
	highest := rapid.SampledFrom([]float64{0, 5, 20, 39.9, 60, 200}).Draw(t, "highest")
	value := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, highest), rapid.Just(highest))
	inside := rapid.SliceOfN(value, 0, 0).Draw(t, "none")
	if n := rapid.SampledFrom([]int{30, 12, 5, 3, 1}).Draw(t, "n"); n > 0 {
		inside = rapid.SliceOfN(value, n, n).Draw(t, "inside")
	}
	edge := rapid.SliceOfN(rapid.OneOf(value, rapid.Float64Range(0, 400)), 0, 8).Draw(t, "edge")
	if rapid.Bool().Draw(t, "no edge") {
		edge = nil
	}
	if rapid.IntRange(0, 9).Draw(t, "one hot stop") == 0 {
		edge = nil
		for i := range inside {
			inside[i] = min(inside[i], 5)
		}
		inside[0] = rapid.Float64Range(40, 1500).Draw(t, "its count")
	}
	var stops []fieldstats.Stop
	for i, v := range append(inside, edge...) {
		// Apart, or all were neighbours of all: whether neighbours are alike decides nothing here.
		s := fieldstats.Stop{X: 100 * float64(i), Value: v, Units: 10, Hits: math.NaN(), Infested: math.NaN(), Found: v > 0, Inside: 50}
		if i >= len(inside) {
			s.Inside = 4
		}
		stops = append(stops, s)
		if v < f.Watch {
			continue
		}
		f.Warm++
		if v < f.Treat {
			continue
		}
		f.Over++
		if i < len(inside) {
			f.OverInside++
			f.HotInside = append(f.HotInside, strconv.Itoa(i+1))
		}
	}
	f.Stats = fieldstats.Settings{Resamples: 60}.Describe(stops, 0)
	f.Low, f.High = f.Stats.Interval.Low, f.Stats.Interval.High
	if !f.Stats.Interval.Known() {
		f.Low, f.High = f.Stats.Mean, f.Stats.Mean
		if f.Stats.Stops < fieldstats.LeastStops {
			f.Low, f.High = 0, math.Inf(1)
		}
	}
	f.InsideLow, f.Needed = math.NaN(), f.Stats.StopsToSettle(f.Treat)
	area := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1, 2e4), rapid.Float64Range(1, f.Area/2), rapid.Just(0.95*f.Area))
	f.Unscouted = rapid.OneOf(rapid.Just(0.0), rapid.Just(0.0), area).Draw(t, "unscouted")
	if f.TreatArea = area.Draw(t, "treat"); f.Over == 0 && rapid.Bool().Draw(t, "none over") {
		f.TreatArea = 0
	} else if f.OverInside > 0 && f.TreatArea == 0 {
		f.TreatArea = 2e4
	}
	f.WatchArea = rapid.OneOf(rapid.Just(0.0), area).Draw(t, "watch") + f.Unscouted
	f.Believed = f.Stats.Stops >= 10 && rapid.Bool().Draw(t, "believed")
	f.RestMean = rapid.SampledFrom([]float64{0, 2, 13, 30, math.NaN()}).Draw(t, "rest")
	if rapid.Bool().Draw(t, "infested told") {
		f.Stats.Infested = &fieldstats.Proportion{Share: rapid.Float64Range(0, 1).Draw(t, "infested")}
	}
	drawn.Walks(t, &f)
	f.MeanWithout = rapid.Float64Range(0, f.Stats.Mean).Draw(t, "without the hottest")
	f.Sums = drawn.Sums(t, f)
	f.Costs = drawn.Costs(t)
	return f
}

func inventedVerdict(t *rapid.T) (verdict.Verdict, verdict.Settings) {
	s := verdict.Settings{}
	if rapid.Bool().Draw(t, "own settings") {
		s.LeastInside = rapid.IntRange(1, 6).Draw(t, "least inside")
		s.WholeShare = rapid.Float64Range(0.1, 1).Draw(t, "whole share")
		s.InfestedShare = rapid.SampledFrom([]float64{0, 0.8}).Draw(t, "infested share")
	}
	s = s.WithDefaults()
	v := verdict.Decide(invented(t), s)
	return v.Dated(rapid.SampledFrom([][]string{nil, {"2026-07-15"}, {"2026-06-01", "2026-07-15"}}).Draw(t, "counted"), s.Revisit), s
}

// A saying is what is said of a line that decided, and what must hold of the figures.
type saying struct {
	words string
	holds func(v verdict.Verdict, s verdict.Settings) bool
}

func sayings() map[string][]saying {
	type V = verdict.Verdict
	type S = verdict.Settings
	below := func(v V, _ S) bool { return v.Warm == 0 && v.Stats.Max < v.Watch }
	over := saying{"at or over the spray level", func(v V, _ S) bool { return v.Over > 0 }}
	none := saying{"No stop is at the spray level yet", func(v V, _ S) bool { return v.Over == 0 && v.Stats.Max < v.Treat }}
	return map[string][]saying{
		"few-inside":          {{"Too few stops lie inside", func(v V, s S) bool { return v.Stats.Edge.InteriorStops < s.LeastInside }}},
		"does-not-pay":        {{"cost more than it saves", func(v V, _ S) bool { return v.Costs.WholeAverts < v.Costs.Whole && !v.Costs.Pays() }}},
		"not-infested-enough": {{"The average is at or over the spray level", func(v V, _ S) bool { return v.Low >= v.Treat && v.Stats.Mean >= v.Treat }}, {"more infested", func(v V, s S) bool { return s.InfestedShare > 0 }}},
		"unscouted-much":      {{"Nobody has been near", func(v V, s S) bool { return v.Unscouted > s.UnscoutedShare*v.Area }}},
		"spread-unknown":      {{"too few stops to say how sure", func(v V, _ S) bool { return v.Stats.Stops < fieldstats.LeastStops }}},
		"few-for-a-map":       {over, {"too few stops for a map", func(v V, s S) bool { return v.Stats.Stops < s.LeastStops }}},
		"edge-hot":            {{"All hot stops stand at the edge", func(v V, _ S) bool { return v.Over > 0 && v.OverInside == 0 }}},
		"over-by-edge":        {{"inside, it is below", func(v V, _ S) bool { return v.Stats.Mean >= v.Treat && v.Stats.Edge.InteriorMean < v.Treat }}},
		"spot-costs-more":     {{"would cost no less", func(v V, _ S) bool { return v.Costs.Spot >= v.Costs.Whole }}},
		"large-share":         {{"The red ground covers", func(v V, s S) bool { return v.TreatArea >= s.WholeShare*v.Area }}},
		"mean-over":           {{"verage is at or over the spray level", func(v V, _ S) bool { return max(v.Stats.Mean, v.Stats.Edge.InteriorMean) >= v.Treat }}},
		"whole":               {{"cost least", func(v V, _ S) bool { return v.Sums.Whole <= v.Sums.Zone }}},
		"one-over":            {over, {"just one bad place", func(v V, _ S) bool { return v.OverInside == 1 && v.Stats.Mean < v.Treat && v.High >= v.Treat }}},
		"few-over":            {over, {"each may be just one bad place", func(v V, _ S) bool { return v.OverInside > 1 && v.Stats.Mean < v.Treat && v.High >= v.Treat }}},
		"whole-though-more":   {{"alone should cost no less", func(v V, _ S) bool { return v.Sums.Whole <= v.Sums.Zone }}},
		"whole-close":         {{"least in the end, but it is a close call", func(v V, _ S) bool { return v.Sums.Whole <= min(v.Sums.Zone, v.Sums.Nothing) }}},
		"whole-or-zone":       {{"the map may be wrong about where", func(v V, _ S) bool { return !v.Believed && v.TreatArea > 0 }}},
		"single-places":       {over, {"just one bad place", func(v V, _ S) bool { return !v.Believed }}},
		"single":              {{"just one bad place", func(v V, _ S) bool { return v.Walked > 0 && v.Patches == 0 }}},
		"by-one-stop": {{"by one stop alone", func(v V, _ S) bool {
			return v.MeanWithout < v.Treat && max(v.Stats.Mean, v.Stats.Edge.InteriorMean) >= v.Treat
		}}},
		"one-spot":  {over, {"just one bad place", func(v V, _ S) bool { return v.Over == 1 && v.OverInside == 1 }}},
		"patch":     {{"it is a patch", func(v V, _ S) bool { return v.Patches > 0 && v.TreatArea > 0 }}},
		"walked":    {{"walked round", func(v V, _ S) bool { return v.Walked > 0 && v.Sums.Zone < v.Sums.Nothing }}},
		"spot":      {{" of the field.", func(v V, _ S) bool { return v.Believed && v.TreatArea > 0 }}},
		"leave":     {over, {"not clearly worth it", func(v V, _ S) bool { return v.Sums.Nothing <= min(v.Sums.Zone, v.Sums.Whole)+0.1*v.Sums.Area }}},
		"unscouted": {{"Nobody has been near", func(v V, _ S) bool { return v.Unscouted > 0 }}},
		"grows":     {none, {"high enough to watch", func(v V, _ S) bool { return v.Warm > 0 || v.High >= v.Watch }}},
		"watched":   {{"All stops are below the watch level", below}, {"the map is not", func(v V, _ S) bool { return v.TreatArea > 0 || v.WatchArea > v.Unscouted }}},
		"few-stops": {{"All stops are below the watch level", below}, {"too few to call the field clear", func(v V, s S) bool { return v.Stats.Stops < s.LeastStops }}},
		"below":     {{"All stops are below the watch level", below}},
	}
}

// What is said first of a field, answer, why and how sure, is true of the figures,
// whatever they are, short, and the same in Spanish.
func TestPlainSentencesAreTrue(t *testing.T) {
	all, met := sayings(), map[string]int{}
	testkit.Hundreds(t, *hundreds, func(t *rapid.T) {
		v, s := inventedVerdict(t)
		u := rapid.SampledFrom([]figures.Units{figures.Both, figures.Metric, figures.US}).Draw(t, "units")
		met[v.Line]++
		answer, why := report.PlainAnswer(v, u), report.PlainWhy(v, u)
		require.NotEmpty(t, all[v.Line], "line %s says nothing", v.Line)
		for _, c := range all[v.Line] {
			require.Contains(t, why, c.words, v.Line)
			require.True(t, c.holds(v, s), "%s: %q", v.Line, why)
		}
		answerHolds(t, v, answer, u)
		costs, sure := report.PlainCosts(v, u), report.PlainAverage(v, assess.Statistic{}, u)
		costsHold(t, v, costs)
		averageHolds(t, v, sure)
		trust := report.PlainTrust(v, assess.Trust{Stops: v.Stats.Stops, Quiet: v.Warm == 0}, "thrips", figures.US)
		require.NotContains(t, trust, "aphids", "of another pest")
		if strings.HasPrefix(trust, "Few") {
			require.Less(t, v.Stats.Max, v.Watch)
		}
		require.False(t, v.Believed && trust != "", "a map that is believed")
		require.False(t, v.TreatArea == 0 && strings.Contains(trust, "red"), "no red ground")
		red := v.Kind == verdict.SpotSpray || v.Instead == verdict.SpotSpray
		require.False(t, red && strings.Contains(trust, "do not go by its red"), "the red is what to spray")
		read := testkit.ReadingOf(strings.Join([]string{answer, why, costs, sure, trust}, "\n"))
		require.LessOrEqual(t, read.LongestWords, mostWords, read.Longest)
		spanishSaysTheSame(t, v, u)
	})
	if testkit.Draws(100) < 100 {
		return // some lines are rare
	}
	for line := range all {
		assert.Positive(t, met[line], "%s was never met", line)
	}
}

func answerHolds(t *rapid.T, v verdict.Verdict, answer string, u figures.Units) {
	starts := map[verdict.Kind]string{verdict.SpotSpray: "Spray the red ground, " + u.Area(v.TreatArea), verdict.TreatWhole: "Spray the whole field, " + u.Area(v.Area),
		verdict.LookAgain: "Do not spray yet; ", verdict.NoSpray: "Do not spray; ", verdict.Undecided: "Not decided yet: walk " + figures.Counted(v.More, "more stop")}[v.Kind]
	require.True(t, starts != "" && strings.HasPrefix(answer, starts), "%s: %s", v.Kind, answer)
	switch {
	case v.Stale:
		require.Contains(t, strings.ToLower(answer), "count the old stops again today")
		require.NotContains(t, strings.ToLower(answer), "look again")
	case v.On != "":
		require.Contains(t, answer, figures.Day(v.On))
	default:
		require.Contains(t, answer, figures.Counted(int(v.Days), "day"))
	}
	if v.Kind == verdict.Undecided {
		require.Equal(t, v.Instead == verdict.SpotSpray, strings.Contains(answer, "If you cannot, spray the red ground"))
		require.Equal(t, v.Instead == verdict.TreatWhole, strings.Contains(answer, "If you cannot, spray the whole field"))
	}
}

var (
	anywhere = regexp.MustCompile(`anywhere from ([\d.,]+) to (<?)([\d.,]+)\.$`)
	atMost   = regexp.MustCompile(`very likely no more than ([\d.,]+)\.$`)
	atLeast  = regexp.MustCompile(`very likely ([\d.,]+) or more\.$`)
)

func typedNumber(t require.TestingT, text string) float64 {
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	require.NoError(t, err)
	return v
}

// averageHolds: the range told is never narrower than the interval, and on the same side
// of the level.
func averageHolds(t *rapid.T, v verdict.Verdict, said string) {
	i := v.Stats.Interval
	known, loose := i.Known() && v.Stats.Max > 0, v.Stats.Stops < 12 || i.High > 4*i.Low
	if m := atMost.FindStringSubmatch(said); m != nil {
		require.True(t, known && loose && i.High < v.Treat, said)
		require.GreaterOrEqual(t, typedNumber(t, m[1]), figures.Shown(i.High)-1e-9, said)
		require.LessOrEqual(t, typedNumber(t, m[1]), max(v.Treat, figures.Shown(v.Treat)), said)
		return
	}
	if m := atLeast.FindStringSubmatch(said); m != nil {
		require.True(t, known && loose && i.Low >= v.Treat, said)
		require.LessOrEqual(t, typedNumber(t, m[1]), figures.Shown(i.Low)+1e-9, said)
		require.GreaterOrEqual(t, typedNumber(t, m[1]), v.Treat, said)
		return
	}
	m := anywhere.FindStringSubmatch(said)
	require.Equal(t, known, m != nil, said)
	require.Equal(t, known && loose, strings.Contains(said, "if the field is over that"), said)
	require.Equal(t, known && loose && v.Stats.Stops < 12, strings.Contains(said, "Too few stops"), said)
	if m == nil {
		require.Equal(t, v.Stats.Max == 0 && v.Stats.Stops > 1, strings.HasPrefix(said, "None found"), said)
		return
	}
	low, high := typedNumber(t, m[1]), typedNumber(t, m[3])
	require.LessOrEqual(t, low, figures.Shown(i.Low)+1e-9, said)
	require.GreaterOrEqual(t, high, figures.Shown(i.High)-1e-9, said)
	require.GreaterOrEqual(t, low, 0.0)
	require.Equal(t, i.Low >= v.Treat, low >= v.Treat, said)
	require.Equal(t, i.High < v.Treat, high < v.Treat || m[2] == "<", said)
}

var costWords = regexp.MustCompile(`spraying the red costs (?:about )?(.+?) spraying it all; doing nothing (?:about )?(.+?)\.( It|$)`)

// costsHold: what is said to cost less than spraying all does, and the dearer is not said
// to be cheaper.
func costsHold(t *rapid.T, v verdict.Verdict, said string) {
	if saves := (v.Sums.Nothing - v.Sums.Zone) / v.Sums.Whole; strings.Contains(said, "makes no difference") {
		require.Less(t, math.Abs(saves), 0.01, said)
		return
	}
	m := costWords.FindStringSubmatch(said)
	if m == nil {
		require.False(t, v.Line == "spot" && v.Sums.Known(), said)
		return
	}
	for i, sum := range []float64{v.Sums.Zone, v.Sums.Nothing} {
		ratio := sum / v.Sums.Whole
		less := !strings.Contains(m[1+i], "times") && !strings.HasPrefix(m[1+i], "as much")
		if ratio < 0.949 || ratio > 0.951 {
			require.Equal(t, ratio < 0.95, less, "%s: %g", said, ratio)
		}
		if ratio < 1.049 || ratio > 1.051 {
			require.Equal(t, ratio > 1.05, strings.Contains(m[1+i], "times"), "%s: %g", said, ratio)
		}
	}
	tooLittle := v.Line == "leave" && v.Sums.HasZone() && v.Sums.Nothing > v.Sums.Zone
	require.Equal(t, tooLittle, strings.Contains(said, "saves too little"), said)
	require.Equal(t, v.Close && !tooLittle, strings.Contains(said, "a close call"), said)
}

// The part of the bad ground outside is said in one way, as parts are everywhere.
func TestTheGroundOutsideIsTold(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		c := assess.Chance{Expected: rapid.Float64Range(0, 1e5).Draw(t, "expected"), Caught: rapid.Float64Range(0, 1).Draw(t, "caught")}
		c.Unseen = c.Expected * rapid.Float64Range(0, 1).Draw(t, "unseen")
		zone := rapid.Float64Range(0.001, 1).Draw(t, "zone")
		part := report.OutsideShare(c, zone)
		said := report.OutsideRed(part, figures.US)
		require.Equal(t, c.Expected < 100, said == "")
		if said != "" && part >= 0.02 {
			require.Equal(t, "About "+figures.US.Part(part)+" of the bad ground lies outside the red.", said)
		}
		if strings.HasPrefix(said, "Hardly") {
			require.Less(t, part, 0.02)
		}
	})
	assert.Equal(t, "About a third of the bad ground lies outside the red.", report.OutsideRed(0.34, figures.Metric))
	assert.Equal(t, "Hardly any of the bad ground lies outside the red.", report.OutsideRed(0, figures.US))
	assert.Empty(t, report.OutsideRed(math.NaN(), figures.US), "nothing is known")
}

func TestPlainSentences(t *testing.T) {
	v := verdict.Verdict{Line: "below", Kind: verdict.NoSpray, Days: 7, On: "2026-07-18"}
	v.Stats = fieldstats.Summary{Stops: 20, Mean: 21, Max: 130, Interval: fieldstats.Interval{Low: 6.17, High: 102}}
	v.Treat, v.Watch = 40, 12.6
	assert.Equal(t, "Average 21 a leaf, spray at 40. Stops vary too much to say if the field is over that: it could be anywhere from 6 to 102.", report.PlainAverage(v, assess.Statistic{}, figures.US))
	assert.Contains(t, report.PlainAverage(v, assess.Statistic{Unit: "ear"}, figures.US), "21 an ear, spray at 40")
	assert.Contains(t, report.PlainAverage(v, assess.Statistic{Tally: 50}, figures.US), "Average 21 % of leaves at or above 50, spray at 40.")
	assert.Equal(t, "Few aphids anywhere, so there is nothing to map.", report.PlainTrust(v, assess.Trust{Stops: 10, Quiet: true}, "sorghum aphid", figures.US))
	assert.Equal(t, "Few found anywhere, so there is nothing to map.", report.PlainTrust(v, assess.Trust{Stops: 10, Quiet: true}, "thrips", figures.US))
	assert.Empty(t, report.PlainTrust(v, assess.Trust{Stops: 9, Quiet: true}, "thrips", figures.US), "too few stops to say so, and no red ground to go by")
	v.TreatArea = 1
	assert.Contains(t, report.PlainTrust(v, assess.Trust{Stops: 9, Quiet: true}, "thrips", figures.US), "no better than the average")
	v.TreatArea = 0
	assert.Equal(t, "Do not spray; look again on Saturday 18 July.", report.PlainAnswer(v, figures.US))

	v.Kind, v.Line, v.Believed, v.TreatArea, v.Area = verdict.SpotSpray, "spot", true, 10e4, 50e4
	assert.Equal(t, "The map beats the average, and its red covers a fifth of the field.", report.PlainWhy(v, figures.US))
	assert.Equal(t, "Spray the red ground, 24.7 ac, by Saturday 18 July. If it is not sprayed by then, look again.", report.PlainAnswer(v, figures.US))
	v.Sums, v.Close = decision.Sums{Area: 50e4, ZoneArea: 10e4, Nothing: 0.31 * 50e4, Zone: 0.24 * 50e4, Whole: 50e4}, true
	assert.Equal(t, "Counting crop loss, spraying the red costs about 24 % of spraying it all; doing nothing about 31 %. It is a close call.", report.PlainCosts(v, figures.US))

	v.Kind, v.More, v.Where, v.Instead = verdict.Undecided, 2, "inside, 8 m or more from the edge", verdict.LookAgain
	assert.Equal(t, "Not decided yet: walk 2 more stops inside, 26.2 ft or more from the edge, today. Look again by Saturday 18 July.", report.PlainAnswer(v, figures.US))
	v.Stats.Layout = layout.Layout{Stops: 20, Span: 0.1}
	assert.Contains(t, report.PlainAverage(v, assess.Statistic{}, figures.US), "a part of the field only")
}

// What the red saves is told as it is: nothing, too little, or as much as spraying it all.
func TestWhatTheRedSaves(t *testing.T) {
	for _, c := range []struct {
		line          string
		zone, nothing float64
		says          string
	}{
		{"spot", 0.6, 0.604, "it makes no difference: spraying the red costs about three fifths of spraying it all, and so does doing nothing."},
		{"spot", 0.6, 0.591, "it makes no difference: spraying the red costs about three fifths of spraying it all, and so does doing nothing."},
		{"spot", 0.89, 0.93, "spraying the red costs about 89 % of spraying it all; doing nothing about 93 %. It is a close call."},
		{"leave", 0.89, 0.93, "spraying the red costs about 89 % of spraying it all; doing nothing about 93 %. That saves too little."},
		{"leave", 0.93, 0.89, "spraying the red costs about 93 % of spraying it all; doing nothing about 89 %. It is a close call."},
		{"spot", 0.67, 1.04, "spraying the red costs about two thirds of spraying it all; doing nothing about as much as spraying it all. It is a close call."},
		{"spot", 0.67, 1.4, "spraying the red costs about two thirds of spraying it all; doing nothing 1.4 times as much as spraying it all. It is a close call."},
	} {
		v := verdict.Verdict{Line: c.line, Close: true}
		v.Sums = decision.Sums{Area: 1e4, ZoneArea: 1e3, Nothing: c.nothing * 1e4, Zone: c.zone * 1e4, Whole: 1e4}
		assert.Equal(t, "Counting crop loss, "+c.says, report.PlainCosts(v, figures.Metric))
	}
}

// A mean that is known no closer is told by the side of the spray level that it is on;
// twelve stops, and ends four times apart, are close enough.
func TestALooseMeanIsToldByTheLevel(t *testing.T) {
	for _, c := range []struct {
		stops     int
		low, high float64
		says      string
	}{
		{11, 4, 8, "Average 5 a leaf, spray at 40. That is from few stops: the true average is very likely no more than 8."},
		{12, 2, 8, "Average 5 a leaf, spray at 40; with these stops it could be anywhere from 2 to 8."},
		{12, 4, 4.2, "Average 5 a leaf, spray at 40; with these stops it is about 5."},
		{12, 4, 4.21, "Average 5 a leaf, spray at 40; with these stops it could be anywhere from 4 to 5."},
		{12, 39, 39.5, "Average 5 a leaf, spray at 40; with these stops it could be anywhere from 39 to 39.5."},
		{12, 1.99, 8, "Average 5 a leaf, spray at 40. Stops vary a lot: the true average is very likely no more than 8."},
		{20, 0, 39.999, "Average 5 a leaf, spray at 40. Stops vary a lot: the true average is very likely no more than 40."},
		{20, 0, 40, "Average 5 a leaf, spray at 40. Stops vary too much to say if the field is over that: it could be anywhere from 0 to 40."},
		{11, 39, 50, "Average 5 a leaf, spray at 40. Too few stops to say if the field is over that: it could be anywhere from 39 to 50."},
		{11, 40, 50, "Average 5 a leaf, spray at 40. That is from few stops: the true average is very likely 40 or more."},
		{30, 41.2, 400, "Average 5 a leaf, spray at 40. Stops vary a lot: the true average is very likely 41 or more."},
	} {
		v := verdict.Verdict{}
		v.Stats = fieldstats.Summary{Stops: c.stops, Mean: 5, Max: 500, Interval: fieldstats.Interval{Low: c.low, High: c.high}}
		v.Treat, v.Watch = 40, 12.6
		assert.Equal(t, c.says, report.PlainAverage(v, assess.Statistic{}, figures.US))
	}
}

// Ends go outward, but never over the level that they are short of.
func TestEndsOfARangeGoOutward(t *testing.T) {
	for _, c := range []struct {
		low, high, level float64
		from, to         string
	}{
		{6.17, 102, 40, "6", "102"}, {0.57, 7.47, 40, "0.5", "8"}, {0.051, 2.41, 40, "0.05", "2.5"},
		{40.6, 99.2, 40.5, "40.6", "100"}, {3, 39.6, 40, "3", "39.6"}, {3, 39.999, 40, "3", "<40"}, {40, 40, 40, "40", "40"}, {0, 0.3, 1, "0", "0.3"},
	} {
		from, to := report.Outward(c.low, c.high, c.level)
		assert.Equal(t, [2]string{c.from, c.to}, [2]string{from, to})
	}
}
