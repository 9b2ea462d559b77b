package cli_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
	"github.com/geocoris/geocoris/internal/testkit"
)

// onScreen runs a command on a screen of so many columns.
func onScreen(t testing.TB, columns int, args ...string) string {
	t.Helper()
	var out, errs strings.Builder
	code := cli.Run(t.Context(), args, cli.Remembering(cli.Streams{Out: &out, Err: &errs, Env: func(name string) string {
		if name == "COLUMNS" {
			return fmt.Sprint(columns)
		}
		return ""
	}}))
	require.Zero(t, code, errs.String())
	return out.String()
}

// A lattice is an invented field, a square of 400 m, with 12 stops in it.
type lattice struct {
	name  string
	count func(stop int) string // of 10 leaves; nil where nobody walked
}

func alike(n int) func(int) string {
	return func(i int) string { return fmt.Sprint(n + i%4*n/20) }
}

// lattices writes fields in two rows into farm.geojson and their counts into farm.csv.
func lattices(t testing.TB, fields []lattice) []string {
	t.Helper()
	t.Chdir(t.TempDir())
	const degree = 111_320.0
	var features []string
	counts := "stop,longitude,latitude,count,leaves,date,pest\n"
	for k, f := range fields {
		x, y := float64(k%6)*500, float64(k/6)*500
		w, s, e, n := x/degree, y/degree, (x+400)/degree, (y+400)/degree
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[[[%.7[2]f,%.7[3]f],[%.7[4]f,%.7[3]f],[%.7[4]f,%.7[5]f],[%.7[2]f,%.7[5]f],[%.7[2]f,%.7[3]f]]]}}`, f.name, w, s, e, n))
		for i := 0; f.count != nil && i < 12; i++ {
			counts += fmt.Sprintf("%d,%.7f,%.7f,%s,10,2031-08-14,sorghum aphid\n", 12*k+i+1, (x+60+float64(i%4)*93)/degree, (y+70+float64(i/4)*130)/degree, f.count(i))
		}
	}
	require.NoError(t, os.WriteFile("farm.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`), 0o600))
	require.NoError(t, os.WriteFile("farm.csv", []byte(counts), 0o600))
	return []string{"map", "farm.csv", "--field", "farm.geojson", "--out", "out"}
}

func twelve() []lattice {
	half := func(i int) string { return fmt.Sprint(map[bool]int{true: 900 + 40*i}[i%4 < 2]) }
	one := func(i int) string { return fmt.Sprint(map[bool]int{true: 900}[i == 0]) }
	typo := func(i int) string { return map[bool]string{true: "1O0", false: "20"}[i == 3] }
	return []lattice{
		{"North 1", alike(0)}, {"North 2", alike(12)}, {"North 3", alike(700)}, {"North 4", half}, {"Crest", alike(8)}, {"Home", alike(150)},
		{"South 1", one}, {"South 2", alike(4)}, {"South 3", alike(450)}, {"South 4", typo}, {"Long Meadow by the Grain Bins", alike(0)}, {"Far", nil},
	}
}

// later writes later.csv: the counts of farm.csv a week on, half as much again but in
// fields of the south, which held half.
func later(t testing.TB) {
	t.Helper()
	text, err := os.ReadFile("farm.csv")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	for i, line := range lines[1:] {
		cells := strings.Split(line, ",")
		if n, err := strconv.Atoi(cells[3]); err == nil {
			cells[3] = fmt.Sprint(map[bool]int{true: n * 3 / 2, false: n / 2}[i < 72])
		}
		cells[5] = "2031-08-21"
		lines[i+1] = strings.Join(cells, ",")
	}
	require.NoError(t, os.WriteFile("later.csv", []byte(strings.Join(lines, "\n")+"\n"), 0o600))
}

