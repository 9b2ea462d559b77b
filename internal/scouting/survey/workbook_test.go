//go:build !small

package survey_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// book is a spreadsheet with rows from A1 on its first sheet, changed as asked.
func book(t testing.TB, change func(*excelize.File), rows ...[]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for i, row := range rows {
		cell, err := excelize.CoordinatesToCellName(1, i+1)
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("Sheet1", cell, &row))
	}
	if change != nil {
		change(f)
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// shown gives cells a format, by its code.
func shown(t testing.TB, f *excelize.File, code string, cells ...string) {
	t.Helper()
	style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
	require.NoError(t, err)
	for _, c := range cells {
		require.NoError(t, f.SetCellStyle("Sheet1", c, c, style))
	}
}

func readBook(t testing.TB, data []byte) *survey.Survey {
	t.Helper()
	s, err := survey.Read(given.Table(string(data)), survey.Options{})
	require.NoError(t, err)
	assertAddsUp(t, s)
	return s
}

var head = []any{"stop", "longitude", "latitude", "count", "leaves", "date"}

// 18568 is 1 November 1950 and 46032 is 10 January 2026, from 1900; 17106 and 44570
// are the same days from 1904.
func TestDatesAmongNumbersOfASpreadsheet(t *testing.T) {
	for code, is := range map[string]bool{
		"mmm\\-yy": true, "mmm-yy": true, "d-mmm": true, "DD.MM.YYYY": true, "[$-407]d/\\ mmm/;@": true, "h:mm": true, "[h]:mm": true, "yyyy\"-\"mm": true,
		"General": false, "0.00": false, "#,##0": false, "0\" days\"": false, "[Red]0;[Blue]-0": false, "0\\d": false, "_-* #,##0_-": false, "[$$-409]#,##0": false, "0.00E+00": false, "@": false,
	} {
		s := readBook(t, book(t, func(f *excelize.File) { shown(t, f, code, "D2") }, head, []any{"A", -101.6, 35.9, 18568, 10}, []any{"B", -101.7, 35.9, 7, 10}))
		assert.Equal(t, is, s.Tally.SetAside == 1, "%s: %v", code, problems(s))
		if is {
			assert.Equal(t, "the spreadsheet made a date of 11-50", s.Problems[0].What, code)
			assert.Equal(t, "format the column as text and type it again", s.Problems[0].Fix)
		}
	}
	for days, want := range map[float64]string{46032: "1-10", 46296: "1-10", 18568: "11-50", 11: "1900-01-11", 46032.5: "1-10", 0.5: "12:00", 36526: "1-1", 46154: "5-12"} {
		s := readBook(t, book(t, func(f *excelize.File) { shown(t, f, "d-mmm", "D2") }, head, []any{"A", -101.6, 35.9, days, 10}))
		require.Len(t, s.Problems, 1)
		assert.Contains(t, s.Problems[0].What, "made a date of "+want, "%g", days)
	}
	s := readBook(t, book(t, func(f *excelize.File) {
		since := true
		require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &since}))
		shown(t, f, "d-mmm", "D2", "F3")
	}, head, []any{"A", -101.6, 35.9, 17106, 10}, []any{"B", -101.6, 35.8, 3, 10, 44755}))
	assert.Contains(t, s.Problems[0].What, "made a date of 11-50")
	assert.Equal(t, "2026-07-14", s.Stops[0].Date)
}

// By the numbers that stand for formats without a code.
func TestBuiltInFormats(t *testing.T) {
	for id, is := range map[int]bool{0: false, 1: false, 4: false, 9: true, 10: true, 11: false, 13: false, 14: true, 17: true, 22: true, 37: false, 45: true, 47: true, 48: false, 49: false} {
		s := readBook(t, book(t, func(f *excelize.File) {
			style, err := f.NewStyle(&excelize.Style{NumFmt: id})
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle("Sheet1", "D2", "D2", style))
		}, head, []any{"A", -101.6, 35.9, 1, 10}))
		assert.Equal(t, is, s.Tally.SetAside == 1, "%d: %v", id, problems(s))
	}
}

