package call_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web/call"
)

// header is that of the table which a phone writes, one row a leaf.
const header = "stop,kind,latitude,longitude,accuracy_m,position,plant,leaf,count,leaves,plants_over,at_or_above,honeydew,colonies,predators,mummies,time,observer,pest,stage,notes"

// A walker counts two leaves on each of five plants at each stop of a plan, as told.
type walker struct {
	rows []string
	at   time.Time
}

func newWalker() *walker {
	return &walker{rows: []string{header}, at: time.Date(2026, 7, 14, 6, 0, 0, 0, time.FixedZone("", -5*3600))}
}

// leaves counts at a stop so many on each leaf.
func (w *walker) leaves(name string, at [2]float64, count int) {
	for plant := range 5 {
		for _, leaf := range []string{"upper", "lower"} {
			honeydew, predators := "", ""
			if leaf == "upper" {
				honeydew, predators = "no", "0"
			}
			w.at = w.at.Add(12 * time.Second)
			w.rows = append(w.rows, fmt.Sprintf("%s,planned,%.7f,%.7f,4.5,measured,%d,%s,%d,1,,,%s,,%s,,%s,scout A,sorghum aphid,boot,", name, at[1], at[0], plant+1, leaf, count, honeydew, predators, w.at.Format(time.RFC3339)))
		}
	}
}

// signs answers of each of five plants whether it is over.
func (w *walker) signs(name string, at [2]float64, over int, of string) {
	for plant := range 5 {
		hit := 0
		if plant < over {
			hit = 1
		}
		w.at = w.at.Add(12 * time.Second)
		w.rows = append(w.rows, fmt.Sprintf("%s,planned,%.7f,%.7f,,planned,%d,,,1,%d,%s,,,,,%s,scout A,sorghum aphid,,", name, at[1], at[0], plant+1, hit, of, w.at.Format(time.RFC3339)))
	}
}

func (w *walker) file() call.Given {
	return call.Given{Role: call.Counts, Name: "walk.csv", Content: []byte(strings.Join(w.rows, "\n") + "\n")}
}

// planned are the stops of a plan of the pivot.
func planned(t testing.TB, n int) (stops [][2]float64) {
	_, facts := asked(t, "plan", fmt.Sprintf(`{"only":"Pivot","stops":%d,"order":"spread"}`, n), given(t, call.Boundary, "field.geojson"))
	for _, s := range facts["stops"].([]any) {
		at := s.(map[string]any)["at"].([]any)
		stops = append(stops, [2]float64{at[0].(float64), at[1].(float64)})
	}
	return stops
}

// The table of a phone needs no flag, and nothing in it is doubted.
func TestTheTableOfAPhoneIsReadAsItIs(t *testing.T) {
	w := newWalker()
	for i, at := range planned(t, 12) {
		w.leaves(strconv.Itoa(i+1), at, 3*i)
	}
	rows, err := csv.NewReader(strings.NewReader(string(w.file().Content))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+12*10)
	reply, facts := asked(t, "map", `{}`, given(t, call.Boundary, "field.geojson"), w.file())
	require.Nil(t, reply.Error)
	assert.Empty(t, facts["problems"])
	pivot := facts["fields"].([]any)[0].(map[string]any)
	assert.Len(t, pivot["stops"], 12)
	assert.InDelta(t, 16.5, pivot["mean"].(float64), 1e-9)
}