// screens are the short screens that goldens keep, by the columns and what sets them up.
func screens() map[string]func(t testing.TB, columns int) string {
	demo := func(args ...string) func(t testing.TB, columns int) string {
		return func(t testing.TB, columns int) string {
			inFolder(t)
			return onScreen(t, columns, args...)
		}
	}
	of := func(fields ...lattice) func(t testing.TB, columns int) string {
		return func(t testing.TB, columns int) string { return onScreen(t, columns, lattices(t, fields)...) }
	}
	return kept(map[string]func(t testing.TB, columns int) string{
		"week1": demo(week("1")...), "week2": demo(week("2")...), "week3_us": demo(week("3", "--units", "us")...),
		"clean": of(lattice{"Clean", alike(3)}), "hot": of(lattice{"Hot", alike(700)}), "twelve": of(twelve()...),
		"handoff": func(t testing.TB, columns int) string {
			mapped(t)
			return onScreen(t, columns, append([]string{"handoff", "out", "--swath", "24m", "--out", "job"}, everything...)...)
		},
		"plan": demo("plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "20", "--edge", "3", "--out", "out"),
		"handoff_twelve": func(t testing.TB, columns int) string {
			onScreen(t, columns, lattices(t, twelve())...)
			return onScreen(t, columns, "handoff", "out", "--swath", "24m", "--out", "job", "--against-verdict")
		},
		"compare_twelve": func(t testing.TB, columns int) string {
			lattices(t, twelve())
			later(t)
			return onScreen(t, columns, "compare", "farm.csv", "later.csv", "--field", "farm.geojson", "--out", "out")
		},
		"compare": demo("compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "out"),
		"sprayed": acrossASpray(),
	})
}

// shown are the screens in English that a test has seen, by their columns and names.
var shown = map[string]string{}

// kept makes each screen once, for all tests; the working folder is that of who asked first.
func kept(screens map[string]func(t testing.TB, columns int) string) map[string]func(t testing.TB, columns int) string {
	for name, make := range screens {
		screens[name] = func(t testing.TB, columns int) string {
			key := fmt.Sprint(columns, " ", name)
			if _, seen := shown[key]; !seen {
				shown[key] = make(t, columns)
			}
			return shown[key]
		}
	}
	return screens
}

// acrossASpray is the screen of a comparison across a treatment.
func acrossASpray(more ...string) func(t testing.TB, columns int) string {
	return func(t testing.TB, columns int) string {
		inFolder(t)
		sprayedGround(t)
		return onScreen(t, columns, append([]string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "out", "--treated", "sprayed.geojson", "--treated-on", "2026-07-10", "--forecast", "2026-07-22"}, more...)...)
	}
}

// sprayedGround writes the western half of the demonstration's first field.
func sprayedGround(t testing.TB) {
	t.Helper()
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(`{"type":"Polygon","coordinates":[[[-101.62,35.89],[-101.6,35.89],[-101.6,35.91],[-101.62,35.91],[-101.62,35.89]]]}`), 0o600))
}

// The short screens at two widths, outside CI at one: none of their lines is wider, and all
// fits the goldens.
func TestShortScreens(t *testing.T) {
	for name, make := range screens() {
		for _, columns := range []int{80, 60}[:testkit.Few(2, 1)] {
			t.Run(fmt.Sprintf("%s_%d", name, columns), func(t *testing.T) {
				out := make(t, columns)
				for _, line := range strings.Split(out, "\n") {
					if !strings.HasPrefix(line, "  geocoris ") { // a command is copied whole
						assert.LessOrEqual(t, utf8.RuneCountInString(line), columns, line)
					}
				}
				assert.NotContains(t, out, "\x1b", "no colours where it is no terminal")
				assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", fmt.Sprintf("screen_%s_%d.txt", name, columns)), []byte(out))), out)
			})
		}
	}
}

// Without a number of columns given, a screen is as wide as one of 80.
func TestAScreenOfWhichNothingIsKnown(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.Equal(t, onScreen(t, 80, week("2")...), out)
	assert.NotEqual(t, onScreen(t, 60, week("2")...), out)
}

