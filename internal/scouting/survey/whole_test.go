//go:build !small

package survey_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
)

// morningBook is a spreadsheet of 54 rows as a spreadsheet program keeps it: texts that
// cells share, dates by their style, the reach of the sheet. stored leaves it unpacked,
// so that a bit of the archive is a bit of the text.
func morningBook(t *testing.T, stored bool) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	require.NoError(t, f.SetSheetRow("Sheet1", "A1", &[]any{"Stop", "Longitude", "Latitude", "Count", "Leaves", "Date", "Notes"}))
	for i := range 54 {
		row := []any{fmt.Sprintf("S%d", i+1), -101.6 + float64(i%9)/1000, 35.9 + float64(i/9)/1000, 3 * i, 10, time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC), "row of sorghum"}
		require.NoError(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+2), &row))
	}
	require.NoError(t, f.SetSheetDimension("Sheet1", "A1:G55"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	if stored {
		return repacked(t, b.Bytes(), zip.Store, func(_, text string) string { return text })
	}
	return b.Bytes()
}

// repacked is an archive with other texts in it, whole as far as an archive can tell.
func repacked(t *testing.T, raw []byte, method uint16, with func(name, text string) string) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	for _, part := range from.File {
		r, err := part.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		w, err := to.CreateHeader(&zip.FileHeader{Name: part.Name, Method: method})
		require.NoError(t, err)
		_, err = io.WriteString(w, with(part.Name, string(text)))
		require.NoError(t, err)
	}
	require.NoError(t, to.Close())
	return out.Bytes()
}

// everything is all that is read from a table: rows, tallies, problems, notes.
func everything(s *survey.Survey) string {
	return fmt.Sprintf("%+v|%+v|%v|%v|%s", s.Tally, s.Stops, problems(s), s.Notes, s.Pest)
}

// One bit of a spreadsheet is another, or its end is missing: it is refused, or what
// is read from it is the same to the last row.
func TestDamagedWorkbookIsNeverReadAsWhole(t *testing.T) {
	random := rand.New(rand.NewPCG(54, 400))
	for name, stored := range map[string]bool{"packed": false, "stored": true} {
		t.Run(name, func(t *testing.T) {
			raw := morningBook(t, stored)
			whole, err := decode(t, "morning.xlsx", string(raw), survey.Options{})
			require.NoError(t, err)
			require.Equal(t, 54, whole.Tally.Used)
			want, refused, read := everything(whole), 0, 0
			try := func(damaged []byte, where string) {
				s, err := decode(t, "morning.xlsx", string(damaged), survey.Options{})
				if err != nil {
					refused++
					return
				}
				read++
				assert.Equal(t, want, everything(s), where)
			}
			flips := testkit.Few(600, 60)
			if stored {
				flips = testkit.Few(200, 20)
			}
			for range flips {
				bit := random.IntN(8 * len(raw))
				try(flipped(raw, bit), fmt.Sprintf("bit %d", bit))
			}
			contents := 8 * bytes.Index(raw, []byte("PK\x01\x02")) // the list of contents is small, and stands there twice
			for at := range flips {
				bit := contents + at*(8*len(raw)-contents)/flips
				try(flipped(raw, bit), fmt.Sprintf("bit %d of the list", bit))
			}
			for n := 1; n < 100; n += testkit.Few(1, 7) {
				try(raw[:n*len(raw)/100], fmt.Sprintf("the first %d %%", n))
			}
			assert.Greater(t, refused, flips)
			t.Logf("%d refused, %d read as they were", refused, read)
		})
	}
}

func flipped(raw []byte, bit int) []byte {
	damaged := bytes.Clone(raw)
	damaged[bit/8] ^= 1 << (bit % 8)
	return damaged
}

// What saves half a sheet gives it a valid checksum.
func TestHalfASheetIsRefused(t *testing.T) {
	raw := morningBook(t, false)
	sheet := func(with func(text string) string) []byte {
		return repacked(t, raw, zip.Deflate, func(name, text string) string {
			if name == "xl/worksheets/sheet1.xml" {
				return with(text)
			}
			return text
		})
	}
	_, err := decode(t, "morning.xlsx", string(sheet(func(text string) string { return text })), survey.Options{})
	require.NoError(t, err)
	row28 := func(text string) int { return strings.Index(text, `<row r="28"`) }
	for name, c := range map[string]struct {
		with func(text string) string
		want string
	}{
		"cut within a row":     {func(text string) string { return text[:row28(text)+40] }, "breaks off"},
		"cut between two rows": {func(text string) string { return text[:row28(text)] }, "breaks off"},
		"rows gone, ended well": {func(text string) string { return text[:row28(text)] + text[strings.Index(text, "</sheetData>"):] },
			"reaches to row 55, and its last row is 27"},
		"rows gone within":     {func(text string) string { return text[:row28(text)] + text[strings.Index(text, `<row r="40"`):] }, ""},
		"nothing but the head": {func(text string) string { return text[:strings.Index(text, "<sheetData>")] }, "breaks off"},
		"another end":          {func(text string) string { return strings.Replace(text, "</worksheet>", "</worksheets>", 1) }, "is damaged"},
		"more behind its end":  {func(text string) string { return text + text }, "is damaged"},
		"empty":                {func(string) string { return "" }, "breaks off"},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := decode(t, "morning.xlsx", string(sheet(c.with)), survey.Options{})
			if c.want == "" { // row numbers may have gaps: rows that were left blank
				require.NoError(t, err)
				assert.Equal(t, 42, s.Tally.Used)
				return
			}
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Contains(t, err.Error(), "morning.xlsx")
		})
	}
}

// Texts and styles stand in parts of their own: a sheet that points to what is not
// there is damaged.
func TestAWorkbookHasAllItsParts(t *testing.T) {
	raw := morningBook(t, false)
	for _, gone := range []string{"xl/sharedStrings.xml", "xl/styles.xml", "xl/worksheets/sheet1.xml"} {
		damaged := without(t, raw, gone)
		_, err := decode(t, "morning.xlsx", string(damaged), survey.Options{})
		assert.ErrorContains(t, err, gone+" is missing")
	}
	fewer := repacked(t, raw, zip.Deflate, func(name, text string) string {
		if name == "xl/sharedStrings.xml" {
			return text[:strings.LastIndex(text, "<si>")] + "</sst>"
		}
		return text
	})
	_, err := decode(t, "morning.xlsx", string(fewer), survey.Options{})
	assert.ErrorContains(t, err, "a cell shows text 62, and there are 61")
}

func without(t *testing.T, raw []byte, gone string) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	for _, part := range from.File {
		if part.Name != gone {
			require.NoError(t, to.Copy(part))
		}
	}
	require.NoError(t, to.Close())
	return out.Bytes()
}