// A row of a rule on sweeps is of ten, and of one on stems of one; walks of before have one
// leaf in each row, whatever the rule counts.
func TestRowsOfAPhoneAreInTheUnitOfTheRule(t *testing.T) {
	_, facts := asked(t, "rules", `{"language":"es"}`)
	looked := map[string][]any{}
	for _, r := range facts["rules"].([]any) {
		rule := r.(map[string]any)
		looked[rule["name"].(string)] = []any{rule["looked"], rule["size"], rule["things"]}
	}
	assert.Equal(t, []any{"sweeps", 10.0, "pases de red"}, looked["canola-seedpod-weevil"])
	assert.Equal(t, []any{"stems", 1.0, "tallos"}, looked["cereal-leaf-beetle"])
	assert.Equal(t, []any{"plants", 1.0, "plantas"}, looked["soybean-aphid"])
	for _, c := range []struct{ rule, column, n string }{
		{"canola-seedpod-weevil", "sweeps", "10"}, {"canola-seedpod-weevil", "leaves", "1"}, {"soybean-aphid", "plants", "1"}, {"soybean-aphid", "leaves", "1"}, {"cereal-leaf-beetle", "stems", "1"},
	} {
		w := &walker{rows: []string{strings.Replace(header, "leaves", c.column, 1)}}
		for i, at := range planned(t, 12) {
			w.rows = append(w.rows, fmt.Sprintf("%d,planned,%.7f,%.7f,,planned,1,,30,%s,,,,,,,2026-07-14T06:00:00-05:00,,,,", i+1, at[1], at[0], c.n))
		}
		reply, facts := asked(t, "map", fmt.Sprintf(`{"rule":%q}`, c.rule), given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error, c)
		assert.Empty(t, facts["problems"])
		assert.InDelta(t, 30, facts["fields"].([]any)[0].(map[string]any)["mean"].(float64), 1e-9, c)
	}
}

func TestYesAndNoAreReadByARuleOfShares(t *testing.T) {
	stops := planned(t, 20)
	for _, c := range []struct{ settings, of, state, says string }{
		{`{"rule":"sorghum-aphid-high-plains","stage":"boot"}`, "50", "keep_going", "stop 20: 19 of 100 plants"}, // of 20 %
		{`{"rule":"sorghum-aphid-high-plains","stage":"dough"}`, "honeydew and colonies", "enough", "STOP: under the threshold"},
	} {
		settings, of := c.settings, c.of
		w := newWalker()
		for i, at := range stops {
			w.signs(strconv.Itoa(i+1), at, i%3, of)
		}
		reply, facts := asked(t, "map", settings, given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error, settings)
		assert.Empty(t, facts["problems"], settings)
		pivot := facts["fields"].([]any)[0].(map[string]any)
		assert.InDelta(t, 19, pivot["mean"].(float64), 1, settings) // 0, 1, 2 of 5, over 20 stops

		reply, facts = asked(t, "after", strings.Replace(settings, "{", `{"only":"Pivot",`, 1), given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error, settings)
		assert.Equal(t, c.state, facts["state"], settings)
		assert.Contains(t, facts["says"].([]any)[0], c.says, settings)
	}
}

// after is the state after each of the first stops.
func after(t *testing.T, stops [][2]float64, count func(i int) int, settings string) (all []map[string]any) {
	return afterFrom(t, 0, stops, count, settings)
}

// afterAll is the state after the last of the stops.
func afterAll(t *testing.T, stops [][2]float64, count func(i int) int, settings string) map[string]any {
	return afterFrom(t, len(stops)-1, stops, count, settings)[0]
}

// afterFrom is the state after each stop from a first on.
func afterFrom(t *testing.T, first int, stops [][2]float64, count func(i int) int, settings string) (all []map[string]any) {
	w := newWalker()
	for i, at := range stops {
		w.leaves(strconv.Itoa(i+1), at, count(i))
		if i < first {
			continue
		}
		reply, facts := asked(t, "after", settings, given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error, "stop %d", i+1)
		all = append(all, facts)
	}
	return all
}

func TestNoAnswerBeforeTwelveSpreadStops(t *testing.T) {
	all := after(t, planned(t, 14), func(int) int { return 0 }, `{"only":"Pivot"}`)
	for i, facts := range all[:11] {
		assert.Equal(t, "keep_going", facts["state"], "stop %d", i+1)
		assert.Nil(t, facts["answer"])
		assert.Contains(t, facts["says"].([]any)[0], fmt.Sprintf("at least %d more stop", 11-i))
	}
	last := all[13]
	assert.Equal(t, "enough", last["state"], last["says"])
	assert.Contains(t, last["answer"].(map[string]any)["answer"], "Do not spray")
	assert.Nil(t, last["next"])
}

// Twelve stops in a corner are not spread, however many agree.
func TestTwelveStopsInACornerAreNotEnough(t *testing.T) {
	var stops [][2]float64
	for i := range 14 {
		stops = append(stops, [2]float64{-101.6018 + 0.0002*float64(i%4), 35.8985 + 0.0002*float64(i/4)})
	}
	last := afterAll(t, stops, func(int) int { return 0 }, `{"only":"Pivot"}`)
	assert.Equal(t, "keep_going", last["state"])
	assert.Contains(t, last["says"].([]any)[0], "cross the field first")
}

