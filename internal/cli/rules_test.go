package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

func TestRulesScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"rules":              {"rules"},
		"rules_one":          {"rules", "sorghum-aphid-high-plains"},
		"rules_compute":      {"rules", "compute", "--eil", "137", "--growth", "0.222", "--lead", "3"},
		"rules_midge":        {"rules", "compute", "midge", "--cost", "5", "--price", "6", "--heads", "18000"},
		"help_rules":         {"rules", "--help"},
		"help_rules_compute": {"rules", "compute", "--help"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

// The paragraphs of the verdict, as they stand on the screen.
func TestVerdictParagraphs(t *testing.T) {
	for name, args := range map[string][]string{
		"verdict_week1":         week("1", "--details"),
		"verdict_week2":         week("2", "--details"),
		"verdict_week3_rule_us": week("3", "--details", "--rule", "sorghum-aphid-texas-mean", "--units", "us", "--cost", "12", "--per", "acre", "--spot-job", "80", "--spray-in", "3"),
		"verdict_break_even":    week("2", "--details", "--units", "metric", "--cost", "30", "--price", "150", "--loss", "0.01", "--control", "0.9"),
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			said := verdictLines(out)
			assert.NotEmpty(t, said)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(said))), said)
		})
	}
}

// verdictLines are those from the verdict of each field to its end.
func verdictLines(screen string) string {
	var b strings.Builder
	within := false
	for _, line := range strings.Split(screen, "\n") {
		within = line != "" && (within || strings.HasPrefix(line, "  verdict: "))
		if within {
			b.WriteString(line + "\n")
		}
	}
	return b.String()
}

// The arithmetic of the published example: 137·e^(−0.222·L) = 110, 70, 45, 29
// (Kerns, Yates & Baugh 2015, J. Econ. Entomol.).
func TestComputeShowsTheArithmetic(t *testing.T) {
	for lead, want := range map[string]string{"1": "= 109.7", "3": "= 70.39", "5": "= 45.15", "7": "= 28.96"} {
		code, out, errs := run(t, "rules", "compute", "--eil", "137", "--growth", "0.222", "--lead", lead)
		assert.Zero(t, code, errs)
		assert.Contains(t, out, want)
	}
	code, out, _ := run(t, "rules", "compute", "--cost", "12", "--price", "4", "--loss", "0.02", "--control", "0.9", "--doubling", "3.5", "--lead", "7")
	assert.Zero(t, code)
	assert.Contains(t, out, "12/(4·0.02·0.9) = 166.7")
	assert.Contains(t, out, "= 41.67")
	assert.Contains(t, out, "the local extension service and the label come first")

	// The example of the help for a caterpillar in the head, invented, by hand:
	// 6.25·2.4·0.8 = 12, 9/12 = 0.75.
	code, out, _ = run(t, "rules", "compute", "--cost", "9", "--price", "6.25", "--loss", "2.4", "--control", "0.8")
	assert.Zero(t, code)
	assert.Contains(t, out, "9/(6.25·2.4·0.8) = 0.75")
	assert.Contains(t, out, "computed from what was given, not published")
	_, out, _ = run(t, "rules", "compute", "--help")
	assert.Contains(t, out, "no published\ninjury level is at hand here")
}

func TestRulesAsJSONAndOfOnesOwn(t *testing.T) {
	t.Chdir(t.TempDir())
	own := "[[rule]]\nname = \"mine\"\npest = \"thrips\"\nsource = \"our field days\"\nstatistic = \"mean\"\nunit = \"leaf\"\nbands = [{ value = 9 }]\n"
	require.NoError(t, os.WriteFile("own.toml", []byte(own), 0o600))
	code, out, errs := run(t, "rules", "--rules", "own.toml", "--pest", "Thrips", "--json")
	require.Zero(t, code, errs)
	var shown []struct {
		Name, Source string
		Bands        []struct{ Value float64 }
	}
	require.NoError(t, json.Unmarshal([]byte(out), &shown))
	require.Len(t, shown, 1)
	assert.Equal(t, "mine", shown[0].Name)
	assert.Equal(t, 9.0, shown[0].Bands[0].Value)
}

