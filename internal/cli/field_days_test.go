package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/testkit"
)

// farm makes the working folder hold three invented fields side by side, 400 m by
// 400 m each, and counts of 16 stops in each: North walked on the 13th, South on the
// 15th, East half on the 10th, half on the 12th. The west of each is hot.
func farm(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	var features, rows []string
	for i, f := range []struct {
		name string
		days [2]string
	}{{"North", [2]string{"2026-07-13", "2026-07-13"}}, {"South", [2]string{"2026-07-15", "2026-07-15"}}, {"East", [2]string{"2026-07-10", "2026-07-12"}}} {
		west, south, side := -101.6+0.01*float64(i), 35.9, 0.004
		east, north := west+side, south+side
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[[[%f,%f],[%f,%f],[%f,%f],[%f,%f],[%f,%f]]]}}`,
			f.name, west, south, east, south, east, north, west, north, west, south))
		for k := range 16 {
			count := []int{900, 300, 20, 10}[k%4] + k
			rows = append(rows, fmt.Sprintf("%s%d,%f,%f,%d,10,%s,sorghum aphid,boot", f.name[:1], k, west+side*(float64(k%4)+0.5)/4, south+side*(float64(k/4)+0.5)/4, count, f.days[k/8]))
		}
	}
	require.NoError(t, os.WriteFile("farm.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+"]}"), 0o644))
	require.NoError(t, os.WriteFile("farm.csv", []byte("stop,longitude,latitude,count,leaves,date,pest,stage\n"+strings.Join(rows, "\n")+"\n"), 0o644))
}

func farmed(more ...string) []string {
	return append([]string{"map", "farm.csv", "--field", "farm.geojson", "--out", "out"}, more...)
}

// properties are those of the features of a file by field, of the first of each.
func properties(t *testing.T, path string) map[string]map[string]any {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var c struct {
		Features []struct{ Properties map[string]any }
	}
	require.NoError(t, json.Unmarshal(text, &c))
	all := map[string]map[string]any{}
	for _, f := range c.Features {
		name := f.Properties["field"].(string)
		if _, there := all[name]; !there {
			all[name] = f.Properties
		}
	}
	return all
}

// jobsOf are days and growth of the jobs in handoff.json, by field.
func jobsOf(t *testing.T) (all map[string]jobFigures, notes string) {
	t.Helper()
	text, err := os.ReadFile("job/handoff.json")
	require.NoError(t, err)
	var got struct {
		Jobs  []jobFigures
		Notes []string
	}
	require.NoError(t, json.Unmarshal(text, &got))
	all = map[string]jobFigures{}
	for _, j := range got.Jobs {
		all[j.Field] = j
	}
	return all, strings.Join(got.Notes, "\n")
}

type jobFigures struct {
	Field string
	Days  struct {
		Until   string `json:"good_until"`
		Between int    `json:"days_between"`
		Late    bool
	}
	Margin struct {
		Growth float64 `json:"growth_m_per_day"`
		Days   float64
		Total  float64 `json:"total_m"`
	}
	OnMap *struct {
		Margin float64 `json:"margin_m"`
		Days   float64 `json:"grown_days"`
	} `json:"on_map"`
}

// Fields that were walked on days of their own, in one run: 7 days good each, the
// oldest count of a field decides.
func TestEachFieldHasItsOwnDays(t *testing.T) {
	farm(t)
	code, out, errs := run(t, farmed("--details", "--write", drawn())...)
	require.Zero(t, code, errs)
	want := map[string][2]string{ // counted, good until
		"North": {"2026-07-13", "2026-07-20"}, "South": {"2026-07-15", "2026-07-22"}, "East": {"2026-07-10/2026-07-12", "2026-07-17"},
	}
	zones := properties(t, "out/zones.geojson")
	var summary struct {
		Fields []struct {
			Field   string
			Dates   []string
			Verdict struct {
				On    string `json:"look_again_on"`
				Until string `json:"good_until"`
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["summary.json"]), &summary))
	require.Len(t, summary.Fields, 3)
	for _, f := range summary.Fields {
		w, z := want[f.Field], zones[f.Field]
		assert.Equal(t, w[0], z["date"], f.Field)
		assert.Equal(t, w[1], z["good_until"], f.Field)
		assert.LessOrEqual(t, z["look_again"], z["good_until"], f.Field)
		assert.Equal(t, w[0], strings.Join(f.Dates, "/"), f.Field)
		assert.Equal(t, w[1], f.Verdict.Until, f.Field)
		assert.Equal(t, z["look_again"], f.Verdict.On, f.Field)
		first, _, _ := strings.Cut(w[0], "/")
		assert.Greater(t, f.Verdict.On, first, f.Field)
	}
	assert.NotContains(t, out, "SAMPLES OF 4 DAYS")
	assert.Contains(t, out, "East: SAMPLES OF 2 DAYS ON ONE MAP, 2026-07-10 to 2026-07-12")
	assert.Equal(t, 1, strings.Count(out, "ON ONE MAP"), "of the field that it is true of")
	assert.Equal(t, 1, strings.Count(out, "on one map"), "of the field that it is true of")
	for name, w := range want {
		assert.Contains(t, out, "counted "+spoken(w[0])+",", name)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), "the map is good until "+w[1], name)
	}
	files := contents(t, "out")
	for _, name := range []string{"zones.kml", "report.html"} {
		for field, w := range want {
			assert.Contains(t, files[name], "ounted "+spoken(w[0]), name+" "+field)
		}
	}
	// the picture of a field tells its own day and no other's
	for field, w := range want {
		own := files["map-"+field+".svg"]
		assert.Contains(t, own, ">Sorghum aphid, "+spoken(w[0])+"<", field)
		assert.NotContains(t, own, spoken("2026-07-10/2026-07-15"), field)
		assert.Contains(t, files["map.svg"], ">"+field+", "+spoken(w[0])+"<", "the overview as well")
	}
}

// Four rows dated twenty days back: the map was no longer good when the others were counted,
// and nobody is sent to look on a day that is over.
func TestALookAgainIsNeverBeforeTheLastCount(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(string(text), "\n")
	for i := 20; i < 24; i++ {
		require.Contains(t, lines[i], "2026-07-15")
		lines[i] = strings.Replace(lines[i], "2026-07-15", "2026-06-25", 1)
	}
	require.NoError(t, os.WriteFile("week2.csv", []byte(strings.Join(lines, "\n")), 0o600))
	code, out, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, `verdict: spot spray .*, the treat zone; count the old stops again today\n`, out)
	zone := properties(t, "out/zones.geojson")["Pivot"]
	assert.Equal(t, "2026-07-15", zone["look_again"])
	assert.Equal(t, "2026-07-02", zone["good_until"])
	assert.Contains(t, zone["advice"], "count the old stops again today")
	assert.Contains(t, contents(t, "out")["summary.json"], `"look_again_on": "2026-07-15"`)
}

// spoken is a day of files, or an interval of days, as people say it.
func spoken(iso string) string {
	first, last, several := strings.Cut(iso, "/")
	if !several {
		return figures.Day(iso) + " 2026"
	}
	return figures.Day(first) + " to " + figures.Day(last) + " 2026"
}

// Through files: each job has the days of its field.
func TestEachJobHasItsOwnDays(t *testing.T) {
	farm(t)
	code, _, errs := run(t, farmed()...)
	require.Zero(t, code, errs)
	code, out, errs := run(t, handOff("--against-verdict", "--spray-on", "2026-07-18", "--growth", "1m")...)
	require.Zero(t, code, errs)
	jobs, notes := jobsOf(t)
	require.Len(t, jobs, 3)
	for name, w := range map[string]struct {
		until   string
		between int
		late    bool
	}{"North": {"2026-07-20", 5, false}, "South": {"2026-07-22", 3, false}, "East": {"2026-07-17", 8, true}} {
		j := jobs[name]
		assert.Equal(t, w.until, j.Days.Until, name)
		assert.Equal(t, w.between, j.Days.Between, name)
		assert.Equal(t, w.late, j.Days.Late, name)
		assert.Equal(t, float64(w.between), j.Margin.Days, name)
		assert.Equal(t, w.late, strings.Contains(notes, name+": the map was good until"), name)
		assert.Contains(t, out, "The map is good until "+figures.Day(w.until)+" 2026. Planned for Saturday 18 July 2026", name)
	}
	assert.Equal(t, 1, strings.Count(out, "TOO LATE"))
}

// The day on which a spray comes is one; the fields' ages are their own.
func TestSprayInAgesEachFieldByItself(t *testing.T) {
	farm(t)
	code, out, errs := run(t, farmed("--details", "--spray-in", "5")...) // on the 20th: the last count is of the 15th
	require.Zero(t, code, errs)
	zones := properties(t, "out/zones.geojson")
	for name, days := range map[string]float64{"North": 7, "South": 5, "East": 10} {
		assert.Equal(t, days, zones[name]["grown_days"], name)
		assert.Positive(t, zones[name]["margin_m"], name)
	}
	assert.Contains(t, out, "East: the map is good for 7 days and the spray comes 10 days after its count: walk it again first")
	assert.NotContains(t, out, "North: the map is good", "at equality it still is")
	code, _, errs = run(t, farmed("--spray-in", "24")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `field "East": the spray would be 29 days after its count of 2026-07-10: want 0 to 28`)
}

// A map with a watch level of its own says until when it is good, and the hand-off of
// its folder says the same: 4.2 days to double, 25 reaches 40 in 2.8.
func TestHandoffIsGoodUntilTheMapIs(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2", "--details", "--watch-at", "25")...)
	require.Zero(t, code, errs)
	require.Contains(t, out, "the map is good until 2026-07-17")
	for on, late := range map[string]bool{"2026-07-16": false, "2026-07-17": false, "2026-07-18": true, "2026-07-20": true} {
		code, out, errs := run(t, handOff("--spray-on", on)...)
		require.Zero(t, code, errs)
		assert.Contains(t, out, "The map is good until Friday 17 July 2026. Planned for "+figures.Day(on)+" 2026")
		assert.Equal(t, late, strings.Contains(out, "TOO LATE"), on)
		jobs, notes := jobsOf(t)
		assert.Equal(t, "2026-07-17", jobs["Pivot"].Days.Until)
		assert.Equal(t, late, jobs["Pivot"].Days.Late, on)
		assert.Equal(t, late, strings.Contains(notes, "Pivot: the map was good until 2026-07-17: scout again before spraying on "+on), on)
	}
	// a person may say otherwise, and both stand on the sheet
	code, out, errs = run(t, handOff("--spray-on", "2026-07-18", "--good-for", "3")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "TOO LATE")
	assert.Contains(t, out, "The map is good until Saturday 18 July 2026 as asked, by the map itself until Friday 17 July 2026. Planned for Saturday 18 July 2026.")
	assert.Contains(t, contents(t, "job")["jobsheet.html"], "by the map itself until Friday 17 July 2026")
	code, _, errs = run(t, handOff("--good-for", "0")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--good-for 0: want 1 day or more")
}

// Zones of an older program do not say until when they are good: that is said, and no
// day is made up.
func TestHandoffOfZonesWithoutTheDay(t *testing.T) {
	mapped(t)
	zones := contents(t, "out")["zones.geojson"]
	old := strings.ReplaceAll(zones, `"good_until":"2026-07-29"`, `"good_til":"2026-07-29"`)
	require.NotEqual(t, zones, old)
	require.NoError(t, os.WriteFile("out/zones.geojson", []byte(old), 0o644))
	recordSays(t, "outputs", nil)
	code, out, errs := run(t, handOff("--spray-on", "2026-08-20")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Good until: ____________ (the zones do not say)")
	assert.Contains(t, out, "note: Pivot: the zones do not say until when the map is good, and nothing is taken for it: map again, or give --good-for")
	assert.NotContains(t, out, "TOO LATE")
	code, out, errs = run(t, handOff("--spray-on", "2026-07-26", "--good-for", "3")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "The map is good until Saturday 25 July 2026. Planned for Sunday 26 July 2026. TOO LATE")
	assert.NotContains(t, out, "do not say until when")
}

// What the map has grown its zones by for the days until the spray is not added again,
// whether the zones tell it or, older ones, the record in their folder.
func TestGrowthIsCountedOnce(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2", "--spray-in", "5", "--margin", "2")...)
	require.Zero(t, code, errs)
	pivot := properties(t, "out/zones.geojson")["Pivot"]
	require.Equal(t, 5.0, pivot["grown_days"])
	grown := pivot["margin_m"].(float64)
	require.Greater(t, grown, 2.0)
	zones, record := contents(t, "out")["zones.geojson"], contents(t, "out")["run.json"]
	stripped := strings.NewReplacer(`"margin_m"`, `"former_m"`, `"grown_days"`, `"former_d"`)
	olderRecord := strings.ReplaceAll(record, `"grown_days"`, `"former_d"`)
	require.NotEqual(t, record, olderRecord)
	for name, folder := range map[string][2]string{
		"zones": {zones, record}, "record": {stripped.Replace(zones), record}, "older record": {stripped.Replace(zones), olderRecord},
	} {
		require.NoError(t, os.WriteFile("out/zones.geojson", []byte(folder[0]), 0o644))
		require.NoError(t, os.WriteFile("out/run.json", []byte(folder[1]), 0o644))
		if name != "zones" {
			recordSays(t, "outputs", nil)
		}
		for _, on := range []string{"2026-07-20", "2026-07-22", "2026-07-15", "2026-07-19", "2026-07-21"}[:testkit.Few(5, 2)] {
			days := map[string]float64{"2026-07-21": 1, "2026-07-22": 2}[on]
			code, out, errs := run(t, handOff("--spray-on", on, "--growth", "0.5m", "--stop-error", "0m")...)
			require.Zero(t, code, errs)
			jobs, notes := jobsOf(t)
			j := jobs["Pivot"]
			assert.Equal(t, days, j.Margin.Days, "%s, %s", name, on)
			assert.Equal(t, 0.5*days, j.Margin.Total, "%s, %s", name, on)
			require.NotNil(t, j.OnMap, name)
			assert.InDelta(t, grown, j.OnMap.Margin, 0.01, name)
			assert.Contains(t, notes, "Pivot: the map grew the treat zone by ", name)
			assert.Contains(t, notes, fmt.Sprintf("with growth for %g of the", days), name)
			assert.Regexp(t, `Grown on the map: +[\d.]+ m \([\d.]+ ft\), with what patches grow in 5 days`, out, name)
			assert.Contains(t, contents(t, "job")["jobsheet.html"], "with what patches grow in 5 days", name)
			assert.Equal(t, days > 0, strings.Contains(out, "growth 0.5 m ×"), name)
		}
	}
	// where nothing tells, as with a file of zones by itself, that is said
	require.NoError(t, os.WriteFile("alone.geojson", []byte(stripped.Replace(zones)), 0o644))
	alone := func(more ...string) []string {
		args := handOff(more...)
		args[1] = "alone.geojson"
		return args
	}
	code, out, errs := run(t, alone("--spray-on", "2026-07-20", "--growth", "0.5m")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, "Grown on the map: +the zones do not say, so growth is added for all 5 days", out)
	assert.Contains(t, out, "note: Pivot: the zones do not say by how much the map grew them")
	code, out, errs = run(t, alone("--spray-on", "2026-07-20")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "Grown on the map")
}

// neverFilled are the settings that run.json may hold as zero, each with its reason.
var neverFilled = map[string]string{
	"tally": "0 maps the mean", "radius": "0 leaves out no stop", "margin": "0 is the default", "catch": "0 cuts at the level",
	"cell": "each field's own, under fields", "min-area": "each field's own, under fields", "simplify": "each field's own, under fields",
	"treat-chance": "of --surface chance only", "watch-chance": "of --surface chance only",
	"name-property": "found by itself", "pest": "that of the samples", "utm": "asked for only where there are eastings", "schema": "a file",
	"plain": "off", "tune": "off", "strict": "off", "unnamed-stops": "off",
	"columns": "a list", "map": "a list", "fix": "a list", "units": "both",
}

// recordOf is run.json.
func recordOf(t *testing.T) (settings map[string]any, filled []string) {
	t.Helper()
	var record struct {
		Settings map[string]any
		FilledIn []string `json:"filled_in"`
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &record))
	return record.Settings, record.FilledIn
}

func isZero(v any) bool {
	switch v := v.(type) {
	case nil:
		return true
	case float64:
		return v == 0
	case string:
		return v == ""
	case bool:
		return !v
	case []any:
		return len(v) == 0
	}
	return false
}

// No setting that has a default stands in run.json as zero.
func TestTheRecordHoldsItsDefaults(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	settings, filled := recordOf(t)
	for name, value := range settings {
		_, excepted := neverFilled[name]
		assert.Equal(t, excepted, isZero(value), "%s is %v", name, value)
	}
	for name := range neverFilled {
		assert.Contains(t, settings, name, "an exception without a setting")
	}
	for name, want := range map[string]any{"treat-at": 40.0, "next-visit": 7.0, "doubling": 4.2, "power": 2.0, "neighbors": "12", "unit": "leaf", "per": "hectare", "surface": "idw"} {
		assert.Equal(t, want, settings[name], name)
	}
	assert.Equal(t, map[string]any{"least-inside": 4.0, "least-stops": 10.0, "most-stops": 40.0, "whole-share": 0.9, "unscouted-left": 0.15, "everywhere": 0.8, "unscouted-share": 0.25, "revisit-found": 3.0, "seed": 1996.0}, settings["verdict"])
	assert.Equal(t, []string{"doubling", "next-visit", "treat-at", "verdict.everywhere", "verdict.least-inside", "verdict.least-stops", "verdict.most-stops",
		"verdict.revisit-found", "verdict.seed", "verdict.unscouted-left", "verdict.unscouted-share", "verdict.whole-share", "watch-at"}, filled)

	code, _, errs = run(t, week("2", "--surface", "chance", "--cell", "20", "--next-visit", "5", "--cost", "30", "--price", "150", "--loss", "0.01")...)
	require.Zero(t, code, errs)
	settings, filled = recordOf(t)
	for name, want := range map[string]any{"treat-chance": 0.3, "watch-chance": 0.3, "next-visit": 5.0, "control": 1.0} {
		assert.Equal(t, want, settings[name], name)
	}
	assert.Contains(t, filled, "control")
	assert.NotContains(t, filled, "next-visit")
	code, _, errs = run(t, "report", "out")
	assert.Zero(t, code, errs)
	code, _, errs = run(t, week("2", "--surface", "chance", "--cell", "20", "--catch", "0.9")...)
	require.Zero(t, code, errs)
	settings, _ = recordOf(t)
	assert.Zero(t, settings["treat-chance"], "the catch finds it")
	code, _, errs = run(t, "report", "out")
	assert.Zero(t, code, errs)
}

// What map filled in by itself keeps its source where compare goes by its folder, and
// what was given stays.
func TestCompareGoesByWhatWasAskedOfMap(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("farm.toml", []byte("[verdict]\nleast-stops = 12\n"), 0o644))
	code, _, errs := run(t, week("1", "--doubling", "5", "--settings", "farm.toml")...)
	require.Zero(t, code, errs)
	code, out, errs := run(t, "compare", "--details", "out", "week2.csv", "--out", "change")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "doubling every 5 (given)")
	code, _, errs = run(t, week("1", "--details")...)
	require.Zero(t, code, errs)
	code, out, errs = run(t, "compare", "--details", "out", "week2.csv", "--out", "change")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "doubling every 4.2 (50 to 500 per leaf in 14 days, Texas extension)")
}

// restage gives the stops of a field another growth stage.
func restage(t *testing.T, field, stage string) {
	t.Helper()
	text, err := os.ReadFile("farm.csv")
	require.NoError(t, err)
	lines := strings.Split(string(text), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, field[:1]) && i > 0 {
			lines[i] = strings.TrimSuffix(line, "boot") + stage
		}
	}
	require.NoError(t, os.WriteFile("farm.csv", []byte(strings.Join(lines, "\n")), 0o644))
}

// Fields at growth stages of their own go by one rule, each at the stage of its rows;
// none of them is judged by the stage of another.
func TestStagesOfTheFields(t *testing.T) {
	for name, c := range map[string]struct {
		south string
		args  []string
		code  int
		want  string
	}{
		"one band":         {"pre-boot", []string{"--rule", "sorghum-aphid-texas-mean"}, 0, "the samples are of several growth stages: boot (stop N0), pre-boot (stop S0)"},
		"levels differ":    {"dough", []string{"--rule", "sorghum-aphid-texas-mean"}, 0, `field "South": the rule is taken at dough, the stage of its rows`},
		"nothing at one":   {"black layer", []string{"--rule", "sorghum-aphid-texas-mean"}, 1, `field "South": rule sorghum-aphid-texas-mean says nothing at stage "black layer"`},
		"asked for all":    {"dough", []string{"--rule", "sorghum-aphid-texas-mean", "--stage", "boot"}, 0, "the rule is taken at boot, as asked; the samples say dough (stop S0)"},
		"preset, silent":   {"black layer", nil, 0, `says nothing at stage "black layer"`},
		"preset, one stop": {"black layer", nil, 0, "its level may not hold here, from stop S0 on"},
	} {
		t.Run(name, func(t *testing.T) {
			farm(t)
			restage(t, "South", c.south)
			code, out, errs := run(t, farmed(append([]string{"--details"}, c.args...)...)...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, out+errs, c.want)
			if c.code != 0 {
				assert.Empty(t, names(t, "out"))
			}
		})
	}
}

// A record is compared with the count of its own field.
func TestRecordIsComparedWithTheCountOfItsField(t *testing.T) {
	farm(t)
	code, _, errs := run(t, farmed()...)
	require.Zero(t, code, errs)
	record := func(field, date string) (int, string) {
		code, _, errs := run(t, "record", "out", "--date", date, "--field", field, "--area", "5ha", "--product", "product A=9 L", "--who", "somebody")
		return code, errs
	}
	code, errs = record("South", "2026-07-14")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--date 2026-07-14 lies before the count of 2026-07-15")
	for field, date := range map[string]string{"South": "2026-07-15", "North": "2026-07-14", "East": "2026-07-10"} {
		code, errs = record(field, date)
		assert.Zero(t, code, errs)
	}
}
