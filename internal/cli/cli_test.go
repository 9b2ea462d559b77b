package cli_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/testdata/demo"
)

// run runs a command as the program would.
func run(t testing.TB, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = cli.Run(t.Context(), args, cli.Remembering(cli.Streams{Out: &o, Err: &e}))
	return code, o.String(), e.String()
}

// inFolder makes a folder of its own the working one, with the demonstration
// data in it.
func inFolder(t testing.TB) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.CopyFS(".", demo.Files()))
}

// folders are those that tests have made, by their names, to be copied for the next.
var folders = map[string]fstest.MapFS{}

// madeOnce makes a folder of its own the working one, with what the first test that asks for
// it makes there.
func madeOnce(t testing.TB, name string, make func()) {
	t.Helper()
	if made, known := folders[name]; known {
		t.Chdir(t.TempDir())
		require.NoError(t, os.CopyFS(".", made))
		return
	}
	make()
	made := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(os.DirFS("."), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		made[path] = &fstest.MapFile{Data: content, Mode: 0o644}
		return err
	}))
	folders[name] = made
}

func week(n string, more ...string) []string {
	return append([]string{"map", "week" + n + ".csv", "--field", "field.geojson", "--out", "out"}, more...)
}

func names(t testing.TB, folder string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if os.IsNotExist(err) {
		return nil
	}
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

var written = []string{"run.json", "stops.geojson", "summary.json", "zones.geojson", "zones.kml", "zones.kmz"}

func contents(t testing.TB, folder string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range names(t, folder) {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		out[name] = string(data)
	}
	return out
}

func TestScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"week2":     week("2", "--details"),
		"week3_us":  week("3", "--details", "--units", "us", "--margin", "15", "--tune"),
		"week1_own": week("1", "--details", "--units", "metric", "--treat-at", "2", "--watch-at", "0.5", "--neighbors", "all", "--pest", "sorghum aphid"),
		"help":      {"--help"},
		"help_map":  {"map", "--help"},
		"help_demo": {"demo", "--help"},
		"help_site": {"site", "--help"},

		"help_serve": {"serve", "--help"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
			for _, line := range strings.Split(out, "\n") {
				assert.LessOrEqual(t, len([]rune(line)), 145, line)
			}
		})
	}
}

func TestMapWritesAllFilesAndTheSameAgain(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.Equal(t, written, names(t, "out"))
	first := contents(t, "out")
	code, _, errs = run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "out"))
	assert.NotContains(t, strings.Join(names(t, "."), " "), ".geocoris", "nothing is left beside the folder")

	code, _, errs = run(t, week("3")...)
	require.Zero(t, code, errs)
	assert.NotEqual(t, first["zones.geojson"], contents(t, "out")["zones.geojson"], "another week takes its place")
}

func TestJSONIsTheSummary(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("3", "--json")...)
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "out")["summary.json"], out)
	var s struct {
		Rows   struct{ Read, Used, Set_aside int }
		Fields []struct {
			Field   string
			Area_ha float64
			Zones   []struct {
				Zone    string
				Area_ha float64
				Share   float64
				Stops   int
			}
		}
		Problems []struct {
			Line int
			Mend string
		}
		Stops_set_aside []struct{ Stop string }
		Cautions        []string
	}
	require.NoError(t, json.Unmarshal([]byte(out), &s))
	assert.Equal(t, s.Rows.Read, s.Rows.Used+s.Rows.Set_aside)
	assert.Equal(t, 3, s.Rows.Set_aside)
	assert.Len(t, s.Problems, 2)
	assert.Len(t, s.Stops_set_aside, 1)
	assert.NotEmpty(t, s.Cautions)
	for _, f := range s.Fields {
		var ha, share float64
		for _, z := range f.Zones {
			ha, share = ha+z.Area_ha, share+z.Share
		}
		assert.InDelta(t, f.Area_ha, ha, 2e-4, "rounded to a square metre each")
		assert.InDelta(t, 1, share, 2e-4)
	}
}

func TestQuietPrintsNothing(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2", "--quiet")...)
	assert.Zero(t, code)
	assert.Empty(t, out+errs)
	assert.Equal(t, written, names(t, "out"))
}

func TestStrict(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2", "--strict")...)
	assert.Zero(t, code, errs)
	code, out, errs := run(t, week("3", "--details", "--strict")...)
	assert.Equal(t, 3, code)
	assert.Contains(t, errs, "done, but 3 rows were set aside")
	assert.Contains(t, out, "week3.csv:10")
	assert.Equal(t, written, names(t, "out"), "the files are there all the same")
}

