package cli_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// sprayed is invented: the western half of the round field.
const sprayed = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"date":"2026-07-16","note":"invented","reentry_hours":24},
"geometry":{"type":"Polygon","coordinates":[[[-101.61,35.89],[-101.6,35.89],[-101.6,35.91],[-101.61,35.91],[-101.61,35.89]]]}}]}`

// ownRule is an invented rule of somebody's own.
const ownRule = `[[rule]]
name = "mine"
pest = "sorghum aphid"
source = "invented"
statistic = "mean"
unit = "leaf"
bands = [{ value = 30 }]
`

func weeks(more ...string) []string {
	return append([]string{"compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "change"}, more...)
}

func TestCompareScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"help_compare":     {"compare", "--help"},
		"compare":          weeks("--details"),
		"compare_forecast": {"compare", "--details", "week3.csv", "week2.csv", "--field", "field.geojson", "--out", "change", "--units", "us", "--treated", "sprayed.geojson", "--forecast", "2026-07-26"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o644))
			code, out, errs := run(t, args...)
			require.Zero(t, code, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

func TestCompareWritesAllFilesAndTheSameAgain(t *testing.T) {
	inFolder(t)
	args := weeks("--forecast", "2026-07-26", "--cells", "--quiet")
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Empty(t, out)
	first := contents(t, "change")
	assert.ElementsMatch(t, []string{"cells-1.csv", "cells-2.csv", "change.geojson", "change.kml", "compare.json", "forecast.geojson", "hotspots.geojson", "run.json"}, names(t, "change"))
	code, _, errs = run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "change"))
	code, _, errs = run(t, weeks("--quiet")...)
	require.Zero(t, code, errs)
	assert.ElementsMatch(t, []string{"change.geojson", "change.kml", "compare.json", "hotspots.geojson", "run.json"}, names(t, "change"), "no forecast of a former run stays")
}

// What a person keeps in the folder is no former result, whatever its name.
func TestCompareLeavesFilesThatItDidNotWrite(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, weeks("--cells", "--quiet")...)
	require.Zero(t, code, errs)
	for _, name := range []string{"cells-9.csv", "forecast.geojson", "cells-notes.csv", "cells-01.csv"}[:testkit.Few(4, 1)] {
		path := filepath.Join("change", name)
		require.NoError(t, os.WriteFile(path, []byte("mine"), 0o600))
		code, _, errs = run(t, weeks("--quiet")...)
		assert.Equal(t, 1, code, name)
		assert.Contains(t, errs, name)
		assert.FileExists(t, filepath.Join("change", "cells-1.csv"), "what is refused changes nothing")
		code, _, errs = run(t, weeks("--quiet", "--force", "--cells")...)
		require.Zero(t, code, errs)
		kept, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, "mine", string(kept))
		require.NoError(t, os.Remove(path))
	}
	code, _, errs = run(t, weeks("--quiet")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, names(t, "change"), "cells-1.csv", "its own of the former run do not stay")

	// Without a record of compare nothing is its own.
	require.NoError(t, os.Remove("change/run.json"))
	code, _, errs = run(t, weeks("--quiet")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "holds other files")
	code, _, errs = run(t, weeks("--quiet", "--force")...)
	require.Zero(t, code, errs)

	// A record that lists no files is that of an older program.
	text := contents(t, "change")["run.json"]
	i, j := strings.Index(text, `"files"`), strings.LastIndex(text, "]")
	older := strings.TrimRight(strings.TrimSpace(text[:i]), ",") + text[j+1:]
	require.True(t, json.Valid([]byte(older)), older)
	require.NoError(t, os.WriteFile("change/run.json", []byte(older), 0o600))
	require.NoError(t, os.WriteFile("change/cells-2.csv", []byte("of the older run"), 0o600))
	code, _, errs = run(t, weeks("--quiet")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "cells-2.csv")
	older = strings.Replace(older, `"cells": false`, `"cells": true`, 1)
	require.NoError(t, os.WriteFile("change/run.json", []byte(older), 0o600))
	code, _, errs = run(t, weeks("--quiet")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, names(t, "change"), "cells-2.csv")
}

type compared struct {
	Fields []struct {
		AreaHa float64 `json:"area_ha"`
		Visits []struct {
			ZonesHa map[string]float64 `json:"zones_ha"`
		}
		Steps []struct {
			Verdict string
			Table   map[string]map[string]float64 `json:"class_to_class_ha"`
			Unseen  float64                       `json:"share_without_figure"`
		}
		Forecast struct{ Says string }
	}
}

func TestCompareJSONAddsUp(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, weeks("--json", "--forecast", "2026-07-26")...)
	require.Zero(t, code, errs)
	var got compared
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	require.Len(t, got.Fields, 2)
	for _, f := range got.Fields {
		require.Len(t, f.Steps, 2)
		for i, s := range f.Steps {
			var total float64
			for class, row := range s.Table {
				var sum float64
				for _, ha := range row {
					sum += ha
				}
				total += sum
				assert.InDelta(t, f.Visits[i].ZonesHa[class], sum, 2e-4, "rounded to a square metre")
			}
			assert.InDelta(t, f.AreaHa, total, 5e-4)
			assert.Contains(t, s.Verdict, "noise")
		}
		assert.Contains(t, f.Forecast.Says, "not an observation")
	}
}

// Ground that was treated between the visits is kept apart from other in every file.
func TestTreatedGroundIsKeptApart(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o600))
	code, screen, errs := run(t, "compare", "--details", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "change", "--treated", "sprayed.geojson", "--forecast", "2026-07-26", "--write", "report", "--cells")
	require.Zero(t, code, errs)
	files := contents(t, "change")
	var got struct {
		Fields []struct {
			Steps []struct {
				GrowthFrom    string             `json:"growth_from"`
				MeanBefore    float64            `json:"mean_before"`
				TreatGroundHa map[string]float64 `json:"treat_ground_ha"`
				TreatedHa     map[string]float64 `json:"treat_ground_treated_ha"`
				TreatedOn     []string           `json:"treated_on"`
				Parts         []struct {
					Ground      string
					Treated     []string
					StopsBefore int     `json:"stops_before"`
					StopsAfter  int     `json:"stops_after"`
					MeanBefore  float64 `json:"mean_before"`
				}
			}
			Visits []struct{ Stops int }
			Next   struct {
				GrowthFrom string  `json:"growth_from"`
				Treated    float64 `json:"days_to_treat_of_treated_ground"`
			}
			Forecast struct {
				Says    string
				TreatHa float64 `json:"treat_ha"`
				Treated float64 `json:"treat_ha_in_treated_ground"`
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["compare.json"]), &got))
	pivot, corner := got.Fields[0], got.Fields[1]
	step := pivot.Steps[0]
	assert.Equal(t, "ground not treated", step.GrowthFrom)
	assert.Equal(t, "ground not treated", pivot.Next.GrowthFrom)
	assert.Equal(t, []string{"2026-07-16"}, step.TreatedOn)
	require.Len(t, step.Parts, 2)
	assert.Equal(t, []string{"not treated", "treated between the visits"}, []string{step.Parts[0].Ground, step.Parts[1].Ground})
	assert.Equal(t, pivot.Visits[0].Stops, step.Parts[0].StopsBefore+step.Parts[1].StopsBefore)
	assert.Equal(t, pivot.Visits[1].Stops, step.Parts[0].StopsAfter+step.Parts[1].StopsAfter)
	assert.Equal(t, step.Parts[0].MeanBefore, step.MeanBefore, "the growth is of the same stops")
	assert.Positive(t, pivot.Next.Treated)
	assert.Contains(t, pivot.Forecast.Says, "as fast as in ground not treated")
	assert.Less(t, pivot.Forecast.Treated, pivot.Forecast.TreatHa)
	assert.Positive(t, pivot.Forecast.Treated)
	assert.Equal(t, "all ground", corner.Steps[0].GrowthFrom)
	assert.Empty(t, corner.Steps[0].Parts)

	var ground struct {
		Features []struct {
			Properties struct {
				Change, Field string
				Treated       bool
				On            string  `json:"treated_on"`
				Ha            float64 `json:"area_ha"`
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["change.geojson"]), &ground))
	all, treated := map[string]float64{}, map[string]float64{}
	for _, f := range ground.Features {
		p := f.Properties
		require.Equal(t, "Pivot", p.Field)
		all[p.Change] += p.Ha
		if p.Treated {
			treated[p.Change] += p.Ha
			assert.Equal(t, "2026-07-16", p.On)
		} else {
			assert.Empty(t, p.On)
		}
	}
	require.Positive(t, treated["grown"])
	require.Less(t, treated["grown"], all["grown"])
	for kind, ha := range step.TreatGroundHa {
		assert.InDelta(t, ha, all[kind], 2e-4, kind)
		assert.InDelta(t, step.TreatedHa[kind], treated[kind], 2e-4, kind)
	}
	const apart = "in ground treated on 2026-07-16: mean per leaf 0.94 before, 5.53 after (20 against 22 stops, not matched), with what the treatment did in it"
	for name, text := range map[string]string{"screen": screen, "report.html": files["report.html"]} {
		assert.Contains(t, text, apart, name)
		assert.Contains(t, text, "in ground not treated, mean per leaf rose", name)
	}
	assert.Contains(t, files["change.kml"], ", Wednesday 15 July to Wednesday 22 July, sprayed on Thursday 16 July</name>")
	assert.NotRegexp(t, `<name>[^<]*\d{4}-\d\d-\d\d`, files["change.kml"], "days as people say them")
	rows, err := csv.NewReader(strings.NewReader(files["cells-1.csv"])).ReadAll()
	require.NoError(t, err)
	at := slices.Index(rows[0], "treated_2026-07-15_2026-07-22")
	require.Positive(t, at)
	for _, row := range rows[1:] {
		longitude, err := strconv.ParseFloat(row[0], 64)
		require.NoError(t, err)
		if longitude != -101.6 { // on the line
			require.Equal(t, map[bool]string{true: "1", false: "0"}[longitude < -101.6], row[at], "at %g", longitude)
		}
	}
	assert.NotContains(t, files["cells-2.csv"], "treated_", "nothing was treated there")
	assert.Contains(t, files["report.html"], " treated)")
}

// What is forecast says so wherever it stands.
func TestAForecastIsMarked(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, weeks("--forecast", "2026-07-26")...)
	require.Zero(t, code, errs)
	files := contents(t, "change")
	features := strings.Count(files["forecast.geojson"], `"type":"Feature",`) + strings.Count(files["forecast.geojson"], `"type": "Feature",`)
	require.Positive(t, features)
	marks := strings.Count(files["forecast.geojson"], `"forecast":true`) + strings.Count(files["forecast.geojson"], `"forecast": true`)
	assert.Equal(t, features, marks)
	assert.Contains(t, files["change.kml"], "FORECAST")
	assert.Contains(t, files["change.kml"], "<TimeSpan>")
}

func TestCompareTakesFoldersOfMap(t *testing.T) {
	inFolder(t)
	for _, n := range []string{"1", "2"} {
		code, _, errs := run(t, "map", "week"+n+".csv", "--field", "field.geojson", "--out", "map"+n)
		require.Zero(t, code, errs)
	}
	code, _, errs := run(t, "compare", "map1", "map2", "--out", "a")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "b")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "b")["compare.json"], contents(t, "a")["compare.json"])
	require.NoError(t, os.WriteFile("week1.csv", []byte("stop,longitude,latitude,count\n"), 0o644))
	code, _, errs = run(t, "compare", "map1", "map2", "--out", "a")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "no longer what map1 was made from")
}

// inputsOf are the paths and digests that run.json of a folder tells.
func inputsOf(t *testing.T, folder string) map[string]string {
	t.Helper()
	var made struct {
		Inputs []struct{ Path, SHA256 string }
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["run.json"]), &made))
	out := map[string]string{}
	for _, in := range made.Inputs {
		assert.NotContains(t, out, in.Path, "each once")
		out[in.Path] = in.SHA256
	}
	return out
}

func TestCompareRecordsEveryFileItRead(t *testing.T) {
	inFolder(t)
	noisyEyes(t, "scout A")
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o600))
	require.NoError(t, os.WriteFile("schema.json", []byte(`{"fields":[{"name":"count","type":"integer"}]}`), 0o600))
	require.NoError(t, os.WriteFile("own.toml", []byte(ownRule), 0o600))
	require.NoError(t, os.WriteFile("settings.toml", []byte("cell = 10\n"), 0o600))
	code, _, errs := run(t, weeks("--observers", "eyes/observers.json", "--schema", "schema.json", "--rules", "own.toml", "--settings", "settings.toml", "--treated", "sprayed.geojson")...)
	require.Zero(t, code, errs)
	got := inputsOf(t, "change")
	for _, name := range []string{"settings.toml", "schema.json", "own.toml", "eyes/observers.json", "field.geojson", "week1.csv", "week2.csv", "week3.csv", "sprayed.geojson"} {
		content, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(content)), got[name], name)
		delete(got, name)
	}
	assert.Empty(t, got)

	for _, n := range []string{"1", "2"} {
		code, _, errs := run(t, "map", "week"+n+".csv", "--field", "field.geojson", "--out", "m"+n, "--observers", "eyes/observers.json")
		require.Zero(t, code, errs)
	}
	code, _, errs = run(t, "compare", "m1", "m2", "--out", "maps")
	require.Zero(t, code, errs)
	got = inputsOf(t, "maps")
	for _, name := range []string{"eyes/observers.json", "field.geojson", "m1/run.json", "m1/summary.json", "m2/run.json", "m2/summary.json", "week1.csv", "week2.csv"} {
		assert.Len(t, got[name], 64, name)
	}
	assert.Len(t, got, 8)
}

// Counts in a GeoPackage are counts, and a season is one under any name.
func TestCompareTellsASeasonByItsContent(t *testing.T) {
	testkit.WantProgram(t, "ogr2ogr")
	inSeason(t)
	require.NoError(t, os.Rename("s.gpkg", "kept.db"))
	code, _, errs := run(t, "compare", "kept.db", "--out", "a")
	require.Zero(t, code, errs)
	for _, n := range []string{"1", "2"} {
		testkit.Program(t, nil, "ogr2ogr", "-f", "GPKG", "week"+n+".gpkg", "week"+n+".csv", "-oo", "X_POSSIBLE_NAMES=longitude", "-oo", "Y_POSSIBLE_NAMES=latitude", "-a_srs", "EPSG:4326")
		code, _, errs = run(t, "map", "week"+n+".gpkg", "--field", "field.geojson", "--out", "map"+n)
		require.Zero(t, code, errs)
	}
	code, _, errs = run(t, "compare", "week1.gpkg", "week2.gpkg", "--field", "field.geojson", "--out", "b")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "compare", "map1", "map2", "--out", "c")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "c")["compare.json"], contents(t, "b")["compare.json"])
}

func TestCompareFilesPassOutsideCheckers(t *testing.T) {
	testkit.Shared(t, "validators")
	inFolder(t)
	code, _, errs := run(t, weeks("--forecast", "2026-07-26")...)
	require.Zero(t, code, errs)
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "geojson7946.py"), "change/change.geojson", "change/hotspots.geojson", "change/forecast.geojson")
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), "change/change.kml")
	testkit.Program(t, []string{"XML_CATALOG_FILES=" + testkit.Shared(t, "schemas", "kml", "catalog.xml")},
		"xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "kml", "ogckml22.xsd"), "change/change.kml")
	// GDAL measures on its own what the property says of the change.
	out := testkit.Program(t, nil, "ogr2ogr", "-f", "CSV", "/vsistdout/", "change/change.geojson", "-dialect", "SQLite",
		"-sql", "SELECT area_ha, ST_Area(geometry, 1)/10000 AS measured FROM change")
	lines := strings.Split(strings.TrimSpace(out), "\n")
	require.Greater(t, len(lines), 3)
	for _, line := range lines[1:] {
		var said, measured float64
		a, b, _ := strings.Cut(strings.TrimSpace(line), ",")
		require.NoError(t, json.Unmarshal([]byte(strings.Trim(a, `"`)), &said))
		require.NoError(t, json.Unmarshal([]byte(strings.Trim(b, `"`)), &measured))
		assert.InDelta(t, said, measured, 0.002+1e-4*said)
		assert.False(t, math.IsNaN(measured))
	}
}