const plantHead = "stop,longitude,latitude,plant,leaf,count,pest,stage\n"

// plants is an invented walk through the demonstration field: twelve stops with
// two plants of two leaves each; at four of them one plant has a leaf of 80.
func plants(pest, stage string) string {
	var b strings.Builder
	b.WriteString(plantHead)
	for i := range 12 {
		lon, lat := -101.6025+0.0012*float64(i%4), 35.8985+0.0012*float64(i/4)
		top := 3
		if i%4 == 0 {
			top = 80
		}
		for _, row := range []struct {
			plant, leaf string
			count       int
		}{{"1", "low", top}, {"1", "top", 0}, {"2", "low", 30}, {"2", "top", 30}} {
			b.WriteString(strings.Join([]string{string(rune('a' + i)), num(lon), num(lat), row.plant, row.leaf, num(float64(row.count)), pest, stage}, ",") + "\n")
		}
	}
	return b.String()
}

func num(v float64) string {
	text, _ := json.Marshal(v)
	return string(text)
}

func TestMapByARuleOfShares(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("plants.csv", []byte(plants("sugarcane aphid", "5")), 0o600))
	code, out, errs := run(t, "map", "plants.csv", "--details", "--field", "field.geojson", "--out", "out", "--rule", "sorghum-aphid-high-plains")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "% of plants with a leaf at or above 50")
	assert.Contains(t, out, "treat at 20: Texas A&M AgriLife Extension 2016, 2018: 20 % of plants with a leaf at or above 50 at boot (rule sorghum-aphid-high-plains)")
	assert.Contains(t, out, "watch at 10: half the treat level: our choice, no source")
	assert.Contains(t, out, "growth stage boot is that of the samples")
	assert.NotContains(t, out, "doubling every", "shares do not double")
	var record struct{ Settings map[string]any }
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &record))
	assert.Equal(t, "sorghum-aphid-high-plains", record.Settings["rule"])
	assert.Equal(t, "boot", record.Settings["stage"])
	assert.Equal(t, 50.0, record.Settings["tally"])
	assert.Equal(t, "leaf", record.Settings["part"])
	assert.Equal(t, 20.0, record.Settings["treat-at"])
	code, bloom, errs := run(t, "map", "plants.csv", "--details", "--field", "field.geojson", "--out", "out", "--rule", "sorghum-aphid-high-plains", "--stage", "milk")
	require.Zero(t, code, errs)
	assert.Contains(t, bloom, "treat at 30:")
	assert.Contains(t, bloom, "the rule is taken at bloom to milk, as asked; the samples say boot")
}

func TestVerdictIsInEveryFile(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "verdict: spot spray 5.17 ha (12.8 ac), the treat zone; look again on 2026-07-18 if not sprayed by then")
	files := contents(t, "out")
	var s struct {
		Fields []struct {
			Verdict struct {
				Verdict, Decided_by, Good_until string
				Reasons                         []string
				Stops                           struct {
					Mean_low, Mean_high float64
					Moran               struct{ P_by_permutation float64 }
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["summary.json"]), &s))
	require.Len(t, s.Fields, 2)
	v := s.Fields[0].Verdict
	assert.Equal(t, "spot spray", v.Verdict)
	assert.Equal(t, "spot", v.Decided_by)
	assert.Equal(t, "2026-07-22", v.Good_until)
	assert.NotEmpty(t, v.Reasons)
	assert.Greater(t, v.Stops.Mean_high, v.Stops.Mean_low)
	assert.Equal(t, 0.001, v.Stops.Moran.P_by_permutation)
	assert.Equal(t, "look again", s.Fields[1].Verdict.Verdict)
	assert.Contains(t, files["zones.geojson"], `"good_until":"2026-07-22"`)
	assert.Contains(t, files["zones.kml"], "The map is good until Wednesday 22 July.")
}

func TestRevisitIsTheNextVisit(t *testing.T) {
	inFolder(t)
	_, a, _ := run(t, week("2", "--details", "--revisit", "4.2")...)
	_, b, _ := run(t, week("2", "--details", "--next-visit", "4.2")...)
	assert.Equal(t, b, a)
	assert.Contains(t, a, "watch at 20: reaches the treat level within 4.2 days")
	assert.Contains(t, strings.Join(strings.Fields(a), " "), "the map is good until 2026-07-19")
}

