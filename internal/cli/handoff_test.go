package cli_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// hives are invented keep-offs: a point and a line.
const hives = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.598,35.8995]}},
{"type":"Feature","properties":{"name":"creek"},"geometry":{"type":"LineString","coordinates":[[-101.606,35.899],[-101.594,35.8975]]}}]}`

// mapped makes the working folder hold a map of the third week and keep-offs.
func mapped(t testing.TB) {
	t.Helper()
	madeOnce(t, "mapped", func() {
		inFolder(t)
		code, _, errs := run(t, week("3")...)
		require.Zero(t, code, errs)
		require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o644))
	})
}

func handOff(more ...string) []string {
	return append([]string{"handoff", "out", "--swath", "24m", "--out", "job", "--details"}, more...)
}

var everything = []string{"--sections", "12", "--keep-off", "hives.geojson=30m", "--rate", "15gal/ac", "--tank", "200gal",
	"--product", "product A=3lb/ac", "--height", "3m", "--drift", "200ft", "--speed", "8mph", "--lag", "1.5s", "--spray-on", "2026-07-24", "--growth", "0.5m", "--turn", "20s"}

func TestHandoffScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"handoff_bare": handOff(), "handoff_all": handOff(everything...), "handoff_us": handOff("--units", "us", "--overrun", "0m", "--heading", "0"),
		"help_handoff": {"handoff", "--help"}, "help_record": {"record", "--help"},
	} {
		t.Run(name, func(t *testing.T) {
			mapped(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

// unzip puts an archive's files into a folder.
func unzip(t *testing.T, archive, folder string) {
	t.Helper()
	r, err := zip.OpenReader(archive)
	require.NoError(t, err)
	defer r.Close()
	for _, f := range r.File {
		in, err := f.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(in)
		require.NoError(t, err)
		path := filepath.Join(folder, f.Name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, content, 0o644))
	}
}

func TestHandoffFilesPassOutsideCheckers(t *testing.T) {
	schemas := map[string]string{
		"4":               testkit.Shared(t, "schemas", "isoxml", "taskdata-v4-prescription.xsd"),
		"3":               testkit.Shared(t, "schemas", "isoxml", "taskdata-v3-prescription.xsd"),
		"4 with guidance": testkit.Testdata(t, "reference", "isoxml", "taskdata-v4-guidance.xsd"),
	}
	for _, more := range [][]string{{"--iso-version", "4"}, {"--iso-version", "4", "--guidance"}, {"--iso-version", "3"}, {"--iso-version", "4", "--grid", "3m"}, {"--iso-version", "3", "--grid", "5m", "--overrun", "0m"}} {
		form := more[1]
		if slices.Contains(more, "--guidance") {
			form += " with guidance"
		}
		mapped(t)
		code, _, errs := run(t, handOff(append(more, everything...)...)...)
		require.Zero(t, code, errs)
		unzip(t, "job/TASKDATA.zip", "task")
		testkit.Program(t, nil, "xmllint", "--nonet", "--noout", "--schema", schemas[form], "task/TASKDATA/TASKDATA.XML")
		testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "taskdata.py"), "task/TASKDATA")
		for _, layer := range []string{"rate_gal_ac", "ground", "swaths", "keep_off", "boundary"} {
			unzip(t, "job/"+layer+".zip", "shape")
			testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "shpcheck.py"), "shape/"+layer+".shp")
			assert.Contains(t, testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "-so", "shape/"+layer+".shp"), "Geometry: Polygon")
		}
		geojsons, err := filepath.Glob("job/*.geojson")
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(geojsons), 5)
		testkit.Program(t, nil, "python3", append([]string{testkit.Shared(t, "validators", "geojson7946.py")}, geojsons...)...)
		testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), "job/handoff.kml", "job/handoff.kmz", "job/ground.kml", "job/keep_off.kml", "job/flight.kml")
		testkit.Program(t, []string{"XML_CATALOG_FILES=" + testkit.Shared(t, "schemas", "kml", "catalog.xml")},
			"xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "kml", "ogckml22.xsd"), "job/handoff.kml", "job/ground.kml", "job/keep_off.kml", "job/flight.kml")
		testkit.Program(t, nil, "xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "gpx", "gpx11-restated.xsd"), "job/passes.gpx")
		testkit.AssertGeoPackage(t, "job/handoff.gpkg")
	}
}

func TestHandoffIsTheSameOnEveryRun(t *testing.T) {
	mapped(t)
	code, _, errs := run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	first := contents(t, "job")
	require.GreaterOrEqual(t, len(first), 16)
	code, _, errs = run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "job"))
	// Fewer outputs leave none of the others behind.
	code, _, errs = run(t, handOff()...)
	require.Zero(t, code, errs)
	assert.NotContains(t, names(t, "job"), "TASKDATA.zip")
}

func TestHandoffFiguresForMachines(t *testing.T) {
	mapped(t)
	code, out, errs := run(t, handOff(append(everything, "--json")...)...)
	require.Zero(t, code, errs)
	var got struct {
		Typed struct {
			Rate   string
			Volume float64   `json:"volume_l"`
			Loads  []float64 `json:"loads_l"`
		} `json:"typed_in"`
		Jobs []struct {
			Missed   float64 `json:"missed_m2"`
			Overlap  float64 `json:"overlap_m2"`
			KeepOffs []struct {
				SetBack float64 `json:"set_back_m"`
				Nearest float64 `json:"spray_ground_stays_off_m"`
			} `json:"keep_offs"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	require.Len(t, got.Jobs, 1)
	assert.Zero(t, got.Jobs[0].Missed)
	assert.Zero(t, got.Jobs[0].Overlap)
	require.Len(t, got.Jobs[0].KeepOffs, 2)
	for _, k := range got.Jobs[0].KeepOffs {
		assert.GreaterOrEqual(t, k.Nearest, k.SetBack)
	}
	var sum float64
	for _, l := range got.Typed.Loads {
		sum += l
	}
	assert.InDelta(t, got.Typed.Volume, sum, 0.02, "each is rounded to hundredths")
	assert.Equal(t, "15 gal/ac", got.Typed.Rate)
}