func TestDatesInNamesAndNotes(t *testing.T) {
	rows := [][]any{{"stop", "longitude", "latitude", "count", "date", "notes"}, {46082, -101.6, 35.9, 3, 46217, 46217}, {"B", -101.7, 35.9, 3, 46217, 46217}}
	s := readBook(t, book(t, func(f *excelize.File) { shown(t, f, "d-mmm", "A2", "E2", "F2", "F3") }, rows...))
	assert.Contains(t, problems(s)[0], `stop "2026-03-01": the spreadsheet made a date of 1-3`)
	require.Len(t, s.Stops, 1)
	assert.Equal(t, "2026-07-14", s.Stops[0].Records[0].Notes, "a date in the notes is one")
	assert.Equal(t, "2026-07-14", s.Stops[0].Date, "a day under a general format")
	assert.Contains(t, strings.Join(s.Notes, "\n"), `days such as "46217" are read as a spreadsheet counts them, 2026-07-14`)
}

func TestOddCells(t *testing.T) {
	s := readBook(t, sheetOf(t, "", `<row r="2"><c r="A2" t="inlineStr"><is><t>A</t></is></c><c r="B2"><v>1</v></c><c r="C2"><v>2.5</v></c><c r="D2" t="b"><v>1</v></c></row>`+
		`<row r="3"><c t="inlineStr"><is><t>B</t></is></c><c><v>1</v></c><c><v>2.5</v></c><c t="e"><f>1/0</f><v>#DIV/0!</v></c></row>`+
		`<row r="4"><c r="A4" t="str"><v>C</v></c><c r="B4"><v>1</v></c><c r="C4"><v>2.5</v></c><c r="D4"><f>SUM(1,2)</f></c></row>`+
		`<row r="6"><c r="A6" t="str"><f>"D"</f><v>D</v></c><c r="B6"><v>1</v></c><c r="C6"><v>2.5</v></c><c r="D6"><f>SUM(1,2)</f><v>3</v></c></row>`+
		`<row r="7"><c r="A7" t="inlineStr"><is><t>E</t></is></c><c r="B7"><v>1</v></c><c r="C7"><v>2.6</v></c><c r="D7"><v>1.2E+1</v></c></row>`))
	assert.Equal(t, []float64{3, 12}, totals(s))
	assert.Equal(t, []string{
		`-:2: count "TRUE": is true or false, not a number; write a number`,
		`-:3: count "#DIV/0!": is an error of the spreadsheet; write the number in place of the formula`,
		`-:4: count "": is a formula, and the file does not hold its value; open the file in the spreadsheet and save it, or write the number`,
	}, problems(s))

	s = readBook(t, book(t, func(f *excelize.File) { shown(t, f, "0%", "D2", "E3") }, head, []any{"A", -101.6, 35.9, 1, 10}, []any{"B", -101.6, 35.8, 3, 1}))
	assert.Equal(t, []string{`-:2: count "1": is a percentage; write how many were found`, `-:3: leaves "1": is a percentage; write how many were found`}, problems(s))
}

// A German scout's file: cells formatted as text before they were typed into.
func TestNumbersTypedAsText(t *testing.T) {
	mean := []any{"stop", "longitude", "latitude", "mean_per_leaf", "leaves"}
	s := readBook(t, book(t, nil, mean, []any{"A", "-101,601", "35,9", "7,5", "10"}, []any{"B", -101.602, 35.901, 1.204, 10}))
	assert.Empty(t, problems(s))
	require.Len(t, s.Stops, 2)
	assert.Equal(t, [2]float64{-101.601, 7.5}, [2]float64{s.Stops[0].Longitude, s.Stops[0].Mean()})
	assert.Equal(t, [3]float64{-101.602, 35.901, 1.204}, [3]float64{s.Stops[1].Longitude, s.Stops[1].Latitude, s.Stops[1].Mean()}, "numbers are what they are")

	s = readBook(t, book(t, nil, mean, []any{"A", -101.6, 35.9, "7,5", 10}, []any{"B", -101.602, 35.901, "7.5", 10}))
	assert.Equal(t, []string{`-:2: mean_per_leaf "7,5": has a decimal comma, and this file decimal points; write it with a point`}, problems(s), "texts that disagree")
	s = readBook(t, book(t, nil, mean, []any{"A", -101.6, 35.9, "1,204", 10}))
	assert.Contains(t, problems(s)[0], "can be 1204 or 1.204")

	s = readBook(t, book(t, nil, head, []any{"A", -101.6, 35.9, "1,150", "10"}, []any{"B", "-101.602", "35.901", "12 aphids", 10}))
	assert.Equal(t, []float64{1150, 12}, totals(s))
	assert.Empty(t, problems(s))
	s = readBook(t, book(t, nil, head, []any{"A", -101.6, 35.9, "1,150", 10}))
	assert.Contains(t, problems(s)[0], "is read as thousands, 1150, and may be a fraction")
}