func TestThresholdsOfTheVerdictAreSettings(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("strict.toml", []byte("[verdict]\nwhole-share = 0.1\nrevisit-found = 2\n"), 0o600))
	code, out, errs := run(t, week("2", "--details", "--settings", "strict.toml")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "verdict: treat the whole field: nearly all of it is treat ground; look again on 2026-07-17 if not sprayed by then")
	require.NoError(t, os.WriteFile("strict.toml", []byte("cost = 10\nper = \"acre\"\n"), 0o600))
	_, out, errs = run(t, week("2", "--details", "--settings", "strict.toml")...)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "the whole field 1,238", errs) // 123.8 ac
	require.NoError(t, os.WriteFile("strict.toml", []byte("per = \"barn\"\n"), 0o600))
	_, _, errs = run(t, week("2", "--settings", "strict.toml")...)
	assert.Contains(t, errs, "want hectare or acre")
	require.NoError(t, os.WriteFile("strict.toml", []byte("[verdict]\nwhole-share = 1.5\n"), 0o600))
	code, _, errs = run(t, week("2", "--settings", "strict.toml")...)
	assert.NotZero(t, code)
	assert.Contains(t, errs, "share for the whole field 1.5")
	require.NoError(t, os.WriteFile("strict.toml", []byte("[verdict]\nhole-share = 1.5\n"), 0o600))
	_, _, errs = run(t, week("2", "--settings", "strict.toml")...)
	assert.Contains(t, errs, "strict.toml:2:1: no setting is called \"verdict.hole-share\"")
}

func TestThePresetIsNotSilentWhereItsRuleIs(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("ripe.csv", []byte(plants("sorghum aphid", "9")), 0o600))
	code, out, errs := run(t, "map", "ripe.csv", "--details", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `rule sorghum-aphid-mean-40 says nothing at stage "black layer"`)
}

func TestSprayIn(t *testing.T) {
	inFolder(t)
	zone := func(out string) string {
		for _, line := range strings.Split(out, "\n") {
			if strings.Contains(line, "  treat  ") {
				return line
			}
		}
		return ""
	}
	code, now, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	code, later, errs := run(t, week("2", "--details", "--spray-in", "7")...)
	require.Zero(t, code, errs)
	assert.NotEqual(t, zone(now), zone(later))
	assert.Contains(t, later, "for the 7 days from its count until the spray: infested ground grew by 65 % a week")
	assert.NotContains(t, later, "walk it again first")
	code, late, errs := run(t, week("2", "--spray-in", "8")...)
	require.Zero(t, code, errs)
	assert.Contains(t, strings.Join(strings.Fields(late), " "), "Note: Pivot: the map is good for 7 days and the spray comes 8 days after its count: walk it again first")
}

func TestRuleRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		file string // text of bad.csv
		args []string
		code int
		want []string
	}{
		"no such rule":          {"", []string{"--rule", "mine"}, 1, []string{`no rule is called "mine"`, "hint: geocoris rules lists them"}},
		"a rule and a level":    {"", []string{"--rule", "sorghum-aphid-mean-40", "--treat-at", "30"}, 2, []string{"leave out --treat-at and --tally"}},
		"a stage without rule":  {"", []string{"--stage", "boot"}, 2, []string{"--stage goes with --rule"}},
		"a stage without level": {"", []string{"--rule", "sorghum-aphid-mean-40", "--stage", "black layer"}, 1, []string{"says nothing at stage"}},
		"advice, no number":     {"", []string{"--rule", "sorghum-aphid-high-plains", "--stage", "9"}, 1, []string{"only to protect the harvest"}},
		"columns that lack":     {"", []string{"--rule", "sorghum-aphid-kansas", "--stage", "boot"}, 1, []string{"the samples lack the columns plant and leaf", "hint: rules for sorghum aphid: sorghum-aphid-mean-40 ("}},
		"a sign":                {plants("sorghum aphid", "5"), []string{"--rule", "sorghum-aphid-north-carolina"}, 1, []string{"lack a column for honeydew and colonies"}},
		"another pest's rule":   {"", []string{"--rule", "soybean-aphid"}, 1, []string{"rule soybean-aphid is for soybean aphid, the samples are of sorghum aphid", "hint: rules for sorghum aphid"}},
		"another unit":          {"", []string{"--rule", "sorghum-aphid-mean-40", "--unit", "plant"}, 2, []string{"counts by the leaf, not by the plant"}},
		"a pest with rules":     {plants("cotton aphid", ""), nil, 1, []string{`no level is set for "cotton aphid": choose a rule with --rule`, "hint: rules for cotton aphid: cotton-aphid (mean per leaf)"}},
		"stages that differ":    {plants("sorghum aphid", "5") + "z,-101.6,35.9,1,low,3,sorghum aphid,2\n", []string{"--rule", "sorghum-aphid-high-plains"}, 1, []string{"has a level of its own at each"}},
		"no such rules":         {"", []string{"--rule", "mine", "--rules", "none.toml"}, 1, []string{"none.toml is not there"}},
		"a price without cost":  {"", []string{"--price", "3"}, 1, []string{"cost 0: want what treating costs"}},
		"losses without price":  {"", []string{"--cost", "3", "--loss", "3"}, 1, []string{"wants both the price of the crop and the loss"}},
		"a price per barn":      {"", []string{"--cost", "3", "--per", "barn"}, 2, []string{"want hectare or acre"}},
		"a spray next season":   {"", []string{"--spray-in", "200"}, 1, []string{"spray in 200 days: want 0 to 28"}},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			samples := "week2.csv"
			if c.file != "" {
				samples = "bad.csv"
				require.NoError(t, os.WriteFile(samples, []byte(c.file), 0o600))
			}
			code, out, errs := run(t, append([]string{"map", samples, "--field", "field.geojson", "--out", "out"}, c.args...)...)
			assert.Equal(t, c.code, code, errs)
			assert.Empty(t, out)
			for _, want := range c.want {
				assert.Contains(t, errs, want)
			}
			assert.Empty(t, names(t, "out"))
		})
	}
	for want, args := range map[string][]string{
		`no rule is called "x"`:                 {"rules", "x"},
		`no rule is known for "locust"`:         {"rules", "--pest", "locust"},
		`"b" is one too many: rules takes NAME`: {"rules", "a", "b"},
		"cost 0: want a number above 0":         {"rules", "compute", "--price", "3"},
		"--eil stands in place of --cost":       {"rules", "compute", "--eil", "3", "--cost", "3"},
		"doubling in -2 days":                   {"rules", "compute", "--eil", "3", "--doubling", "-2"},
		"heads 0: want a number above 0":        {"rules", "compute", "midge", "--cost", "3", "--price", "4"},
	} {
		code, out, errs := run(t, args...)
		assert.NotZero(t, code, want)
		assert.Empty(t, out, want)
		assert.Contains(t, errs, want)
	}
}

func TestSettingsFileTakesRules(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.Mkdir("farm", 0o700))
	require.NoError(t, os.WriteFile("farm/own.toml", []byte("[[rule]]\nname = \"mine\"\npest = \"sorghum aphid\"\nsource = \"our field days\"\nstatistic = \"mean\"\nunit = \"leaf\"\ndoubling_days = 3.5\ndoubling_source = \"our counts\"\nbands = [{ value = 60 }]\n"), 0o600))
	require.NoError(t, os.WriteFile("farm/settings.toml", []byte("rule = \"mine\"\nrules = \"own.toml\"\nfield = \"../field.geojson\"\nout = \"../out\"\n"), 0o600))
	code, out, errs := run(t, "map", "week2.csv", "--details", "--settings", "farm/settings.toml")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treat at 60: our field days: 60 per leaf (rule mine)")
	assert.Contains(t, out, "watch at 15: reaches the treat level within 7 days, doubling every 3.5 (our counts)")
	assert.Contains(t, contents(t, "out")["run.json"], "farm/own.toml", "the file is among the inputs")
}
