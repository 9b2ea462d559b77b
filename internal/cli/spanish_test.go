package cli_test

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// spanishScreens are short screens in Spanish, by their names among [screens].
func spanishScreens() map[string]func(t testing.TB, columns int) string {
	spanish := func(args ...string) []string { return append(args[:len(args):len(args)], "--language", "es") }
	demo := func(args ...string) func(t testing.TB, columns int) string {
		return func(t testing.TB, columns int) string {
			inFolder(t)
			return onScreen(t, columns, spanish(args...)...)
		}
	}
	return map[string]func(t testing.TB, columns int) string{
		"handoff": func(t testing.TB, columns int) string {
			mapped(t)
			return onScreen(t, columns, spanish(append([]string{"handoff", "out", "--swath", "24m", "--out", "job"}, everything...)...)...)
		},
		"handoff_twelve": func(t testing.TB, columns int) string {
			onScreen(t, columns, lattices(t, twelve())...)
			return onScreen(t, columns, spanish("handoff", "out", "--swath", "24m", "--out", "job", "--against-verdict")...)
		},
		"compare_twelve": func(t testing.TB, columns int) string {
			lattices(t, twelve())
			later(t)
			return onScreen(t, columns, spanish("compare", "farm.csv", "later.csv", "--field", "farm.geojson", "--out", "out")...)
		},
		"week1": demo(week("1")...), "week2": demo(week("2")...), "week3_us": demo(week("3", "--units", "us")...),
		"twelve": func(t testing.TB, columns int) string {
			return onScreen(t, columns, spanish(lattices(t, twelve())...)...)
		},
		"compare": demo("compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "out"),
		"sprayed": acrossASpray("--language", "es"),
	}
}

// words of English that Spanish has not; names of files, columns and flags, and notes of
// rows, are not asked.
var (
	englishWords = regexp.MustCompile(`(?i)\b(the|of|and|to|is|are|or|at|by|spray|stops?|ground|watch|look|days?|leaf|not|red|used|mean|map)\b`)
	unasked      = regexp.MustCompile(`(?m)^  geocoris .*$|^(Archivos en|Nota:)(.|\n  )*$|--[a-z-]+|[\w./]+\.(csv|geojson|kml|kmz|json|gpx|html|pdf|zip)\b|\b(North|South|Long Meadow by the\s+Grai(?:n Bins)?|Corner block)\b`)
	figure       = regexp.MustCompile(`\d[\d.,:]*\d|\d`)
)

func TestScreensInSpanish(t *testing.T) {
	english := screens()
	for name, make := range spanishScreens() {
		t.Run(name, func(t *testing.T) {
			out := make(t, 80)
			assertSpanish(t, english[name](t, 80), out)
			for _, line := range strings.Split(out, "\n") {
				if !strings.HasPrefix(line, "  geocoris ") { // a command is copied whole
					assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
				}
			}
			if testkit.Strict() { // it takes the command once more
				read := testkit.ReadingOf(unlabelled(make(t, 4000)))
				assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
			}
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", fmt.Sprintf("screen_es_%s.txt", name)), []byte(out))), out)
		})
	}
}

// assertSpanish asserts that a text has the figures of the same in English, and none of
// its words.
func assertSpanish(t *testing.T, english, spanish string) {
	t.Helper()
	figures := func(text string) []string {
		all := figure.FindAllString(text, -1)
		slices.Sort(all)
		return all
	}
	assert.Equal(t, figures(english), figures(spanish))
	rest := unasked.ReplaceAllString(spanish, "")
	for _, at := range englishWords.FindAllStringIndex(rest, -1) {
		assert.Fail(t, "a word in English", "%q", rest[max(0, at[0]-40):min(len(rest), at[1]+40)])
	}
}

// What the tally says has the same figures, from the first stop to the last, and so has
// the card that is carried.
func TestTheTallyInSpanish(t *testing.T) {
	walk := strings.Repeat("3/10\n0/10\n9/10\n", 12)
	for name, c := range map[string]struct {
		in   string
		args []string
	}{
		"typed":  {"0 60 12 55\n+1/6\n+2 3 4 5 6 7\n" + strings.Repeat("6/10\n7/10\n", 7), []string{"tally", "--plan", "sorghum-tally-50", "--independent"}},
		"long":   {strings.Repeat("2/10\n", 3) + walk, []string{"tally", "--plan", "sorghum-tally-50"}},
		"under":  {strings.Repeat("0/10\n", 20), []string{"tally", "--plan", "sorghum-tally-50", "--planned", "18"}},
		"counts": {strings.Repeat("12/10\n80/10\n0/10\n", 8), []string{"tally", "--counts", "negative-binomial", "--low", "25", "--high", "60", "--k", "0.5"}},
		"mean":   {strings.Repeat("12/10\n80/10\n0/10\n", 9), []string{"tally", "--taylor", "2.586,1.511", "--precision", "0.25"}},
		"card":   {"", []string{"tally", "--plan", "wheat-tiller-giles", "--card", "--independent", "--most", "8", "--unit", "tiller"}},
	} {
		t.Run(name, func(t *testing.T) {
			said := map[string]string{}
			for _, language := range []string{"en", "es"} {
				code, out, errs := typed(t, c.in, append(c.args[:len(c.args):len(c.args)], "--language", language)...)
				require.Zero(t, code, errs)
				said[language] = out
			}
			spanish := cited.ReplaceAllString(said["es"], "")
			assertSpanish(t, cited.ReplaceAllString(said["en"], ""), spanish)
			read := testkit.ReadingOf(spanish)
			assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", fmt.Sprintf("tally_es_%s.txt", name)), []byte(said["es"]))), said["es"])
		})
	}
}

// What is looked over before the map, practised, kept and recorded is said in both
// languages, with the same figures; notes stay English.
func TestTheOtherCommandsInSpanish(t *testing.T) {
	const pairs = "observer,estimated,counted\nA,40,50\nA,90,120\nA,10,9\nA,5,6\nA,200,260\nA,30,33\nA,15,21\nA,70,90\nA,120,150\nA,300,420\nB,20,15\n"
	rows := "stop,longitude,latitude,count,leaves,date,time\n1,-101.6,35.9,5,10,2026-07-15,06:40\n2,-101.601,35.901,x,10,2026-07-15,06:50\n3,-101.602,35.9,-4,10,2026-07-15,06:30\n" +
		"4,-101.599,35.9,7,2,2026-07-15,07:00\n5,-101.598,35.9,8,10,2026-07-14,07:10\n6,0,0,3,10,2026-07-15,07:20\n7,-101.598,35.901,,10,2026-07-15,07:30\n,-101.597,35.9,3,10,2026-07-15,07:40\n"
	applied := []string{"record", "out", "--date", "2026-07-17", "--field", "Pivot", "--area", "31.9ac", "--product", "product A=95.8 lb", "--who", "the applicator"}
	for name, c := range map[string][][]string{ // the last is looked at
		"check":       {{"check", "week3.csv", "--field", "field.geojson"}},
		"check_fixed": {{"check", "week3.csv", "--field", "field.geojson", "--fix", "swap", "--out", "checked"}},
		"check_rows":  {{"check", "rows.csv", "--field", "field.geojson"}},
		"calibrate":   {{"calibrate", "pairs.csv", "--out", "eyes"}},
		"drill":       {{"calibrate", "drill", "--out", "drill"}},
		"season_add":  {{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson"}},
		"season_list": {{"season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson"}, {"season", "list", "s.gpkg"}},
		"season_show": {{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson"}, {"season", "show", "s.gpkg"}},
		"record":      {week("2"), applied},
	} {
		t.Run(name, func(t *testing.T) {
			said := map[string]string{}
			for _, language := range []string{"en", "es"} {
				inFolder(t)
				require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o600))
				require.NoError(t, os.WriteFile("rows.csv", []byte(rows), 0o600))
				for i, args := range c {
					if i == len(c)-1 {
						args = append(args[:len(args):len(args)], "--language", language)
					}
					code, out, errs := run(t, args...)
					require.Zero(t, code, errs)
					said[language] = out
				}
			}
			assertSpanish(t, inEnglish.ReplaceAllString(said["en"], ""), quoted.ReplaceAllString(said["es"], `: "`))
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", fmt.Sprintf("other_es_%s.txt", name)), []byte(said["es"]))), said["es"])
		})
	}
}

// inEnglish are notes on files, which are not in Spanish.
var inEnglish = regexp.MustCompile(`(?m)^note: .*$`)

// quoted are the names of columns and what stands in a cell, as the file has them, and
// names of rules and people.
var quoted = regexp.MustCompile(`(?m)^nota: .*$|: (count|longitude|time|date|leaves|stop) "`)

// The page to practise on is in both languages, and its script says nothing in English.
func TestTheDrillInSpanish(t *testing.T) {
	inFolder(t)
	pages := map[string]string{}
	for _, language := range []string{"en", "es"} {
		code, _, errs := run(t, "calibrate", "drill", "--out", language, "--language", language)
		require.Zero(t, code, errs)
		pages[language] = contents(t, language)["drill.html"]
	}
	assert.Contains(t, pages["es"], `<html lang="es">`)
	assertSpanish(t, testkit.PageText(t, pages["en"]), strings.ReplaceAll(testkit.PageText(t, pages["es"]), "geocoris calibrate pairs.csv", ""))
	inScript := regexp.MustCompile(`textContent = (?:filled\()?("(?:[^"\\]|\\.)*")`)
	texts := map[string][]string{}
	for language, page := range pages {
		for _, m := range inScript.FindAllStringSubmatch(page, -1) {
			texts[language] = append(texts[language], m[1])
		}
	}
	require.Len(t, texts["en"], 8)
	require.Len(t, texts["es"], 8)
	for i, text := range texts["en"] {
		if text != `""` {
			assert.NotEqual(t, text, texts["es"][i])
		}
	}
}

// The plan's screen and its sheet say the same in both languages.
func TestThePlanInSpanish(t *testing.T) {
	for name, more := range map[string][]string{"plan": {"--stops", "20", "--edge", "3"}, "plan_way": {"--stops", "12", "--one-way"}} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			screen, sheet := map[string]string{}, map[string]string{}
			for _, language := range []string{"en", "es"} {
				code, out, errs := run(t, append([]string{"plan", "--field", "field.geojson", "--only", "Pivot", "--out", language, "--pest", "sorghum aphid", "--language", language}, more...)...)
				require.Zero(t, code, errs)
				screen[language] = strings.ReplaceAll(out, " in "+language, " in walk")
				files := contents(t, language)
				sheet[language] = files["sheet.html"]
				assert.NotContains(t, files["stops.csv"], "punto", "the table stays as the map reads it")
			}
			assertSpanish(t, screen["en"], screen["es"])
			english, spanish := testkit.PageText(t, sheet["en"]), testkit.PageText(t, sheet["es"])
			assertSpanish(t, english, spanish)
			assert.Contains(t, sheet["es"], `<html lang="es">`)
			read := testkit.ReadingOf(spanish)
			assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+"_es.txt"), []byte(screen["es"]+"\n"+spanish))), screen["es"]+"\n"+spanish)
		})
	}
}