func TestTitleHiddenRowsAndOtherSheets(t *testing.T) {
	data := book(t, func(f *excelize.File) {
		require.NoError(t, f.SetRowVisible("Sheet1", 6, false))
		_, err := f.NewSheet("Week 2")
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("Week 2", "A1", &head))
		require.NoError(t, f.MergeCell("Sheet1", "A1", "F1"))
	}, []any{"Aphids, July"}, []any{}, []any{"", "Position", "", "Counts"}, head, []any{"A", -101.6, 35.9, 3, 10}, []any{"B", -101.6, 35.8, 4, 10}, []any{"Total", nil, nil, 7, 20})
	s := readBook(t, data)
	assert.Equal(t, []float64{3, 4}, totals(s))
	assert.Equal(t, survey.Tally{Read: 3, Used: 2, SetAside: 1}, s.Tally)
	notes := strings.Join(s.Notes, "\n")
	assert.Contains(t, notes, `-: the header is line 4; skipped above it: "Aphids, July", "Position", "Counts"`)
	assert.Contains(t, notes, "rows that are hidden in the spreadsheet are read too: 1")
	assert.Contains(t, notes, `only sheet "Sheet1" is read; "Week 2" could be too: save each as a file of its own`)

	data = book(t, func(f *excelize.File) {
		_, err := f.NewSheet("Field")
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("Field", "A1", &head))
		require.NoError(t, f.SetSheetRow("Field", "A2", &[]any{"Z", 1, 2.5, 9, 10}))
		f.SetActiveSheet(1)
		require.NoError(t, f.SetSheetVisible("Sheet1", false))
	}, head, []any{"A", -101.6, 35.9, 3, 10})
	assert.Equal(t, []float64{9}, totals(readBook(t, data)), "a sheet that is shown goes before one that is not")
}

// A spreadsheet as one leaves the machine: a class that became a date.
func TestSpreadsheetWithADateForAClass(t *testing.T) {
	path := testkit.Testdata(t, "regress", "survey", "class_made_date.xlsx")
	s, err := survey.Read(given.Files(t, path), survey.Options{})
	require.NoError(t, err)
	assert.Equal(t, survey.Tally{Read: 2, Used: 1, SetAside: 1}, s.Tally)
	assert.Equal(t, []string{`class_made_date.xlsx:2: count "1950-11-01": the spreadsheet made a date of 11-50; format the column as text and type it again`}, problems(s))
}

// Which of two sheets of counts is meant nobody can say but who wrote them.
func TestTwoSheetsOfCountsAreAskedFor(t *testing.T) {
	row := []any{"A", -101.6, 35.9, 3, 10}
	for name, c := range map[string]struct {
		second [][]any
		hidden bool
		asked  bool
		note   string // where it is not asked
	}{
		"last week's":          {[][]any{head, row}, false, true, ""},
		"below a title":        {[][]any{{"2025"}, {}, head, row}, false, true, ""},
		"in classes":           {[][]any{head, {"A", -101.6, 35.9, "500+", 10}}, false, true, ""},
		"in words":             {[][]any{head, {"A", "101°36.5'W", "35°54.2'N", "many", 10}}, false, true, ""},
		"places in one column": {[][]any{{"stop", "gps", "count", "leaves"}, {"A", "35.9, -101.6", 7, 10}}, false, true, ""},
		"in words for none":    {[][]any{head, {"A", -101.6, 35.9, "clean", 10}}, false, true, ""},
		"still to be walked":   {[][]any{head, {"A", -101.6, 35.9, nil, 10}, {"B", -101.6, 35.9, "to do", 10}, {"C", -101.6, 35.9, "-", 10}}, false, false, `-: only sheet "Sheet1" is read; no counts were found in "Week 2"`},
		"hidden":               {[][]any{head, row}, true, false, `-: not read, as they are hidden: "Week 2"`},
		"without a row":        {[][]any{head}, false, false, `-: only sheet "Sheet1" is read; no counts were found in "Week 2"`},
		"planned stops":        {[][]any{head[:3], row[:3]}, false, false, `-: only sheet "Sheet1" is read; no counts were found in "Week 2"`},
		"an empty plan":        {[][]any{head, {"9", 1.0, 2.0, nil}}, false, false, `-: only sheet "Sheet1" is read; no counts were found in "Week 2"`},
		"how to fill it in":    {[][]any{head, {"its name", "degrees", "degrees", "found on all leaves", "looked at"}}, false, false, `-: only sheet "Sheet1" is read; no counts were found in "Week 2"`},
		"means of stops":       {[][]any{{"stop", "mean"}, {"9", 1.5}}, false, false, ""},
		"something else":       {[][]any{{"pest", "level"}, {"aphid", 40}}, false, false, ""},
	} {
		data := book(t, func(f *excelize.File) {
			_, err := f.NewSheet("Week 2")
			require.NoError(t, err)
			for i := range c.second {
				require.NoError(t, f.SetSheetRow("Week 2", fmt.Sprintf("A%d", i+1), &c.second[i]))
			}
			require.NoError(t, f.SetSheetVisible("Week 2", !c.hidden))
		}, head, row)
		s, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
		if c.asked {
			assert.ErrorContains(t, err, `has counts in sheet "Sheet1" and in "Week 2": which of them is meant?`, name)
		} else if assert.NoError(t, err, name) && c.note != "" {
			assert.Equal(t, []string{c.note}, s.Notes, name)
		}
		assert.Equal(t, []float64{3}, totals(readBook(t, data)), "%s: kept counts are read as they were", name)
	}
}