// Each case: what is asked, the exit code, and what the one line says. Nothing
// may be left in the folder.
func TestRefusals(t *testing.T) {
	write := func(t *testing.T, name, text string) {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	const head = "stop,longitude,latitude,count,pest\n"
	for name, c := range map[string]struct {
		file string // text of bad.csv
		args []string
		code int
		want string
	}{
		"no such command":     {"", []string{"mop"}, 2, `unknown command "mop"`},
		"no such flag":        {"", week("2", "--treet-at", "3"), 2, "unknown flag: --treet-at"},
		"no samples":          {"", []string{"map", "--field", "field.geojson", "--out", "out"}, 2, "no counts given"},
		"no field":            {"", []string{"map", "week2.csv", "--out", "out"}, 2, "--field is missing"},
		"no out":              {"", []string{"map", "week2.csv", "--field", "field.geojson"}, 2, "--out is missing"},
		"no number":           {"", week("2", "--cell", "wide"), 2, "--cell wide: want a number"},
		"a decimal comma":     {"", week("2", "--cell", "12,5"), 2, "--cell 12,5: want a number"},
		"a negative number":   {"", week("2", "--margin", "-3"), 2, "margin -3"},
		"no neighbors":        {"", week("2", "--neighbors", "0"), 2, "want a number of 1 or more, or all"},
		"no such units":       {"", week("2", "--units", "cubits"), 2, "want us or metric"},
		"too much power":      {"", week("2", "--power", "99"), 2, "power 99"},
		"no such samples":     {"", week("4"), 1, "week4.csv is not there"},
		"samples as field":    {"", []string{"map", "week2.csv", "--field", "week2.csv", "--out", "out"}, 1, "week2.csv: holds counts and no outline of a field"},
		"field as samples":    {"", []string{"map", "field.geojson", "--field", "field.geojson", "--out", "out"}, 1, "field.geojson:"},
		"another pest":        {head + "a,-101.6,35.9,3,greenbug\n", []string{"map", "bad.csv", "--field", "field.geojson", "--out", "out"}, 1, `no level is known for "greenbug": give --treat-at`},
		"two pests":           {head + "a,-101.6,35.9,3,greenbug\nb,-101.6,35.9,3,thrips\n", []string{"map", "bad.csv", "--field", "field.geojson", "--out", "out"}, 1, "choose one with --pest"},
		"another farm":        {head + "a,10,50,3,\n", []string{"map", "bad.csv", "--field", "field.geojson", "--out", "out"}, 1, "is this the right boundary"},
		"no usable row":       {head + "a,-101.6,35.9,,\n", []string{"map", "bad.csv", "--field", "field.geojson", "--out", "out"}, 1, `bad.csv:2: count "": is blank`},
		"watch above treat":   {"", week("2", "--watch-at", "50"), 1, "below the treat level 40"},
		"both the wrong way":  {"", week("2", "--treat-at", "10", "--watch-at", "20"), 2, "watch-at 20: want it below treat-at, which is 10"},
		"a cell too small":    {"", week("2", "--cell", "0.001"), 1, "give a larger --cell"},
		"a share not given":   {"", week("1", "--tally", "1", "--treat-at", "20", "--watch-at", "5"), 1, "week1.csv:2: stop 1 counts several leaves on one row"},
		"no such settings":    {"", week("2", "--settings", "none.toml"), 1, "none.toml is not there"},
		"a folder for demo":   {"", []string{"demo"}, 2, "demo: FOLDER is missing"},
		"demo over its own":   {"", []string{"demo", "."}, 1, "is there already"},
		"out is a file":       {"", []string{"map", "week2.csv", "--field", "field.geojson", "--out", "week1.csv"}, 1, "week1.csv"},
		"out holds others":    {"", []string{"map", "week2.csv", "--field", "field.geojson", "--out", "."}, 1, "holds other files, such as"},
		"the data's own name": {"", []string{"map", "week2.csv", "--field", "other/zones.geojson", "--out", "other"}, 1, "would be overwritten by its own result"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			if c.file != "" {
				write(t, "bad.csv", c.file)
			}
			field, err := os.ReadFile("field.geojson")
			require.NoError(t, err)
			require.NoError(t, os.Mkdir("other", 0o700))
			write(t, "other/zones.geojson", string(field))
			before := names(t, ".")
			code, out, errs := run(t, c.args...)
			assert.Equal(t, c.code, code, errs)
			assert.Empty(t, out)
			assert.Contains(t, errs, c.want)
			assert.Equal(t, before, names(t, "."), "a failed run leaves no file")
			assert.NotContains(t, errs, "Usage:")
			line := lastError(errs)
			assert.True(t, strings.HasPrefix(line, "geocoris: "), errs)
		})
	}
}

