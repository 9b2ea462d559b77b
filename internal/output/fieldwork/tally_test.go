package fieldwork_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestTallySpeaksPlainly(t *testing.T) {
	plan, plain := namedPlan(t, "sorghum-tally-50"), sampling.Settings{Independent: true}
	counts := fieldwork.Tally{Plan: sampling.Plan{Unit: "leaf", Rule: sampling.Wald{Distribution: sampling.Poisson, Low: 2, High: 3}}}
	green := fieldwork.Tally{Plan: sampling.Plan{Unit: "leaf", Rule: sampling.Green{Taylor: sampling.Taylor{A: 2.586, B: 1.511}}}}
	for name, tc := range map[string]struct {
		tally fieldwork.Tally
		set   sampling.Settings
		stops []sampling.Count
		want  string
	}{
		"too few stops":   {plan, sampling.Settings{}, same(2, 2.5), "stop 2: 5 of 20 leaves have 51 or more so far. Keep going: at least 13 more stops."},
		"two too few":     {plan, plain, same(2, 2.5), "stop 2: 5 of 20 leaves have 51 or more so far. Keep going: at least 2 more stops."},
		"one too few":     {plan, plain, same(3, 2), "stop 3: 6 of 30 leaves have 51 or more so far. Keep going: at least 1 more stop."},
		"planned":         {plan, sampling.Settings{Planned: 18}, same(15, 1.5), "Keep going: at least 3 more stops."},
		"planned are all": {plan, sampling.Settings{Planned: 18}, same(18, 1.5), "stop 18: 27 of 180 leaves have 51 or more so far (15 %). Keep going: "},
		"between":         {plan, plain, same(4, 1.5), "stop 4: 6 of 40 leaves have 51 or more so far (15 %). Keep going: 3 or fewer would be under, 9 or more would be over."},
		"at the lower":    {plan, plain, same(4, 0.75), "stop 4: 3 of 40 leaves have 51 or more so far (7.5 %). STOP: under the threshold. Where the truth is 22 % of leaves, the plan wrongly says so in up to 10 % of fields."},
		"at the upper":    {plan, plain, same(4, 2.25), "stop 4: 9 of 40 leaves have 51 or more so far (22.5 %). STOP: over the threshold. Where the truth is 10 % of leaves, the plan wrongly says so in up to 10 % of fields."},
		"no answer":       {plan, plain, same(40, 1.55), "stop 40: 62 of 400 leaves have 51 or more so far (15.5 %). STOP: no answer after 40 stops, which are the most. Take it as near the threshold and look again in 3–4 days."},
		"counts":          {counts, plain, same(4, 25), "stop 4: 100 on 40 leaves so far (2.5 a leaf). Keep going: 93 or fewer would be under, 105 or more would be over."},
		"under, none hot": {counts, plain, same(20, 10), "stop 20: 200 on 200 leaves so far (1 a leaf). STOP: under the threshold. Where the truth is 3 a leaf, the plan wrongly says so in up to 10 % of fields."},
		"under, one hot":  {counts, plain, append(same(20, 10), same(1, 25)...), "STOP: under the threshold. But 1 stop is over it: map your stops before you leave. Where the truth"},
		"under, two hot":  {counts, plain, append(same(40, 10), same(2, 90)...), "STOP: under the threshold. But 2 stops are over it: map your stops before you leave. Where the truth"},
		"short of it":     {counts, plain, append(same(20, 10), same(1, 24)...), "STOP: under the threshold. Where the truth"},
		"known":           {green, plain, same(4, 20), "stop 4: 80 on 40 leaves so far (2 a leaf). STOP: 2 a leaf is known well enough."},
		"not known":       {green, plain, same(4, 0.5), "stop 4: 2 on 40 leaves so far (0.05 a leaf). Keep going: 43 or more would be enough."},
		"stops that vary": {plan, sampling.Settings{}, append(same(15, 0), sampling.Count{Total: 8, Units: 10}), "Stops differ, so"},
		"nothing found":   {plan, sampling.Settings{}, same(15, 0), "Stops do not differ, so each counts as one. "},
		"worth":           {plan, sampling.Settings{Area: 40, Price: 0.005}, append(same(9, 0.5), same(9, 2.5)...), " more stops are worth their walk."},
	} {
		words := tc.tally.Line(answer(t, tc.tally, tc.set, tc.stops))
		assert.Contains(t, words, tc.want, name)
		testkit.AssertReads(t, words, 9, 25)
	}
	for name, tc := range map[string]struct {
		set   sampling.Settings
		stops []sampling.Count
		want  string
	}{
		"before the least": {sampling.Settings{Area: 40, Price: 0.05}, same(14, 1.5), "Keep going: at least 1 more stop.\n"},
		"before the walk":  {sampling.Settings{Area: 40, Price: 0.05, Planned: 20}, same(15, 1.5), "Keep going: at least 5 more stops.\n"},
		"an answer":        {sampling.Settings{Area: 40, Price: 0.05}, same(15, 9), "STOP: over the threshold."},
		"the most":         {sampling.Settings{Area: 40, Price: 0.05}, same(40, 1.55), "STOP: no answer"},
	} {
		a := answer(t, plan, tc.set, tc.stops)
		assert.True(t, a.Weighed, name)
		assert.Contains(t, plan.Line(a), tc.want, name)
		assert.NotContains(t, plan.Line(a), "worth", name)
		text, err := plan.JSON(a)
		require.NoError(t, err)
		assert.Contains(t, text, `"stops_worth_their_walk":null`, name)
	}
	for _, p := range sampling.Plans() {
		head, _, _ := strings.Cut(fieldwork.Tally{Plan: p}.Head(), "  source:")
		testkit.AssertReads(t, head, 9, 25)
	}
}