func TestHandoffRefusals(t *testing.T) {
	cases := map[string]struct {
		args []string
		code int
		want string
	}{
		"no swath":            {[]string{"handoff", "out", "--out", "job"}, 2, "--swath and --out are needed"},
		"a number alone":      {handOff("--rate", "15"), 2, "want a number with L/ha, gal/ac"},
		"a set-back missing":  {handOff("--keep-off", "hives.geojson"), 2, "want FILE=SETBACK"},
		"a keep-off missing":  {handOff("--keep-off", "no.geojson=5m"), 1, "no.geojson"},
		"no map":              {[]string{"handoff", "nowhere", "--swath", "24m", "--out", "job"}, 1, "nowhere"},
		"a folder of others":  {[]string{"handoff", ".", "--swath", "24m", "--out", "job"}, 1, "no folder that map wrote, but holds one"},
		"half a map":          {handOff(), 1, "run.json is missing, so the folder holds half of a map"},
		"a boundary":          {[]string{"handoff", "field.geojson", "--swath", "24m", "--out", "job"}, 1, "no property zone"},
		"over its own inputs": {[]string{"handoff", "out", "--swath", "24m", "--out", "out"}, 1, "holds other files"},
		"an unknown version":  {handOff("--iso-version", "2"), 2, "want 4 or 3"},
		"guidance of old":     {handOff("--iso-version", "3", "--guidance"), 2, "leave out --iso-version 3"},
		"a swath too wide":    {[]string{"handoff", "out", "--swath", "500m", "--out", "job"}, 2, "want 0.5 to 100 m"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			mapped(t)
			if name == "half a map" {
				require.NoError(t, os.Remove("out/run.json"))
			}
			code, _, errs := run(t, tc.args...)
			assert.Equal(t, tc.code, code)
			assert.Contains(t, errs, tc.want)
			assert.Empty(t, names(t, "job"), "nothing is written")
		})
	}
}

// A map that says not to spray gives no job unless it is asked for, and then each
// file for people says so. Numbers are invented.
func TestHandoffFollowsTheVerdict(t *testing.T) {
	mapped(t)
	text, err := os.ReadFile("out/zones.geojson")
	require.NoError(t, err)
	require.Contains(t, string(text), `"verdict":"spot spray"`)
	against := strings.NewReplacer(`"verdict":"spot spray"`, `"verdict":"look again"`, `"advice":"spot spray`, `"advice":"do not spray now; was spot spray`)
	require.NoError(t, os.WriteFile("out/zones.geojson", []byte(against.Replace(string(text))), 0o644))
	recordSays(t, "outputs", nil) // as a version of before would
	code, _, errs := run(t, handOff("--rate", "15gal/ac")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "The map says: do not spray yet;")
	assert.Equal(t, 2, strings.Count(errs, "\n"))
	assert.Empty(t, names(t, "job"))
	code, out, errs := run(t, handOff("--rate", "15gal/ac", "--against-verdict")...)
	require.Zero(t, code, errs)
	assert.True(t, strings.HasPrefix(out, "AGAINST THE MAP, which says: do not spray"), out)
	files := contents(t, "job")
	for _, name := range []string{"jobsheet.html", "handoff.kml", "passes.gpx"} {
		assert.Contains(t, files[name], "AGAINST THE MAP", name)
	}
	assert.Contains(t, files["handoff.json"], `"against_verdict": true`)
}