func TestCompareStrict(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, weeks("--strict")...)
	assert.Equal(t, 3, code)
	assert.Contains(t, errs, "3 rows were set aside")
	assert.FileExists(t, filepath.Join("change", "compare.json"))
}

func TestCompareRefusals(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		code int
		want string
	}{
		{"no visits", []string{"compare", "--field", "field.geojson", "--out", "x"}, 2, "no visits"},
		{"no out", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson"}, 2, "--out"},
		{"no field", []string{"compare", "week1.csv", "week2.csv", "--out", "x"}, 2, "--field"},
		{"one visit", []string{"compare", "week1.csv", "--field", "field.geojson", "--out", "x"}, 1, "two or more"},
		{"twice the same", []string{"compare", "week1.csv", "week1.csv", "--field", "field.geojson", "--out", "x"}, 1, "week1.csv and week1.csv: two visits on 2026-07-08 in field \"Pivot\": put them into one file if they are one walk, or correct the day of one"},
		{"missing file", []string{"compare", "week1.csv", "week9.csv", "--field", "field.geojson", "--out", "x"}, 1, "week9.csv"},
		{"wrong forecast", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--forecast", "soon"}, 2, "forecast"},
		{"early forecast", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--forecast", "2026-07-15"}, 1, "later day"},
		{"too few days", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--dates", "2026-07-08"}, 2, "1 days for 2 visits"},
		{"other days", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--dates", "2026-07-09,2026-07-15"}, 1, "gives its day itself"},
		{"day of nothing", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--treated-on", "2026-07-09"}, 2, "--treated"},
		{"folder of others", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "."}, 1, "holds other files"},
		{"not a map", []string{"compare", ".", "week2.csv", "--field", "field.geojson", "--out", "x"}, 1, "no folder that map wrote"},
		{"treated points", []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "x", "--treated", "point.geojson", "--treated-on", "2026-07-09"}, 1, "no polygon"},
	} {
		t.Run(c.name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("point.geojson", []byte(`{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}`), 0o644))
			code, _, errs := run(t, c.args...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, errs, c.want)
			assert.NoDirExists(t, "x")
		})
	}
}

// Ground that was treated elsewhere is the wrong file, or named beside what was
// treated here.
func TestATreatmentInNoFieldIsNamed(t *testing.T) {
	inFolder(t)
	feature := func(note string, west, south float64) string {
		return fmt.Sprintf(`{"type":"Feature","properties":{"date":"2026-07-17","note":%q},"geometry":{"type":"Polygon","coordinates":[[[%[2]g,%[3]g],[%[4]g,%[3]g],[%[4]g,%[5]g],[%[2]g,%[5]g],[%[2]g,%[3]g]]]}}`,
			note, west, south, west+0.001, south+0.001)
	}
	write := func(features ...string) {
		require.NoError(t, os.WriteFile("treated.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`), 0o600))
	}
	args := []string{"compare", "--details", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "change", "--treated", "treated.geojson"}
	write(feature("elsewhere", -101.5, 35.9))
	code, _, errs := run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "treated.geojson: the treatment of 2026-07-17 (elsewhere) lies in no field\n")
	assert.Contains(t, errs, "hint: ")
	assert.Empty(t, names(t, "change"))
	write(feature("elsewhere", -101.5, 35.9), feature("here", -101.598, 35.898))
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treated.geojson: the treatment of 2026-07-17 (elsewhere) lies in no field, and is left out")
	assert.NotContains(t, out, "(here) lies in no field")
}

// A note on a file is said of it once.
func TestCompareNamesAFileOnceInANote(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week1.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("one.csv", bytes.Replace(text, []byte("longitude"), []byte("Long"), 1), 0o600))
	code, out, errs := run(t, "compare", "one.csv", "week2.csv", "--field", "field.geojson", "--out", "change")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `Note: one.csv: columns read: "Long" as longitude`)
}
