package cli_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
	"io"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// filledIn types rows into the first sheet of a spreadsheet, from its second row on, as texts
// in the formats that the cells have.
func filledIn(t *testing.T, path string, rows [][]string) {
	t.Helper()
	z, err := zip.OpenReader(path)
	require.NoError(t, err)
	defer z.Close()
	var parts []string
	typed := 0
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		if f.Name == "xl/worksheets/sheet1.xml" {
			text = regexp.MustCompile(`<row r="\d+"[^>]*>.*?</row>`).ReplaceAllFunc(text, func(row []byte) []byte {
				var n int
				_, err := fmt.Sscanf(string(row), `<row r="%d"`, &n)
				require.NoError(t, err)
				if n < 2 || n-2 >= len(rows) {
					return row
				}
				typed++
				out := fmt.Sprintf(`<row r="%d">`, n)
				for i, cell := range rows[n-2] {
					at := fmt.Sprintf("%c%d", 'A'+i, n)
					style := ""
					if m := regexp.MustCompile(`<c r="` + at + `"( s="\d+")`).FindSubmatch(row); m != nil {
						style = string(m[1])
					}
					if cell != "" {
						out += fmt.Sprintf(`<c r="%s"%s t="inlineStr"><is><t>%s</t></is></c>`, at, style, html.EscapeString(cell))
					}
				}
				return []byte(out + "</row>")
			})
		}
		parts = append(parts, f.Name, string(text))
	}
	require.Equal(t, len(rows), typed, "rows that are ready to be typed into")
	require.NoError(t, os.WriteFile(path, zipped(t, parts...), 0o600))
}

func TestTheSpreadsheetIsReadAsItIs(t *testing.T) {
	rows := unplaced(t)
	code, out, errs := run(t, "template", "monday", "--xlsx")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "monday holds counts.xlsx, counts.csv, counts.schema.json and sheet.html")
	first := contents(t, "monday")["counts.xlsx"]
	code, _, errs = run(t, "template", "monday", "--xlsx", "--force")
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "monday")["counts.xlsx"])

	// stop, longitude, latitude, count, leaves, date, time, observer, pest, stage, notes
	var typed [][]string
	for _, r := range rows[1:] {
		typed = append(typed, []string{r[0], r[1], r[2], r[3], r[4], r[5], "07:42", "A", r[6], "boot", ""})
	}
	filledIn(t, "monday/counts.xlsx", typed)
	code, _, errs = run(t, "map", "farm.csv", "--field", "farm.geojson", "--out", "want")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "map", "monday/counts.xlsx", "--field", "farm.geojson", "--out", "out", "--strict")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "want")["zones.geojson"], contents(t, "out")["zones.geojson"])
	assert.Contains(t, contents(t, "out")["stops.geojson"], "07:42")

	// Without positions, which places tell.
	put(t, "monday/counts.xlsx", first)
	for i := range typed {
		typed[i][1], typed[i][2] = "", ""
	}
	typed[0][3] = "11-50"
	filledIn(t, "monday/counts.xlsx", typed)
	code, _, errs = run(t, "map", "monday/counts.xlsx", "--field", "farm.geojson", "--out", "out", "--strict", "--places", "places.csv")
	require.Zero(t, code, errs)
	code, out, errs = run(t, "check", "monday/counts.xlsx", "--field", "farm.geojson", "--places", "places.csv", "--out", "checked")
	require.Zero(t, code, errs, out)
	assert.Contains(t, contents(t, "checked")["clean.csv"], "11-50", "a class is no day")
}

func TestTheSpreadsheetOfARule(t *testing.T) {
	rows := unplaced(t)
	code, _, errs := run(t, "template", "monday", "--xlsx", "--rule", "sorghum-aphid-kansas", "--stage", "boot")
	require.Zero(t, code, errs)
	z, err := zip.NewReader(strings.NewReader(contents(t, "monday")["counts.xlsx"]), int64(len(contents(t, "monday")["counts.xlsx"])))
	require.NoError(t, err)
	var all bytes.Buffer
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		_, err = io.Copy(&all, r)
		require.NoError(t, err)
	}
	for _, part := range []string{"plants_over", "at_or_above", "sorghum aphid", "pre-boot"} {
		assert.Contains(t, all.String(), part)
	}
	// stop, longitude, latitude, plants, plants_over, at_or_above, date, …
	var typed [][]string
	for _, r := range rows[1:] {
		typed = append(typed, []string{r[0], r[1], r[2], "10", "3", "101", r[5], "", "", "sorghum aphid", "boot"})
	}
	filledIn(t, "monday/counts.xlsx", typed)
	code, _, errs = run(t, "map", "monday/counts.xlsx", "--field", "farm.geojson", "--out", "out", "--strict", "--rule", "sorghum-aphid-kansas")
	require.Zero(t, code, errs)

	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--rule", "sorghum-aphid-kansas"}, "give --xlsx too"},
		{[]string{"--xlsx", "--stage", "boot"}, "--stage goes with --rule"},
		{[]string{"--xlsx", "--rule", "no-such"}, `no rule is called "no-such"`},
		{[]string{"--xlsx", "--rule", "sorghum-aphid-high-plains", "--stage", "black layer"}, "only to protect the harvest"},
	} {
		code, _, errs := run(t, append([]string{"template", "none"}, c.args...)...)
		assert.NotZero(t, code, c.args)
		assert.Contains(t, errs, c.want)
		assert.NoDirExists(t, "none")
	}
}
