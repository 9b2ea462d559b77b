package cli_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The screen names the command that plans the stops its answer asks for, and it works as
// it stands there.
func TestTheCommandForMoreStopsWorksAsTyped(t *testing.T) {
	dir := t.TempDir()
	field := filepath.Join(dir, "my field.geojson")
	require.NoError(t, os.WriteFile(field, []byte(`{"type":"FeatureCollection","features":[
		{"type":"Feature","properties":{"name":"Home & well"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[0.004,0],[0.004,0.004],[0,0.004],[0,0]]]}},
		{"type":"Feature","properties":{"name":"Far"},"geometry":{"type":"Polygon","coordinates":[[[0.01,0],[0.014,0],[0.014,0.004],[0.01,0.004],[0.01,0]]]}}]}`), 0o600))
	rows := []string{"stop,longitude,latitude,count,leaves,date"}
	for i, count := range []string{"10", "12", "9", "11", "13", "900", "10", "12", "9", "11", "13", "10"} {
		rows = append(rows, strings.Join([]string{string(rune('a' + i)), []string{"0.0006", "0.002", "0.0034"}[i%3], []string{"0.0005", "0.0015", "0.0025", "0.0035"}[i/3], count, "10", "2026-07-15"}, ","))
	}
	counts := filepath.Join(dir, "counts.csv")
	require.NoError(t, os.WriteFile(counts, []byte(strings.Join(rows, "\n")+"\n"), 0o600))
	t.Run("all", func(t *testing.T) { worksAsTyped(t, counts, field, filepath.Join(dir, "out")) })
	t.Run("one", func(t *testing.T) { worksAsTyped(t, counts, field, filepath.Join(dir, "one"), "--only", "Home & well") })
}

func worksAsTyped(t *testing.T, counts, field, folder string, more ...string) {
	t.Helper()
	code, out, errs := run(t, append([]string{"map", counts, "--field", field, "--out", folder}, more...)...)
	require.Equal(t, 0, code, errs)
	require.Contains(t, out, "walk 4 more stops round stop f")
	line := regexp.MustCompile(`(?m)^  geocoris (plan .*)$`).FindStringSubmatch(out)
	require.NotNil(t, line, out)
	assert.Contains(t, line[1], `--only "Home & well"`)
	var args []string
	for _, word := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line[1], -1) {
		args = append(args, strings.Trim(word, `"`))
	}
	code, out, errs = run(t, args...)
	require.Equal(t, 0, code, errs)
	assert.Contains(t, out, "round stop f, as the map asks")
}

// Folders that a screen names lie beside that of the map on any disk, whatever fields are
// called.
func TestFoldersForMoreStopsAreSafe(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	odd := strings.NewReplacer("Corner block", "../../x, CON:*?", "Pivot", "-Südfeld/ä, 2").Replace(string(text))
	require.NoError(t, os.WriteFile("odd.geojson", []byte(odd), 0o600))
	code, out, errs := run(t, "map", "week2.csv", "--field", "odd.geojson", "--treat-at", "10", "--out", "m")
	require.Zero(t, code, errs)
	assert.Regexp(t, `(?m) --only "\.\./\.\./x, CON:\*\?" --after m --add \d+ --out m-more-x-CON$`, out)
}

// What an answer asks for can be walked in a field too narrow to have an inside, and where
// few stops were counted as yet.
func TestMoreStopsOfNarrowFieldsCanBeWalked(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		wide, long float64 // degrees
		stops      int
		wants      string
	}{{0.00003, 0.0036, 6, "plan --field f.geojson --after out --add "}, {0.00018, 0.00018, 4, "plan --field f.geojson --stops "}} {
		field := fmt.Sprintf(`{"type":"Feature","properties":{"name":"N"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[%[1]v,0],[%[1]v,%[2]v],[0,%[2]v],[0,0]]]}}`, c.wide, c.long)
		require.NoError(t, os.WriteFile("f.geojson", []byte(field), 0o600))
		rows := "stop,longitude,latitude,count,leaves,date\n"
		for i := range c.stops {
			rows += fmt.Sprintf("%d,%.7f,%.7f,%d,10,2026-07-15\n", i, c.wide/2, c.long*(float64(i)+0.5)/float64(c.stops), []int{900, 30, 20, 40, 50, 10}[i])
		}
		require.NoError(t, os.WriteFile("n.csv", []byte(rows), 0o600))
		code, out, errs := run(t, "map", "n.csv", "--field", "f.geojson", "--out", "out", "--force")
		require.Zero(t, code, errs)
		assert.NotContains(t, out, "from the edge")
		line := regexp.MustCompile(`(?m)^  geocoris (plan .*)$`).FindStringSubmatch(out)
		require.NotNil(t, line, out)
		assert.Contains(t, line[1], c.wants)
		code, _, errs = run(t, append(strings.Fields(line[1]), "--force")...)
		require.Zero(t, code, errs)
		_, out, _ = run(t, "check", "n.csv", "--field", "f.geojson")
		assert.NotContains(t, out, "was only looked at within")
	}
}

// Of fewer stops than tell where more would help the field is planned as a whole, by as many
// as the answer names; after these it is decided, or asks for no stops where it had some.
func TestFewStopsAreFollowedByAPlanOfTheWholeField(t *testing.T) {
	inFolder(t)
	put(t, "few.csv", "stop,longitude,latitude,count,leaves,date\n1,-101.6016,35.9027,107,10,2026-07-15\n2,-101.6030,35.9016,48,10,2026-07-15\n3,-101.6022,35.9002,149,10,2026-07-15\n")
	args := []string{"map", "few.csv", "--field", "field.geojson", "--only", "Pivot", "--out", "out"}
	code, out, errs := run(t, args...)
	require.Equal(t, 0, code, errs)
	asked := regexp.MustCompile(`Not decided yet: walk (\d+) more stops over the whole field, today`).FindStringSubmatch(strings.Join(strings.Fields(out), " "))
	require.NotNil(t, asked, out)
	line := regexp.MustCompile(`(?m)^  geocoris (plan .*)$`).FindStringSubmatch(out)
	require.NotNil(t, line, out)
	assert.Equal(t, "plan --field field.geojson --only Pivot --stops "+asked[1]+" --out out-more", line[1])
	code, _, errs = run(t, strings.Fields(line[1])...)
	require.Equal(t, 0, code, errs)
	text, err := os.ReadFile(filepath.Join("out-more", "stops.csv"))
	require.NoError(t, err)
	walked := regexp.MustCompile(`(?m)^(\d+,[^,]*,[^,]*),,10,,`).ReplaceAllString(string(text), "1${1},60,10,2026-07-15,")
	put(t, "more.csv", walked)
	code, out, errs = run(t, append([]string{"map", "more.csv"}, args[1:]...)...)
	require.Equal(t, 0, code, errs)
	assert.NotContains(t, out, "Not decided yet", "enough were asked for")
}