// Words that people who do not work with maps need not know are not read first.
// Outside CI some of the screens are read, which takes each command once more.
func TestShortScreensAreEasyToRead(t *testing.T) {
	all := screens()
	for i, name := range slices.Sorted(maps.Keys(all)) {
		if i%3 != 1 && !testkit.Strict() { // of map, compare, handoff and what was sprayed one each
			continue
		}
		t.Run(name, func(t *testing.T) {
			text := unlabelled(all[name](t, 4000))
			testkit.AssertReads(t, text, 9, 25)
			for _, word := range []string{"foretold", "held against", "mend", "leave-one-out", "skill", "threshold", "confidence", "p 0"} {
				assert.NotContains(t, text, word)
			}
		})
	}
}

// unlabelled are the sentences of a screen so wide that nothing is wrapped: a word before a
// colon is a label.
func unlabelled(out string) string {
	var sentences []string
	for _, line := range strings.Split(out, "\n") {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "Files in ") || strings.HasPrefix(line, "Archivos en ") {
			continue
		}
		for _, label := range []string{"Why: ", "How sure: ", "Look out: ", "What changed: ", "Did the spray work: ", "Forecast, not a count: ", "Keep off: ", "Tank: ", "Note: ",
			"Por qué: ", "Qué tan seguro: ", "Ojo: ", "Qué cambió: ", "Sirvió la aplicación: ", "Pronóstico, no cuenta: ", "Nota: "} {
			line = strings.TrimPrefix(line, label)
		}
		sentences = append(sentences, line)
	}
	return strings.Join(sentences, "\n")
}

// Three fields begin with a table, two do not; the worst is first.
func TestManyFieldsBeginWithATable(t *testing.T) {
	two := onScreen(t, 80, lattices(t, twelve()[:2])...)
	assert.NotContains(t, two, "look again  ")
	three := onScreen(t, 80, lattices(t, twelve()[:3])...)
	at := func(text string) int {
		i := strings.Index(three, text)
		require.GreaterOrEqual(t, i, 0, text)
		return i
	}
	assert.Less(t, at("North 3"), at("North 1"), "the worst first")
	assert.Contains(t, three, "North 3, 15.9 ha (39.3 ac), 12 stops used\n  Spray the whole field")
	assert.NotContains(t, three, "North 1, 15.9 ha", "nothing is to be done in it")
}

// Below the table it says why a field is left in which a stop is at the spray level.
func TestTheTableSaysWhyAHotFieldIsLeft(t *testing.T) {
	warm := func(i int) string { return fmt.Sprint(map[bool]int{true: 412, false: 90 + i%4*60}[i == 5]) }
	screen := onScreen(t, 200, lattices(t, []lattice{{"East 40", warm}, {"Hill", alike(0)}, {"Home", alike(700)}})...)
	require.Contains(t, screen, "East 40  do not spray yet")
	assert.Contains(t, screen, "\nEast 40: 1 stop is at or over the spray level, but spraying is not clearly worth it.\n")
	assert.NotContains(t, screen, "\nHill: ")
}

// So does a comparison of three fields; what needs nothing stands in the table alone.
func TestAComparisonOfManyFieldsBeginsWithATable(t *testing.T) {
	compared := func(fields int) string {
		lattices(t, twelve()[:fields])
		later(t)
		return onScreen(t, 80, "compare", "farm.csv", "later.csv", "--field", "farm.geojson", "--out", "out")
	}
	assert.NotContains(t, compared(2), "go back by  ")
	three := compared(3)
	assert.Regexp(t, `(?s)field +average a leaf +red ha +go back by +visits\nNorth 3 .*\nNorth 2 .*\nNorth 1 .*\n\nNorth 3, 15\.9 ha`, three, "the worst first")
	assert.NotContains(t, three, "North 1, 15.9 ha", "nothing is to be done in it")
}

// What --json prints and what files hold is the same whatever the screen.
func TestAShortScreenChangesNoFile(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	before := contents(t, "out")
	code, out, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.Equal(t, before, contents(t, "out"))
	assert.Contains(t, out, "  verdict: spot spray 5.17 ha (12.8 ac), the treat zone; look again on 2026-07-18 if not sprayed by then\n")
}