// keepOffFiles are invented files that would keep off less than they seem to.
var keepOffFiles = map[string]string{
	"null.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":null},
{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[-101.598,35.8995]}}]}`,
	"sign.geojson": `{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[101.598,35.8995]}}`,
	"swap.geojson": `{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[35.8995,-80.598]}}`,
	"link.kml": `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><NetworkLink><Link><href>hives.kml</href></Link></NetworkLink>
<Placemark><name>well</name><Point><coordinates>-101.598,35.8995</coordinates></Point></Placemark></Document></kml>`,
	"only_link.kml": `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><NetworkLink><Link><href>hives.kml</href></Link></NetworkLink></Document></kml>`,
}

// The hand-off and the plan of a walk refuse the same files of keep-offs, or say
// the same of them.
func TestKeepOffsNeverVanish(t *testing.T) {
	for file, want := range map[string]string{
		"null.geojson":  `null.geojson: feature 1 ("hives")`,
		"sign.geojson":  "the longitude has lost its sign",
		"swap.geojson":  "nothing in it lies within",
		"only_link.kml": "holds nothing to keep off; the link to hives.kml was not followed",
	} {
		for command, args := range map[string][]string{"handoff": handOff("--keep-off", file+"=50m"), "plan": planned("--stops", "5", "--keep-off", file+"=50m")} {
			t.Run(command+" "+file, func(t *testing.T) {
				mapped(t)
				require.NoError(t, os.WriteFile(file, []byte(keepOffFiles[file]), 0o644))
				code, out, errs := run(t, args...)
				assert.Equal(t, 1, code, out)
				assert.Contains(t, errs, want)
				assert.Contains(t, errs, file)
				assert.NotContains(t, errs, "zones.geojson", "the fault is not there")
				assert.Empty(t, names(t, "job"))
				assert.Empty(t, names(t, "walk"))
			})
		}
	}
	mapped(t)
	require.NoError(t, os.WriteFile("link.kml", []byte(keepOffFiles["link.kml"]), 0o644))
	code, out, errs := run(t, handOff("--keep-off", "link.kml=50m")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, `Keep-offs: link\.kml: .*was not followed`, out)
	for _, name := range []string{"jobsheet.html", "handoff.json"} {
		assert.Contains(t, contents(t, "job")[name], "link.kml: ", name)
	}
	code, _, errs = run(t, planned("--stops", "5", "--keep-off", "link.kml=50m")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "link.kml: ")
}

// The gate is on the sheet in place of the middle of the field, and in the record.
func TestTheSheetTellsTheGate(t *testing.T) {
	mapped(t)
	code, out, errs := run(t, handOff("--gate", "-101.6053,35.8925", "--gate", "-90,35")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "  Gate:                       35.892500, -101.605300\n")
	assert.NotContains(t, out, "Middle of the field")
	files := contents(t, "job")
	assert.Contains(t, files["jobsheet.html"], `<dt>Gate</dt><dd><a href="geo:35.892500,-101.605300">35.892500, -101.605300</a></dd>`)
	assert.Contains(t, files["handoff_run.json"], `"gate": "-101.6053,35.8925 -90,35"`)
	for _, wrong := range []string{"35.8925", "200,35", "-101.6,91", "NaN,35", "north,gate"} {
		code, _, errs := run(t, handOff("--gate", wrong)...)
		assert.Equal(t, 2, code, wrong)
		assert.Contains(t, errs, "want longitude,latitude in degrees", wrong)
	}
}

// The ground of a hand-off, dated by its record, is what compare takes.
func TestRecordedGroundServesCompare(t *testing.T) {
	mapped(t)
	code, _, errs := run(t, handOff()...)
	require.Zero(t, code, errs)
	args := []string{"record", "out", "--date", "2026-07-24", "--area", "8.2ha", "--product", "product A=9 L", "--who", "somebody", "--ground", "job/swaths.geojson", "--field"}
	code, _, errs = run(t, append(args, "Corner block")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "no ground of the field")
	code, out, errs := run(t, append(args, "Pivot")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "the ground, for compare --treated: "+filepath.Join("out", "applied_2026-07-24_Pivot.geojson"))
	text, err := os.ReadFile("out/applied_2026-07-24_Pivot.geojson")
	require.NoError(t, err)
	assert.Contains(t, string(text), `"date":"2026-07-24","field":"Pivot","note":"product A: 9 L"`)
	code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "change", "--treated", "out/applied_2026-07-24_Pivot.geojson")
	assert.Zero(t, code, errs)
}

// Swaths that nobody recorded want the day from the person.
func TestSwathsWantTheDayOfTheSpraying(t *testing.T) {
	mapped(t)
	code, _, errs := run(t, handOff("--spray-on", "2026-07-24")...)
	require.Zero(t, code, errs)
	args := []string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "change", "--treated", "job/swaths.geojson"}
	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "does not give its day")
	code, out, errs := run(t, append(args, "--details", "--treated-on", "2026-07-09")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treatment of 2026-07-09")
	assert.NotContains(t, out, "treatment of 2026-07-22")
}

func TestRecordKeepsWhatWasEntered(t *testing.T) {
	mapped(t)
	args := []string{"record", "out", "--date", "2026-07-24", "--field", "Corner block", "--area", "21.9 ac", "--product", "product A (0-0)=95.8 lb", "--who", "somebody", "--wind", "5 mph SW"}
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "applied_2026-07-24_Corner-block.json")
	assert.NotContains(t, out, "geojson", "no ground was given")
	text, err := os.ReadFile("out/applied.csv")
	require.NoError(t, err)
	assert.Equal(t, 2, bytes.Count(text, []byte("\n")))
	var got map[string]any
	text, err = os.ReadFile("out/applied_2026-07-24_Corner-block.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &got))
	assert.Equal(t, 21.9, got["area"])

	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "already")
	for name, c := range map[string]struct{ flag, value, want string }{
		"an unknown field":         {"--field", "Pivott", `"Pivott" is none of this map: it has Pivot, Corner block`},
		"more than it has":         {"--area", "500ha", "is more than field \"Corner block\" has, 9.0"},
		"more acres than hectares": {"--area", "31.9ac", "has, 22.36 ac"},
		"before the count":         {"--date", "2025-07-24", "lies before the count of 2026-07-22"},
	} {
		code, _, errs = run(t, append(args, c.flag, c.value)...)
		assert.Equal(t, 2, code, name)
		assert.Contains(t, errs, c.want, name)
	}
	code, _, errs = run(t, append(args, "--start", "14:00")...)
	require.Zero(t, code, errs)
	assert.Contains(t, strings.Join(names(t, "out"), " "), "applied_2026-07-24_Corner-block_2.json")
	code, _, errs = run(t, "record", "out", "--date", "2026-07-24")
	assert.Equal(t, 2, code, errs)
	code, _, _ = run(t, append([]string{"record", "nowhere"}, args[2:]...)...)
	assert.Equal(t, 1, code)
	code, _, errs = run(t, append([]string{"record", "."}, args[2:]...)...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, ". holds no map, so that nothing was compared with one: record out if this is of the map there")
}

// Zones that were copied away from their map say that ponds are not known; in their
// folder, or given by it, they do not. What was not read is on the sheet of both.
func TestZonesAreHandedOverWithWhatLiesBeside(t *testing.T) {
	mapped(t)
	text, err := os.ReadFile("out/zones.geojson")
	require.NoError(t, err)
	require.NoError(t, os.Mkdir("alone", 0o755))
	require.NoError(t, os.WriteFile("alone/zones.geojson", text, 0o644))
	for from, alone := range map[string]bool{"out": false, "out/zones.geojson": false, "alone/zones.geojson": true} {
		code, out, errs := run(t, "handoff", from, "--swath", "24m", "--out", "job", "--details")
		require.Zero(t, code, errs)
		assert.Equal(t, alone, strings.Contains(out, "Keep-offs: zones.geojson came alone, without closed.geojson or run.json of its map"), from)
		files := contents(t, "job")
		assert.Equal(t, !alone, strings.Contains(files["jobsheet.html"], "not read</li>"), from)
		assert.Equal(t, !alone, strings.Contains(files["handoff_run.json"], `stops.geojson"`), from)
	}
}