// Counts in a hidden sheet alone are read, and it is said that it is hidden.
func TestCountsInAHiddenSheetAlone(t *testing.T) {
	data := book(t, func(f *excelize.File) {
		_, err := f.NewSheet("Week 2")
		require.NoError(t, err)
		for i, r := range [][]any{head, {"A", -101.6, 35.9, 3, 10}} {
			require.NoError(t, f.SetSheetRow("Week 2", fmt.Sprintf("A%d", i+1), &r))
		}
		require.NoError(t, f.SetSheetVisible("Week 2", false))
	}, []any{"Field", "Grower"}, []any{"Pivot", "Example"})
	s, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
	require.NoError(t, err)
	assert.Equal(t, []float64{3}, totals(s))
	assert.Equal(t, []string{`-: read from sheet "Week 2", which is hidden`}, s.Notes)
}

// Of two hidden sheets with counts the first is no more meant than the other.
func TestCountsInTwoHiddenSheetsAreAskedFor(t *testing.T) {
	data := book(t, func(f *excelize.File) {
		for week, total := range []int{3, 4} {
			sheet := fmt.Sprint("Week ", week+1)
			_, err := f.NewSheet(sheet)
			require.NoError(t, err)
			for i, r := range [][]any{head, {"A", -101.6, 35.9, total, 10}} {
				require.NoError(t, f.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &r))
			}
			require.NoError(t, f.SetSheetVisible(sheet, false))
		}
	}, []any{"Field", "Grower"}, []any{"Pivot", "Example"})
	_, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
	assert.ErrorContains(t, err, `has counts in sheet "Week 1" and in "Week 2", and both are hidden: which of them is meant?`)
	assert.Equal(t, []float64{3}, totals(readBook(t, data)), "kept counts are read as they were")
}

// A sheet of words beside the one read is asked about where both are of one series.
func TestASheetOfWordsBesideTheCountsIsAskedAbout(t *testing.T) {
	words := [][]any{{"Stop", "How many", "Where"}, {"1", "lots", "north end"}}
	for name, c := range map[string]struct {
		first, second string
		rows          [][]any
		asked         bool
	}{
		"days":          {"8 July", "15 July", words, true},
		"days, dotted":  {"8.7.", "15.7.", words, true},
		"weeks":         {"Week 1", "week 2", words, true},
		"notes alone":   {"8 July", "15 July", [][]any{{"too wet at noon"}}, true},
		"nothing":       {"8 July", "15 July", nil, false},
		"something":     {"8 July", "Levels", words, false},
		"usual names":   {"Sheet1", "Sheet2", words, false},
		"a year's list": {"8 July", "2026", words, false},
	} {
		data := book(t, func(f *excelize.File) {
			require.NoError(t, f.SetSheetName("Sheet1", c.first))
			_, err := f.NewSheet(c.second)
			require.NoError(t, err)
			for i, r := range c.rows {
				require.NoError(t, f.SetSheetRow(c.second, fmt.Sprintf("A%d", i+1), &r))
			}
		}, head, []any{"A", -101.6, 35.9, 3, 10})
		_, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
		if c.asked {
			assert.ErrorContains(t, err, fmt.Sprintf("sheet %q has no column for places, so that sheet %q alone would be read: which of them is meant?", c.second, c.first), name)
		} else {
			assert.NoError(t, err, name)
		}
		assert.Equal(t, []float64{3}, totals(readBook(t, data)), "%s: kept counts are read as they were", name)
	}
}