// same are stops of ten leaves that all tell the same, so that leaves count in full.
func same(n int, total float64) (stops []sampling.Count) {
	for range n {
		stops = append(stops, sampling.Count{Total: total, Units: 10})
	}
	return stops
}

func answer(t testing.TB, words fieldwork.Tally, set sampling.Settings, stops []sampling.Count) (a sampling.Answer) {
	tally, err := sampling.NewTally(words.Plan.Rule, set)
	require.NoError(t, err)
	for _, c := range stops {
		a, err = tally.Add(c)
		require.NoError(t, err)
	}
	return a
}

// The card and the tally say the same: a total at which the card stops ends the tally of
// stops that are alike, and the totals between do not.
func TestCardIsWhatTheTallySays(t *testing.T) {
	for _, plan := range sampling.Plans() {
		words := fieldwork.Tally{Plan: plan}
		rows := strings.Split(rendered(t, fieldwork.Card{Tally: words, PerStop: 10}.WriteText), "\n")
		checked := 0
		for _, row := range rows {
			cells := strings.Fields(row)
			if len(cells) != 5 || cells[0] == "stops" {
				continue
			}
			stops, under, over := number(t, cells[0]), number(t, cells[2]), number(t, cells[4])
			at := func(total float64) string {
				return words.Line(answer(t, words, sampling.Settings{}, same(int(stops), total/stops)))
			}
			assert.Contains(t, at(under), "STOP: under", row)
			assert.Contains(t, at(over), "STOP: over", row)
			from, to, found := strings.Cut(cells[3], "–")
			assert.True(t, found || from == cells[3], row)
			if to == "" {
				to = from
			}
			assert.Equal(t, []float64{under + 1, over - 1}, []float64{number(t, from), number(t, to)}, row)
			if stops < 40 {
				assert.Contains(t, at(under+1), "Keep going", row)
				assert.Contains(t, at(over-1), "Keep going", row)
			}
			checked++
		}
		assert.Equal(t, 26, checked)
	}
}

func number(t testing.TB, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

func TestHotStopsAreInTheTallysData(t *testing.T) {
	counts := fieldwork.Tally{Plan: sampling.Plan{Unit: "leaf", Rule: sampling.Wald{Distribution: sampling.Poisson, Low: 2, High: 3}}}
	for want, stops := range map[string][]sampling.Count{`"stops_over":2,`: append(same(40, 10), same(2, 25)...), `"crossed":true,"spoken_for":null,"verdict"`: same(40, 10)} {
		text, err := counts.JSON(answer(t, counts, sampling.Settings{Independent: true}, stops))
		require.NoError(t, err)
		assert.Contains(t, text, want)
	}
}
