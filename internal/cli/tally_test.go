package cli_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
	"github.com/geocoris/geocoris/internal/testkit"
)

// typed runs a command with text piped into it.
func typed(t testing.TB, text string, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = cli.Run(t.Context(), args, cli.Remembering(cli.Streams{In: strings.NewReader(text), Out: &o, Err: &e}))
	return code, o.String(), e.String()
}

func TestTallyScreens(t *testing.T) {
	for name, tc := range map[string]struct {
		in   string
		args []string
	}{
		"help_tally":  {"", []string{"tally", "--help"}},
		"tally_plans": {"", []string{"tally", "--plans"}},
		"tally_typed": {"# by the gate\n1/10\n0 60 12 55\n+1/6\nundo\n+2 3 4 5 6 7\n\n" + strings.Repeat("6/10\n7/10\n", 7),
			[]string{"tally", "--plan", "sorghum-tally-50"}},
		"tally_file":    {"", []string{"tally", "week2.csv", "--counts", "negative-binomial", "--low", "25", "--high", "60", "--k", "0.5"}},
		"tally_green":   {strings.Repeat("20/10\n18/10\n22/10\n", 6), []string{"tally", "-", "--taylor", "2.586,1.511"}},
		"tally_json":    {strings.Repeat("1/10\n0/10\n", 9), []string{"tally", "--low", "0.1", "--high", "0.22", "--json"}},
		"tally_card":    {"", []string{"tally", "--plan", "wheat-tiller-giles", "--card", "--independent", "--most", "8", "--unit", "tiller"}},
		"tally_planned": {strings.Repeat("0/10\n", 20), []string{"tally", "--plan", "sorghum-tally-50", "--planned", "18"}},
		"tally_worth":   {strings.Repeat("0/10\n9/10\n", 10), []string{"tally", "--plan", "sorghum-tally-50", "--area", "50", "--stop-price", "0.2"}},
		"tally_rule":    {"2/20\n9/20\n", []string{"tally", "--rule", "sorghum-aphid-high-plains", "--stage", "boot"}},
		"tally_curves":  {"", []string{"tally", "--plan", "sorghum-tally-50", "--curves", "--runs", "200"}},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := typed(t, tc.in, tc.args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

// Elsewhere 8/10 is 8 insects on 10 leaves: how a plan on shares takes it is said before a
// stop is typed, and after.
func TestTallySaysWhatTwoNumbersAre(t *testing.T) {
	for _, c := range []struct{ language, asks, took string }{
		{"en", "type leaves with 51 insects or more / leaves looked at, such as 2/10\n", "stop 1: 8 of 10 leaves have 51 or more so far."},
		{"es", "escriba hojas con 51 insectos o más / hojas revisadas, como 2/10\n", "punto 1: 8 de 10 hojas tienen 51 o más hasta ahora."},
	} {
		code, out, errs := typed(t, "8/10\n", "tally", "--plan", "sorghum-tally-50", "--language", c.language)
		require.Zero(t, code, errs)
		assert.Contains(t, out, c.asks)
		assert.Contains(t, out, c.took)
	}
	_, out, _ := typed(t, "8/10\n", "tally", "--taylor", "2.586,1.511")
	assert.NotContains(t, out, "such as 2/10")
}

// A number alone is asked about by a plan on shares, and is an insect count elsewhere.
func TestTallyAsksWhatANumberAloneIs(t *testing.T) {
	for _, c := range []struct{ language, in, asks string }{
		{"en", "4", "4 of how many leaves? Write 4/10"},
		{"es", "4", "¿4 de cuántas hojas? Escriba 4/10"},
		{"en", "10", "10 of how many leaves? Write 10/10"},
		{"en", "60", "60 of how many leaves? Write both, such as 4/10"},
		{"en", "3,10", "3 of 10 leaves, or insects on two leaves? Write 3/10, or how many of the two count, such as 0/2"},
	} {
		code, out, errs := typed(t, "8/10\n"+c.in+"\n", "tally", "--plan", "sorghum-tally-50", "--language", c.language)
		assert.Equal(t, 1, code)
		assert.Equal(t, "geocoris: typed line 2: "+c.asks+"\n", errs)
		assert.Equal(t, 1, strings.Count(out, "8 "+map[string]string{"en": "of", "es": "de"}[c.language]+" 10"), "the stop before stands")
	}
	code, _, errs := typed(t, "4\n3,10\n", "tally", "--taylor", "2.586,1.511")
	require.Zero(t, code, errs)
}

// The demo's larger field: the other one's stops are left out, and the map of the stops
// so far ends the walk.
func TestTallyOnAField(t *testing.T) {
	inFolder(t)
	args := []string{"tally", "week2.csv", "--field", "field.geojson", "--only", "Pivot", "--counts", "negative-binomial", "--low", "25", "--high", "60", "--k", "0.5"}
	code, out, errs := run(t, append(args, "--stop-price", "0.05")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "11 stops not in field Pivot: left out")
	assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", "tally_field.txt"), []byte(out))), out)
	code, out, errs = run(t, append(args, "--stop-price", "0.001", "--most", "60", "--json")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, `\n\{"next_stop":\[-101\.[0-9]{7},35\.[0-9]{7}\]\}\n$`, out, "no stop is left in the table, and more would be worth their walk")
}

func TestTallyEndsAtItsAnswer(t *testing.T) {
	code, out, errs := typed(t, strings.Repeat("9/10\n", 20), "tally", "--plan", "sorghum-tally-50", "--json")
	require.Zero(t, code, errs)
	lines := strings.Split(strings.TrimSpace(out), "\n")
	require.Len(t, lines, 15, "no answer before fifteen stops, none asked for after")
	var last struct{ Verdict string }
	require.NoError(t, json.Unmarshal([]byte(lines[14]), &last))
	assert.Equal(t, "over", last.Verdict)
}

// Sixteen stops within a few metres are one place, however much is found there.
func TestTallyWantsStopsApart(t *testing.T) {
	t.Chdir(t.TempDir())
	rows := "stop,longitude,latitude,count,leaves\n"
	for i := range 16 {
		rows += fmt.Sprintf("%d,%.6f,37,900,10\n", i, -100+float64(i)*1e-5)
	}
	require.NoError(t, os.WriteFile("near.csv", []byte(rows), 0o666))
	args := []string{"tally", "near.csv", "--counts", "negative-binomial", "--low", "25", "--high", "60", "--k", "0.5", "--json"}
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, 16, strings.Count(out, `"stop":1,`))
	assert.NotContains(t, out, `"verdict":"over"`)
	code, out, errs = run(t, append(args, "--apart", "0.5")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, `"verdict":"over"`)
}

func TestTallyWritesItsPages(t *testing.T) {
	t.Chdir(t.TempDir())
	code, _, errs := run(t, "tally", "--plan", "sorghum-tally-50", "--card", "--out", "pages")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "tally", "--plan", "sorghum-tally-50", "--curves", "--runs", "50", "--out", "pages")
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"card.html", "curves.csv", "curves.svg"}, names(t, "pages"))
	card, err := os.ReadFile("pages/card.html")
	require.NoError(t, err)
	assert.Contains(t, string(card), `<td>15</td><td>150</td><td class="stop">20</td><td>21–25</td><td class="stop">26</td>`)
	code, _, errs = run(t, "tally", "--plan", "sorghum-tally-50", "--card", "--out", "pages")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
}

