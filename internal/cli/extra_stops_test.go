package cli_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// markExtra gives the first stops of a file of counts the kind extra.
func markExtra(t testing.TB, name string, first int) {
	t.Helper()
	counts, err := os.ReadFile(name)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(counts)), "\n")
	lines[0] += ",kind"
	for i := range lines[1:] {
		lines[i+1] += ","
		if i < first {
			lines[i+1] += "extra"
		}
	}
	require.NoError(t, os.WriteFile(name, []byte(strings.Join(lines, "\n")+"\n"), 0o644))
}

// A mean is of the stops that are said before it: those that stand extra are said apart,
// on every screen, page, sheet and picture, in each language.
func TestExtraStopsAreSaidBesideTheMean(t *testing.T) {
	inFolder(t)
	markExtra(t, "week2.csv", 6)
	code, short, errs := run(t, week("2", "--only", "Pivot", "--write", "report,map.svg")...)
	require.Zero(t, code, errs)
	assert.Contains(t, short, ", 37 stops and 6 extra used\n")
	files := contents(t, "out")
	for _, name := range []string{"report.html", "map.svg"} {
		assert.Contains(t, files[name], "37 stops and 6 extra", name)
		assert.NotRegexp(t, `43 stops[;,]`, files[name], name)
	}

	assert.Contains(t, files["report.html"], "All 37 stops and 6 extra of Pivot")
	assert.Equal(t, 37, inBars(t, files["report.html"]), "the bars are of the stops of the mean")
	assert.Contains(t, files["report.html"], "ring: extra, not in the average")
	assert.Contains(t, files["map.svg"], "extra, not in the average")

	code, long, errs := run(t, week("2", "--only", "Pivot", "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, long, ": 37 stops and 6 extra, mean ")

	code, short, errs = run(t, week("2", "--only", "Pivot", "--language", "es")...)
	require.Zero(t, code, errs)
	assert.Contains(t, short, ", con 37 puntos y 6 extra\n")

	code, out, errs := run(t, "compare", "--details", "week1.csv", "week2.csv", "--field", "field.geojson", "--only", "Pivot", "--out", "change", "--write", "report")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(out, "  2026-07-15: 37 stops and 6 extra\n"), "of the one visit that has such")
	page, err := os.ReadFile(filepath.Join("change", "report.html"))
	require.NoError(t, err)
	assert.Contains(t, string(page), "<figcaption>37 stops and 6 extra, average ")
}

// inBars is how many stops the bars of a page show, by the words for them.
func inBars(t testing.TB, page string) (stops int) {
	words := regexp.MustCompile(`<figcaption>Stops by their value:([^<]*)</figcaption>`).FindStringSubmatch(page)
	require.Len(t, words, 2)
	for _, count := range regexp.MustCompile(`: (\d+)`).FindAllStringSubmatch(words[1], -1) {
		n, err := strconv.Atoi(count[1])
		require.NoError(t, err)
		stops += n
	}
	return stops
}