// A cover sheet that names a place, a day and an observer has no counts, whatever else it tells, nor
// has a plan with both angles in one column; one with a place to each row may have them under a name
// that is not known.
func TestACoverSheetGivesWayToCounts(t *testing.T) {
	counts := [][]any{{"stop", "gps", "count", "leaves"}, {"A", "35.9, -101.6", 3, 10}, {"B", "35.901, -101.6", 4, 10}}
	cover := []any{"Location", "Date", "Observer", "Pest", "Acres"}
	for name, c := range map[string]struct {
		first, row []any
		asked      string
	}{
		"words":            {cover, []any{"Hill", "2026-07-15", "A", "aphid", 124}, ""},
		"an empty plan":    {counts[0], []any{"A", "35.9, -101.6", nil, 10}, ""},
		"a place":          {cover, []any{"35.9, -101.6", "2026-07-15", "A", "aphid", 124}, "which of them is meant?"},
		"angles apart":     {[]any{"stop", "longitude", "latitude", "beasts"}, []any{"A", -101.6, 35.9, 7}, "has the counts and"},
		"no place, apart":  {[]any{"stop", "longitude", "latitude", "beasts"}, []any{"A", nil, nil, 7}, "has the counts and"},
		"counts, unplaced": {[]any{"stop", "location", "count", "date"}, []any{"A", "north end", 7, "2026-07-15"}, "which of them is meant?"},
	} {
		data := book(t, func(f *excelize.File) {
			_, err := f.NewSheet("Counts")
			require.NoError(t, err)
			for i, r := range counts {
				require.NoError(t, f.SetSheetRow("Counts", fmt.Sprintf("A%d", i+1), &r))
			}
		}, c.first, c.row)
		s, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
		if c.asked != "" {
			assert.ErrorContains(t, err, c.asked, name)
		} else if assert.NoError(t, err, name) {
			assert.Equal(t, []float64{3, 4}, totals(s))
			assert.Contains(t, s.Notes, `-: read from sheet "Counts"`)
		}
	}
}

// A plan's own sheet that nobody filled is no morning: the counts are in the next.
func TestASheetThatNobodyFilledGivesWayToCounts(t *testing.T) {
	for name, c := range map[string]struct {
		plan   []any
		counts [][]any // of the sheets after it
		want   []float64
		asked  string
	}{
		"a blank count":           {[]any{"P", -101.6, 35.9, nil, 10}, [][]any{{"A", -101.6, 35.9, 3, 10}}, []float64{3}, ""},
		"words for a count":       {[]any{"P", -101.6, 35.9, "many", 10}, [][]any{{"A", -101.6, 35.9, 3, 10}}, nil, `has counts in sheet "Sheet1" and in "Week 1"`},
		"two weeks after it":      {[]any{"P", -101.6, 35.9, nil, 10}, [][]any{{"A", -101.6, 35.9, 3, 10}, {"A", -101.6, 35.9, 4, 10}}, nil, `has counts in sheet "Week 1" and in "Week 2"`},
		"another plan before one": {[]any{"P", -101.6, 35.9, nil, 10}, [][]any{{"A", -101.6, 35.9, nil, 10}, {"A", -101.6, 35.9, 4, 10}}, []float64{4}, ""},
	} {
		data := book(t, func(f *excelize.File) {
			for i := range c.counts {
				sheet := fmt.Sprintf("Week %d", i+1)
				_, err := f.NewSheet(sheet)
				require.NoError(t, err)
				require.NoError(t, f.SetSheetRow(sheet, "A1", &head))
				require.NoError(t, f.SetSheetRow(sheet, "A2", &c.counts[i]))
			}
		}, head, c.plan)
		s, err := survey.Read(given.Table(string(data)), survey.Options{Incoming: true})
		if c.asked != "" {
			assert.ErrorContains(t, err, c.asked, name)
			continue
		}
		require.NoError(t, err, name)
		assert.Equal(t, c.want, totals(s), name)
		assert.Contains(t, strings.Join(s.Notes, "; "), fmt.Sprintf("read from sheet %q", fmt.Sprintf("Week %d", len(c.counts))), name)
	}
}