func TestTallyRefusals(t *testing.T) {
	for name, tc := range map[string]struct {
		in   string
		args []string
		code int
		want string
	}{
		"no plan":          {"", nil, 2, "no plan"},
		"unknown plan":     {"", []string{"--plan", "x"}, 2, "--plans lists them"},
		"unknown rule":     {"", []string{"--rule", "x"}, 2, "there are"},
		"no stage":         {"", []string{"--rule", "sorghum-aphid-high-plains"}, 2, "stage"},
		"rule on a mean":   {"", []string{"--rule", "sorghum-aphid-mean-40"}, 2, "give --k"},
		"all around":       {"", []string{"--rule", "sorghum-aphid-mean-40", "--k", "1", "--around", "1"}, 2, "want a part"},
		"reversed":         {"", []string{"--low", ".3", "--high", ".1"}, 2, "give the lower first"},
		"one number":       {"", []string{"--taylor", "2"}, 2, "wants two numbers"},
		"unknown counts":   {"", []string{"--counts", "x", "--low", "1", "--high", "2"}, 2, "want poisson or negative-binomial"},
		"card and curves":  {"", []string{"--plan", "sorghum-tally-50", "--card", "--curves"}, 2, "one at a time"},
		"not a count":      {"3/10\nmany\n", []string{"--plan", "sorghum-tally-50"}, 1, "typed line 2"},
		"field, typed":     {"3/10\n", []string{"--plan", "sorghum-tally-50", "--field", "field.geojson"}, 2, "has none"},
		"more than all":    {"11/10\n", []string{"--plan", "sorghum-tally-50"}, 1, "11 of 10 cannot be: more than were looked at; type how many have it / how many were looked at, such as 2/10"},
		"nothing to add":   {"+1/10\n", []string{"--plan", "sorghum-tally-50"}, 1, "no stop"},
		"leaves together":  {"", []string{"together.csv", "--low", ".1", "--high", ".2", "--tally", "5"}, 1, "no stop says what the plan asks for"},
		"no tally":         {"", []string{"week2.csv", "--low", ".1", "--high", ".2"}, 1, "give --tally"},
		"no such file":     {"", []string{"none.txt", "--plan", "sorghum-tally-50"}, 1, "none.txt"},
		"correlation of 1": {"", []string{"--plan", "sorghum-tally-50", "--curves", "--clustering", "1"}, 2, "a correlation is below 1"},
		"planned below 0":  {"", []string{"--plan", "sorghum-tally-50", "--planned", "-1"}, 2, "--planned -1: want the number of stops"},
		"planned too few":  {"", []string{"--plan", "sorghum-tally-50", "--planned", "14"}, 2, "--planned 14 is below --least 15"},
		"no area":          {"", []string{"--plan", "sorghum-tally-50", "--area", "0", "--stop-price", "0.2"}, 2, "--area 0: want a number above 0"},
		"area below 0":     {"", []string{"--plan", "sorghum-tally-50", "--area", "-4", "--stop-price", "0.2"}, 2, "--area -4: want hectares above 0"},
		"no number":        {"", []string{"--plan", "sorghum-tally-50", "--area", "nan", "--stop-price", "0.2"}, 2, "--area NaN: want hectares"},
		"price without":    {"", []string{"--plan", "sorghum-tally-50", "--stop-price", "0.2"}, 2, "--stop-price without --area"},
		"area without":     {"", []string{"--plan", "sorghum-tally-50", "--area", "4"}, 2, "--area without --stop-price"},
		"price below 0":    {"", []string{"--plan", "sorghum-tally-50", "--area", "4", "--stop-price", "-1"}, 2, "--stop-price -1: want a price"},
		"endless price":    {"", []string{"--plan", "sorghum-tally-50", "--area", "4", "--stop-price", "inf"}, 2, "--stop-price +Inf: want a price"},
		"apart below 0":    {"", []string{"week2.csv", "--plan", "sorghum-tally-50", "--apart", "-1"}, 2, "--apart -1: want metres"},
		"half a leaf":      {"", []string{"--plan", "sorghum-tally-50", "--card", "--per-stop", "0.5"}, 2, "whole number"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("together.csv", []byte("stop,longitude,latitude,count,leaves\na,-100,37,90,10\nb,-100,38,60,10\n"), 0o600))
			code, _, errs := typed(t, tc.in, append([]string{"tally"}, tc.args...)...)
			assert.Equal(t, tc.code, code, errs)
			assert.Contains(t, errs, tc.want)
		})
	}
}
