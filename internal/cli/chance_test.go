package cli_test

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// chanceFigures are what a summary says of the first field's chances.
type chanceFigures struct {
	Surface  string  `json:"surface"`
	Cut      float64 `json:"cut_treat"`
	Expected float64 `json:"expected_over_ha"`
	Caught   float64 `json:"expected_share_in_treat"`
	Added    float64 `json:"treat_beyond_plain_cut_ha"`
	Bins     []struct {
		Stops, Found int
		Predicted    float64
	} `json:"calibration"`
}

// chanceOf maps week 2 coarsely, as chances take long, with more flags; the treat zone's
// hectares come with it.
func chanceOf(t *testing.T, more ...string) (c chanceFigures, treat float64) {
	inFolder(t)
	code, out, errs := run(t, week("2", append(more, "--cell", "20", "--json")...)...)
	require.Zero(t, code, errs)
	var s struct {
		Fields []struct {
			Chance chanceFigures `json:"chance"`
			Zones  []struct {
				AreaHa float64 `json:"area_ha"`
			} `json:"zones"`
		} `json:"fields"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &s))
	return s.Fields[0].Chance, s.Fields[0].Zones[0].AreaHa
}

func TestCatchAndChanceSurface(t *testing.T) {
	plain, before := chanceOf(t)
	assert.Equal(t, "idw", plain.Surface)
	assert.Equal(t, 40.0, plain.Cut)
	assert.Greater(t, plain.Expected, 1.0)
	stops := 0
	for _, b := range plain.Bins {
		stops += b.Stops
	}
	assert.Equal(t, 43, stops)

	caught, after := chanceOf(t, "--catch", "0.95")
	assert.InDelta(t, 0.95, caught.Caught, 0.02)
	assert.Less(t, caught.Cut, 40.0)
	assert.Greater(t, after, before)
	assert.InDelta(t, after-before, caught.Added, 0.1)

	chance, _ := chanceOf(t, "--surface", "chance", "--treat-chance", "0.2")
	assert.Equal(t, "chance", chance.Surface)
	assert.Equal(t, 0.2, chance.Cut)
	assert.Greater(t, chance.Caught, plain.Caught)

	loss, _ := chanceOf(t, "--surface", "loss")
	assert.Equal(t, "loss", loss.Surface)
	assert.Equal(t, 1.0, loss.Cut)
}

// A catch takes more ground, and the money for it is that ground at the cost given.
func TestCatchTellsItsMoney(t *testing.T) {
	keys := map[string]string{"acre": "treat_beyond_plain_cut_ac", "hectare": "treat_beyond_plain_cut_ha"}
	for _, per := range []string{"acre", "hectare"}[:testkit.Few(2, 1)] {
		key := keys[per]
		args := []string{"--catch", "0.95", "--cost", "12", "--per", per, "--cell", "20"}
		inFolder(t)
		code, out, errs := run(t, week("2", append(args, "--json")...)...)
		require.Zero(t, code, errs)
		var s struct {
			Fields []struct {
				Chance  map[string]any `json:"chance"`
				Verdict struct {
					Costs map[string]any `json:"costs"`
				} `json:"verdict"`
			} `json:"fields"`
		}
		require.NoError(t, json.Unmarshal([]byte(out), &s))
		ground, _ := s.Fields[0].Chance[key].(float64)
		require.Greater(t, ground, 1.0)
		assert.InDelta(t, 12*ground, s.Fields[0].Verdict.Costs["treat_beyond_plain_cut"], 0.1, per)

		inFolder(t)
		code, out, errs = run(t, append(week("2", "--details"), args...)...)
		require.Zero(t, code, errs)
		assert.Regexp(t, `more than a cut at the treat level, which costs \d+`, out)
	}
	inFolder(t)
	_, out, _ := run(t, week("2", "--details", "--surface", "chance", "--treat-chance", "0.95", "--cost", "12", "--cell", "20")...)
	assert.Regexp(t, `less than a cut at the treat level, which saves \d+`, out)
	inFolder(t)
	_, out, _ = run(t, week("2", "--details", "--catch", "0.95", "--cell", "20")...)
	assert.Contains(t, out, "more than a cut at the treat level\n", "without costs there is nothing to say of them")
}

func TestChanceFromASettingsFile(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("farm.toml", []byte("field = \"field.geojson\"\nout = \"out\"\nsurface = \"chance\"\ncatch = 0.9\ncell = 20\n"), 0o600))
	code, out, errs := run(t, "map", "week2.csv", "--details", "--settings", "farm.toml")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treat ground is cut at a chance of")
	assert.Contains(t, out, "the treat zone is expected to hold 90 % of the rest")
	var r struct{ Settings map[string]any }
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &r))
	assert.Equal(t, "chance", r.Settings["surface"])
	assert.Equal(t, 0.9, r.Settings["catch"])
}

func TestChanceRefusals(t *testing.T) {
	for want, more := range map[string][]string{
		"want idw, chance or loss":   {"--surface", "kriging"},
		"catch 1.5":                  {"--catch", "1.5"},
		"go with the chance surface": {"--treat-chance", "0.4"},
		"says where to cut":          {"--surface", "loss", "--catch", "0.9"},
		"leave out treat-chance":     {"--surface", "loss", "--treat-chance", "0.4"},
		"both say where to cut":      {"--surface", "chance", "--treat-chance", "0.4", "--catch", "0.9"},
	} {
		inFolder(t)
		code, out, errs := run(t, week("2", more...)...)
		assert.Equal(t, 2, code, want)
		assert.Contains(t, errs, want)
		assert.Empty(t, out)
		assert.Empty(t, names(t, "out"))
	}
}

// metricOnly leaves out acres in brackets, which legends do without.
func metricOnly(text string) string {
	return regexp.MustCompile(` \([0-9.]+ ac\)`).ReplaceAllString(text, "")
}

// Figures of no ground are words: no share of next to nothing, none of a zone that is
// not there.
func TestNextToNoneIsNoFigure(t *testing.T) {
	for number, want := range map[string]struct {
		treat bool
		text  string
	}{"1": {false, "next to none by the stops, 0.41 ha"}, "2": {true, "0.41 ha (1.01 ac), 0.38 ha (0.93 ac) of it unseen between stops"}} {
		inFolder(t)
		code, out, errs := run(t, week(number, "--details", "--write", "report")...)
		require.Zero(t, code, errs)
		files := contents(t, "out")
		for _, text := range []string{out, files["report.html"]} {
			assert.Contains(t, metricOnly(text), "xpected at or above 40: "+metricOnly(want.text), number)
			assert.Equal(t, want.treat, strings.Contains(text, "is expected to hold"), number)
			assert.NotContains(t, text, " 0 % of it", number)
		}
		assert.Equal(t, number == "1", strings.Contains(files["report.html"], "<li>At or above the spray level (red, hatched): none</li>"), number)
	}
}
