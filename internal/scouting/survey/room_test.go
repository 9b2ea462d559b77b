//go:build !small

package survey_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// sheetOf is a spreadsheet with the given texts to share and rows, as XML.
func sheetOf(t testing.TB, shared, rows string) []byte {
	book := excelize.NewFile()
	require.NoError(t, book.SetSheetRow("Sheet1", "A1", &[]any{"stop", "longitude", "latitude", "count"}))
	var plain, out bytes.Buffer
	require.NoError(t, book.Write(&plain))
	require.NoError(t, book.Close())
	from, err := zip.NewReader(bytes.NewReader(plain.Bytes()), int64(plain.Len()))
	require.NoError(t, err)
	to := zip.NewWriter(&out)
	for _, f := range from.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		switch f.Name {
		case "xl/worksheets/sheet1.xml":
			text = []byte(strings.Replace(string(text), "</sheetData>", rows+"</sheetData>", 1))
			require.Contains(t, string(text), rows)
		case "xl/sharedStrings.xml":
			text = []byte(strings.Replace(string(text), "</sst>", shared+"</sst>", 1))
			require.Contains(t, string(text), shared)
		}
		w, err := to.Create(f.Name)
		require.NoError(t, err)
		_, err = w.Write(text)
		require.NoError(t, err)
	}
	require.NoError(t, to.Close())
	return out.Bytes()
}

// cell is one that shows the fifth shared text, the first after those of the header.
const cell = `<c r="E%d" t="s"><v>4</v></c>`

func rich(runs, bytes int) string {
	return "<si>" + strings.Repeat("<r><t>"+strings.Repeat("x", bytes)+"</t></r>", runs) + "</si>"
}

func rowsOf(n int, cells string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<row r="%d">`, i+2)
		b.WriteString(strings.ReplaceAll(cells, "%d", fmt.Sprint(i+2)) + "</row>")
	}
	return b.String()
}

// Files that unfold when they are read are refused before the memory is taken: what
// is allocated in all, given back or not, stays within a bound.
func TestFilesThatUnfold(t *testing.T) {
	const mebibyte = 1 << 20
	feature := func(properties string) string {
		return `{"type":"Feature","properties":{` + properties + `},"geometry":{"type":"Point","coordinates":[1,2]}},`
	}
	collection := func(features ...string) []byte {
		return []byte(strings.TrimSuffix(`{"type":"FeatureCollection","features":[`+strings.Join(features, ""), ",") + "]}")
	}
	var named, few []string
	for i := range 7000 {
		named = append(named, feature(fmt.Sprintf(`"a%d":1`, i)))
	}
	few = append(few, named[:498]...)
	few = append(few, strings.Repeat(feature(""), 10_000))
	for name, c := range map[string]struct {
		file string
		data []byte
		want string
	}{
		"a property for each feature":   {"f.geojson", collection(named...), "its features have more than 500 properties by name"},
		"many columns, many features":   {"f.geojson", collection(few...), "its rows and columns are more than the file can fill"},
		"a long property":               {"f.geojson", collection(feature(`"notes":"` + strings.Repeat("x", 1<<16) + `"`)), `"notes": a cell of more than 64 KiB`},
		"a shared text, packed":         {"f.xlsx", sheetOf(t, rich(10, 125_000), rowsOf(1200, cell)), "unpacks to more than 200 times its size"},
		"a long shared text":            {"f.xlsx", sheetOf(t, rich(10, 7_000), rowsOf(1200, cell)), "a cell of more than 64 KiB"},
		"a shared text in many rows":    {"f.xlsx", sheetOf(t, rich(600, 100), rowsOf(2000, cell)), "its cells hold more than 64 MiB"},
		"a shared text in one row":      {"f.xlsx", sheetOf(t, rich(600, 100), `<row r="2">`+strings.Repeat(`<c t="s"><v>4</v></c>`, 2000)+"</row>"), "its cells hold more than 64 MiB"},
		"blank cells before the last":   {"f.xlsx", sheetOf(t, "", rowsOf(20_000, `<c r="SE%d"><v>1</v></c>`)), "its rows and columns are more than the file can fill"},
		"too many columns":              {"f.xlsx", sheetOf(t, "", rowsOf(1, `<c r="XFD%d"><v>1</v></c>`)), "16384 columns, more than 500"},
		"a part packed beyond belief":   {"f.xlsx", sheetOf(t, "<si><t>"+strings.Repeat("x", 20*mebibyte)+"</t></si>", ""), "unpacks to more than 200 times its size"},
		"a long cell without the fonts": {"f.xlsx", sheetOf(t, "", rowsOf(1, `<c r="A%d" t="inlineStr"><is><t>`+strings.Repeat("x", 1<<16)+`</t></is></c>`)), "row 2: a cell of more than 64 KiB"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Less(t, len(c.data), 2*mebibyte)
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := survey.Read(given.Table(string(c.data)), survey.Options{UnnamedStops: true})
			runtime.ReadMemStats(&after)
			assert.ErrorContains(t, err, c.want)
			took := int64(after.TotalAlloc - before.TotalAlloc)
			assert.LessOrEqual(t, took, int64(192*mebibyte), "%d MiB", took/mebibyte)
			t.Logf("%.2f MiB: %d MiB", float64(len(c.data))/mebibyte, took/mebibyte)
		})
	}
}

// Texts with fonts of their own are read where they are few.
func TestTextsWithFonts(t *testing.T) {
	data := sheetOf(t, rich(2, 3), rowsOf(1, `<c r="A%d" t="s"><v>4</v></c><c r="B%d"><v>1</v></c><c r="C%d"><v>2</v></c><c r="D%d"><v>3</v></c>`))
	s, err := survey.Read(given.Table(string(data)), survey.Options{})
	require.NoError(t, err)
	require.Len(t, s.Stops, 1)
	assert.Equal(t, "xxxxxx", s.Stops[0].Name)
}