// Pictures have the same figures in both languages; where a level comes from is cited as
// it is. Of those that are not read here CI alone sees that they are drawn; outside it two
// maps do.
func TestPicturesInSpanish(t *testing.T) {
	for name, args := range map[string][]string{"week2": week("2"), "week3_us": week("3", "--units", "us"), "chance": week("2", "--surface", "chance"), "loss": week("2", "--surface", "loss"), "twelve": nil} {
		if name != "week3_us" && name != "twelve" && testkit.Few(1, 0) == 0 {
			continue
		}
		t.Run(name, func(t *testing.T) {
			drawn := map[string]map[string]string{}
			for _, language := range []string{"en", "es"} {
				line := slices.Clone(args)
				if args == nil {
					line = lattices(t, twelve())
				} else {
					inFolder(t)
				}
				drawing := []string{"map.svg", "map.png", "map.pdf"}
				code, _, errs := run(t, append(line, "--write", strings.Join(drawing[:testkit.Few(3, 1)], ","), "--language", language)...)
				require.Zero(t, code, errs)
				drawn[language] = map[string]string{}
				for file, text := range contents(t, "out") {
					if strings.HasSuffix(file, ".svg") {
						drawn[language][file] = inPicture(text)
					}
				}
			}
			require.NotEmpty(t, drawn["es"])
			var all []string
			for file, spanish := range drawn["es"] {
				assertSpanish(t, cutFrom.ReplaceAllString(drawn["en"][file], ""), cutFrom.ReplaceAllString(spanish, ""))
				all = append(all, file+"\n"+spanish+"\n")
			}
			slices.Sort(all)
			got := strings.Join(all, "\n")
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", fmt.Sprintf("picture_es_%s.txt", name)), []byte(got))), got)
		})
	}
}