// lastError is the line that says what went wrong, before the hint.
func lastError(errs string) string {
	lines := strings.Split(strings.TrimSpace(errs), "\n")
	if last := lines[len(lines)-1]; !strings.HasPrefix(last, "hint: ") {
		return last
	}
	return lines[len(lines)-2]
}

func TestForceWritesBesideOtherFiles(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, "map", "week2.csv", "--field", "field.geojson", "--out", ".", "--force")
	require.Zero(t, code, errs)
	assert.Subset(t, names(t, "."), append([]string{"week2.csv"}, written...))
}

func TestSettingsFile(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.Mkdir("farm", 0o700))
	write := func(text string) {
		require.NoError(t, os.WriteFile("farm/settings.toml", []byte(text), 0o600))
	}
	write("field = \"../field.geojson\" # from this file's folder\nout = \"../out\"\ntreat-at = 50\nwatch-at = 20.5\nneighbors = 8\nsimplify = 0\nunits = \"us\"\ntune = false\n")
	code, out, errs := run(t, "map", "week2.csv", "--details", "--settings", "farm/settings.toml", "--watch-at", "25")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treat at 50: given")
	assert.Contains(t, out, "watch at 25: given", "a flag goes before the file")
	assert.Contains(t, out, "8 nearest")
	var record struct {
		Inputs   []struct{ Path, SHA256 string }
		Settings map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &record))
	assert.Equal(t, 25.0, record.Settings["watch-at"])
	assert.Equal(t, "8", record.Settings["neighbors"])
	assert.Equal(t, 0.0, record.Settings["simplify"])
	assert.Nil(t, record.Settings["min-area"])
	require.Len(t, record.Inputs, 3)
	assert.Equal(t, "week2.csv", record.Inputs[0].Path)
	assert.Len(t, record.Inputs[0].SHA256, 64)

	for text, want := range map[string]string{
		"treat-at = 50\n\nwach-at = 20\n":    `settings.toml:3:1: no setting is called "wach-at"`,
		"[levels]\ntreat-at = 50\n":          `no setting is called "levels`,
		"treat-at = \"high\"\n":              "settings.toml:1:12: treat-at: want a number",
		"treat-at = 12,5\n":                  "settings.toml:1:14: treat-at: write 12.5, with a point",
		"inner = \"pond\"\n":                 "settings.toml:1:9: inner: want hole or field",
		"utc-offset = \"west\"\n":            "settings.toml:1:14: utc-offset: utc offset",
		"[verdict]\nleast-stops = 4.5\n":     "settings.toml:2:15: verdict.least-stops: want a whole number",
		"neighbors = 0\n":                    "want a number of 1 or more, or all",
		"treat-at = 50\ntreat-at = 60\n":     "settings.toml:",
		"units = \"cubits\"\n":               "want us or metric",
		"treat-at = 50\ncell = = 3\n":        "settings.toml:2:",
		"force = true\n":                     `no setting is called "force"`,
		"min-area = -5\n":                    "min-area -5",
		"neighbors = \"all\"\nradius = -1\n": "radius -1",
	} {
		write(text)
		code, _, errs := run(t, append(week("2"), "--settings", "farm/settings.toml")...)
		assert.NotZero(t, code, text)
		assert.Contains(t, errs, want, text)
	}
	write("neighbors = \"all\"\n")
	code, out, errs = run(t, append(week("2", "--details"), "--settings", "farm/settings.toml")...)
	assert.Zero(t, code, errs)
	assert.Contains(t, out, "all stops")
}

func TestVersionAndCompletion(t *testing.T) {
	code, out, _ := run(t, "--version")
	assert.Zero(t, code)
	assert.True(t, strings.HasPrefix(out, "geocoris "), out)
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		code, out, errs := run(t, "completion", shell)
		assert.Zero(t, code, errs)
		assert.Contains(t, out, "geocoris")
	}
}

func BenchmarkMapMorning(b *testing.B) {
	inFolder(b)
	for b.Loop() {
		if code, _, errs := run(b, week("2")...); code != 0 {
			b.Fatal(errs)
		}
	}
}