// Where counts part the field, more stops are worth their walk, and the next is named
// with the way to it.
func TestThePlaceOfTheNextStop(t *testing.T) {
	stops := planned(t, 13)
	counts := []int{0, 60, 35, 90, 5, 42, 0, 70, 38, 45, 12, 55, 30}
	last := afterAll(t, stops, func(i int) int { return counts[i] }, `{"only":"Pivot","stop-price":0.01}`)
	require.Equal(t, "keep_going", last["state"], last["says"])
	assert.Greater(t, last["more"].(float64), 1.0)
	next := last["next"].(map[string]any)
	at := next["at"].([]any)
	dx := (at[0].(float64) - stops[12][0]) * 111_320 * math.Cos(35.9*math.Pi/180)
	dy := (at[1].(float64) - stops[12][1]) * 111_000
	assert.InDelta(t, math.Hypot(dx, dy), next["walk_m"].(float64), 0.01*math.Hypot(dx, dy)+1)
	assert.InDelta(t, math.Mod(math.Atan2(dx, dy)*180/math.Pi+360, 360), next["bearing"].(float64), 2)
}

// inEnglish are words that no Spanish sentence has.
var inEnglish = regexp.MustCompile(`(?i)\b(the|of|and|stops?|field|is|are|with|look|keep|enough|plants|any|at least|average|ground|label)\b`)

// What a page shows of a walk is in its language, before there is an answer and after, by
// rules on means and on shares.
func TestSpanishAlongTheWalk(t *testing.T) {
	stops := planned(t, 20)
	for name, settings := range map[string]string{"mean": `{"only":"Pivot","language":"es"}`, "share": `{"only":"Pivot","language":"es","rule":"sorghum-aphid-high-plains","stage":"boot"}`} {
		w := newWalker()
		for i, at := range stops[:14] {
			if name == "mean" {
				w.leaves(strconv.Itoa(i+1), at, 11*(i%7))
			} else {
				w.signs(strconv.Itoa(i+1), at, i%3, "50")
			}
			if i%testkit.Few(1, 3) != 0 {
				continue
			}
			reply, facts := asked(t, "after", settings, given(t, call.Boundary, "field.geojson"), w.file())
			require.Nil(t, reply.Error)
			for _, line := range facts["says"].([]any) {
				assert.NotRegexp(t, inEnglish, line)
			}
			if answer, ok := facts["answer"].(map[string]any); ok {
				assert.NotRegexp(t, inEnglish, answer["answer"])
			}
		}
		reply, facts := asked(t, "map", strings.Replace(settings, `"only":"Pivot",`, "", 1), given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error)
		pivot := facts["fields"].([]any)[0].(map[string]any)
		lines := []any{pivot["answer"]}
		for _, more := range []any{pivot["why"], pivot["sure"], pivot["look_out"], facts["cautions"]} {
			lines = append(lines, more.([]any)...)
		}
		require.Greater(t, len(lines), 5)
		for _, line := range lines {
			assert.NotRegexp(t, inEnglish, line)
		}
	}
}

func TestRulesInSpanish(t *testing.T) {
	_, facts := asked(t, "rules", `{"language":"es"}`)
	for _, r := range facts["rules"].([]any) {
		rule := r.(map[string]any)
		assert.NotContains(t, rule["title"], rule["pest"], "a pest without a Spanish name")
	}
	_, facts = asked(t, "rules", `{"pest":"sorghum aphid","language":"es"}`)
	assert.NotRegexp(t, inEnglish, facts["caution"])
	for _, r := range facts["rules"].([]any) {
		rule := r.(map[string]any)
		assert.Equal(t, "sorghum aphid", rule["pest"], "as the counts name it")
		assert.Contains(t, rule["title"], "pulgón amarillo del sorgo: ")
		for _, b := range rule["bands"].([]any) {
			assert.NotRegexp(t, inEnglish, b.(map[string]any)["says"])
			assert.NotRegexp(t, inEnglish, b.(map[string]any)["how"])
			assert.NotRegexp(t, inEnglish, b.(map[string]any)["advice"])
			assert.NotRegexp(t, inEnglish, b.(map[string]any)["shows"])
		}
	}
}
