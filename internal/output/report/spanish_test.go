package report_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/testkit"
)

var (
	numbers = regexp.MustCompile(`\d[\d.,]*\d|\d`)
	// words that no sentence in Spanish has
	inEnglish = regexp.MustCompile(`(?i)\b(the|of|and|to|is|are|or|at|by|spray|stops?|field|ground|watch|look|day|days|leaf|not|red)\b`)
)

// sameFigures: what is said in two languages has the same numbers, and none of the words
// of the other.
func sameFigures(t require.TestingT, english, spanish string) {
	a, b := numbers.FindAllString(english, -1), numbers.FindAllString(spanish, -1)
	slices.Sort(a)
	slices.Sort(b)
	require.Equal(t, a, b, "%s\n%s", english, spanish)
	require.Equal(t, english == "", spanish == "", english)
	found := inEnglish.FindString(spanish)
	require.Empty(t, found, spanish)
	read := testkit.ReadingOf(spanish)
	require.LessOrEqual(t, read.LongestWords, mostWords, read.Longest)
}

// spanishSaysTheSame: what is said first of a field are sentences of the same figures in
// both languages, whatever they are.
func spanishSaysTheSame(t *rapid.T, v verdict.Verdict, u figures.Units) {
	s := rapid.SampledFrom([]assess.Statistic{{}, {Tally: 50}, {Unit: "plant", Tally: 1, Part: "leaf"}, {Unit: "plant", Sign: "honeydew and colonies"}, {Unit: "ear"}}).Draw(t, "statistic")
	trust := assess.Trust{Stops: v.Stats.Stops, Quiet: v.Warm == 0}
	pest := rapid.SampledFrom([]string{"thrips", "sorghum aphid"}).Draw(t, "pest")
	part := rapid.Float64Range(0, 1).Draw(t, "part")
	say := func(u figures.Units) []string {
		return []string{report.PlainAnswer(v, u), report.PlainWhy(v, u), report.PlainCosts(v, u), report.PlainAverage(v, s, u),
			report.PlainTrust(v, trust, pest, u), report.OutsideRed(part, u)}
	}
	spanish := say(u.In(vocabulary.Spanish))
	for i, english := range say(u) {
		sameFigures(t, english, spanish[i])
	}
}

// What changed between two visits has the same figures in both languages.
func TestSpanishSaysTheSameChanges(t *testing.T) {
	spanish := figures.Both.In(vocabulary.Spanish)
	testkit.Property(t, func(t *rapid.T) {
		_, f, s := twoVisits()
		number := rapid.Float64Range(0, 300)
		s.Basis = rapid.SampledFrom([]compare.Basis{compare.AllGround, compare.NoGround, compare.Untreated, compare.Regrowth}).Draw(t, "basis")
		s.Change = paired.Change{MeanA: number.Draw(t, "before"), MeanB: number.Draw(t, "after"), Rate: rapid.Float64Range(-0.5, 0.5).Draw(t, "rate"), StandsOut: rapid.Bool().Draw(t, "stands out"),
			Typical: rapid.Float64Range(-2, 2).Draw(t, "typical"), Guarded: rapid.Bool().Draw(t, "guarded"), Interval: paired.Interval{Low: rapid.Float64Range(-1, 1).Draw(t, "low"), High: 1}}
		s.Days = float64(rapid.IntRange(1, 30).Draw(t, "days"))
		sameFigures(t, report.PlainChange(f, s, assess.Statistic{}, figures.Both), report.PlainChange(f, s, assess.Statistic{}, spanish))
		e := &paired.Efficacy{Percent: rapid.Float64Range(-100, 100).Draw(t, "percent"), Interval: paired.Interval{Low: rapid.Float64Range(-100, 50).Draw(t, "least"), High: rapid.Float64Range(51, 100).Draw(t, "most")}}
		if rapid.Bool().Draw(t, "not told") {
			e = nil
		}
		r := compare.TreatmentResult{Treatment: compare.Treatment{Date: "2026-07-17"}, Efficacy: e, Why: &compare.NoEfficacy{Gap: compare.Gap(rapid.IntRange(0, 6).Draw(t, "gap"))}}
		sameFigures(t, report.PlainEffect(r, figures.Both), report.PlainEffect(r, spanish))
		n := compare.Next{GoBackBy: "2026-07-20", Why: compare.Reason{Cause: compare.Cause(rapid.IntRange(0, 6).Draw(t, "cause")), Days: 7, Share: 0.05, Treated: "2026-07-17"}}
		sameFigures(t, report.PlainGoBack(n, figures.Both), report.PlainGoBack(n, spanish))
	})
}

// Cautions say as much in Spanish, and hold to the length of sentences.
func TestCautionsInSpanish(t *testing.T) {
	spanish := figures.Both.In(vocabulary.Spanish)
	for _, lots := range [][2][]string{{report.Cautions(), report.CautionsIn(spanish)}, {report.BriefCautions(figures.Both), report.BriefCautions(spanish)}} {
		require.Len(t, lots[1], len(lots[0]))
		for i, caution := range lots[1] {
			sameFigures(t, lots[0][i], caution)
		}
	}
}

func TestSentencesInSpanish(t *testing.T) {
	u := figures.US.In(vocabulary.Spanish)
	v := verdict.Verdict{Line: "spot", Kind: verdict.SpotSpray, On: "2026-07-18"}
	v.Believed, v.TreatArea, v.Area, v.Treat = true, 10e4, 50e4, 40
	assert.Equal(t, "Aplique en la zona roja, 24.7 ac, a más tardar el sábado 18 de julio. Si para entonces no se ha aplicado, vuelva a revisar.", report.PlainAnswer(v, u))
	assert.Equal(t, "El mapa es mejor que el promedio, y lo rojo cubre un quinto del campo.", report.PlainWhy(v, u))
	v.Sums = decision.Sums{Area: 50e4, ZoneArea: 10e4, Nothing: 1.4 * 50e4, Zone: 0.24 * 50e4, Whole: 50e4}
	assert.Contains(t, report.PlainCosts(v, u), "aplicar en lo rojo cuesta cerca de un cuarto de lo que cuesta aplicar en todo. No hacer nada cuesta 1.4 veces lo que aplicar en todo.")
	assert.True(t, strings.HasPrefix(report.OutsideRed(0.34, u), "Cerca de un tercio "))
}