var (
	pictureText = regexp.MustCompile(`(?s)<(?:text|title|desc)[^>]*>(.*?)</(?:text|title|desc)>`)
	// where levels come from, and what a picture was made from
	cutFrom = regexp.MustCompile(`(?s)\n(Spray at|Aplique desde) .*?(Thresholds differ|Los umbrales cambian)|\n(From|De) [^\n]*geocoris[^\n]*`)
)

// inPicture are the texts of an SVG, a line each.
func inPicture(svg string) string {
	var lines []string
	for _, m := range pictureText.FindAllStringSubmatch(svg, -1) {
		lines = append(lines, html.UnescapeString(m[1]))
	}
	return strings.Join(lines, "\n")
}

// cited are sources, and names of plans, which are not translated.
var cited = regexp.MustCompile(`(?m)^  (source|fuente): .*$|sorghum-tally-50|wheat-tiller-giles`)

// Names and descriptions on maps in KML have the same figures in both languages; where a
// level comes from is cited as it is.
func TestKMLInSpanish(t *testing.T) {
	for name, args := range map[string][]string{
		"zones.kml":  week("2"),
		"change.kml": {"compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "out", "--forecast", "2026-07-29"},
	} {
		t.Run(name, func(t *testing.T) {
			said := map[string]string{}
			for _, language := range []string{"en", "es"} {
				inFolder(t)
				code, _, errs := run(t, append(args[:len(args):len(args)], "--language", language)...)
				require.Zero(t, code, errs)
				var texts []string
				for _, m := range namedInKML.FindAllStringSubmatch(contents(t, "out")[name], -1) {
					texts = append(texts, html.UnescapeString(m[1]))
				}
				require.NotEmpty(t, texts)
				said[language] = levelInKML.ReplaceAllString(strings.Join(texts, "\n\n"), "")
			}
			assertSpanish(t, said["en"], said["es"])
			read := testkit.ReadingOf(said["es"])
			assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
		})
	}
}

var (
	namedInKML = regexp.MustCompile(`(?s)<(?:name|description)>(.*?)</(?:name|description)>`)
	levelInKML = regexp.MustCompile(`(?m)^(Spray level|Nivel de aplicación|Spray at|Aplique desde)\b.*$|Corner block|(?:not read|sin leer): [^\n]*`)
)

// The language is a setting as others are, and no other language is taken for one.
func TestALanguageIsASetting(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("farm.toml", []byte("language = \"es\"\n"), 0o600))
	code, out, errs := run(t, week("1", "--settings", "farm.toml")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "No aplique todavía; vuelva a revisar el sábado 11 de julio.")
	code, out, errs = run(t, week("1", "--settings", "farm.toml", "--language", "en", "--force")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Do not spray yet; look again on Saturday 11 July.", "a flag goes before the file")
	code, _, errs = run(t, week("1", "--language", "deutsch")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "want en or es")
	require.NoError(t, os.WriteFile("farm.toml", []byte("language = \"de\"\n"), 0o600))
	code, _, errs = run(t, week("1", "--settings", "farm.toml")...)
	assert.NotZero(t, code)
	assert.Contains(t, errs, "want en or es")
}

// What files and --json say is no language.
func TestALanguageChangesNoData(t *testing.T) {
	inFolder(t)
	code, english, errs := run(t, week("2", "--json")...)
	require.Zero(t, code, errs)
	before := contents(t, "out")
	code, spanish, errs := run(t, week("2", "--json", "--language", "es")...)
	require.Zero(t, code, errs)
	assert.Equal(t, english, spanish)
	after := contents(t, "out")
	assert.Contains(t, after["run.json"], `"language": "es"`)
	for _, name := range []string{"run.json", "zones.kml", "zones.kmz"} { // names on maps are read
		assert.NotEqual(t, before[name], after[name], name)
		delete(before, name)
		delete(after, name)
	}
	assert.Equal(t, before, after)
}

// What season add says of rows is in Spanish too.
func TestRowsOfAVisitInSpanish(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, "season", "add", "s.gpkg", "week3.csv", "--field", "field.geojson", "--language", "es")
	require.Zero(t, code, errs)
	for _, want := range []string{"Filas: 59 leídas, 56 usadas, 3 apartadas\n", "latitud y longitud están cambiadas", "punto 50 en -101.106524, 35.904105: en ningún campo"} {
		assert.Contains(t, errs, want)
	}
}
