//go:build !small

package survey_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// halfMade is a sheet of counts whose days were typed day first into a spreadsheet that
// takes the month first, or the other way round: dates of what it could read, texts of the
// rest.
func halfMade(t *testing.T, days ...any) geofile.Source {
	t.Helper()
	rows := [][]any{{"stop", "longitude", "latitude", "count", "date"}}
	var dates []string
	for i, day := range days {
		if _, is := day.(time.Time); is {
			dates = append(dates, "E"+string(rune('2'+i)))
		}
		rows = append(rows, []any{string(rune('A' + i)), -101.6, 35.9 + float64(i)/1000, 7, day})
	}
	return geofile.Source{Name: "week.xlsx", Content: book(t, func(f *excelize.File) { shown(t, f, "m/d/yyyy", dates...) }, rows...)}
}

func on(year int, month time.Month, day int) time.Time {
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}

// A sheet that a spreadsheet made dates of by halves is never read as two days in silence.
func TestASheetHalfMadeIntoDatesIsAskedAbout(t *testing.T) {
	read := func(from geofile.Source, order survey.DayOrder) (*survey.Survey, error) {
		return survey.Read([]geofile.Source{from}, survey.Options{DayOrder: order, Incoming: true})
	}
	refused := func(from geofile.Source, order survey.DayOrder) *geofile.Error {
		t.Helper()
		_, err := read(from, order)
		var e *geofile.Error
		require.ErrorAs(t, err, &e)
		return e
	}
	// 12 and 13 July.
	sheet := halfMade(t, on(2026, time.December, 7), "13/07/2026", on(2026, time.December, 7))
	e := refused(sheet, "")
	assert.EqualError(t, e, `week.xlsx:2: the spreadsheet has 7 December 2026 here as a date and left "13/07/2026" in line 3 as text: it takes the month first, so this may be 12 July 2026`)
	assert.Equal(t, "if it is 12 July 2026, give --date-order day-first; else write all days as YYYY-MM-DD, in cells of text", e.Hint)
	s, err := read(sheet, survey.DayFirst)
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-12", "2026-07-13"}, s.Dates)
	assert.Contains(t, strings.Join(s.Notes, "\n"), "week.xlsx: 2 dates such as 2026-12-07 are read as 2026-07-12, since the spreadsheet swapped day and month")
	assert.Equal(t, []string{`week.xlsx:2: date "2026-07-12": was 2026-12-07 to the spreadsheet, which had swapped day and month; read as 2026-07-12, and so are all like it; write it as 2026-07-12`}, problems(s))
	assert.Contains(t, refused(sheet, survey.MonthFirst).Error(), "week.xlsx:3: ", "which the texts deny")

	other := halfMade(t, "07/13/2026", on(2026, time.December, 7))
	assert.Contains(t, refused(other, "").Hint, "--date-order month-first")
	s, err = read(other, survey.MonthFirst)
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-12", "2026-07-13"}, s.Dates)

	// A date that cannot have been swapped tells that not all were.
	mixed := halfMade(t, on(2026, time.July, 14), "13/07/2026", on(2026, time.July, 8))
	for _, order := range []survey.DayOrder{"", survey.DayFirst} {
		assert.Equal(t, "write all days as YYYY-MM-DD, in cells of text", refused(mixed, order).Hint)
	}
	// Nothing is in doubt where no date could be another, or no text tells an order.
	for _, sure := range []geofile.Source{
		halfMade(t, on(2026, time.July, 14), "13/07/2026"), halfMade(t, on(2026, time.July, 7), "13/07/2026"),
		halfMade(t, on(2026, time.July, 8), "2026-07-08"), halfMade(t, on(2026, time.July, 8), on(2026, time.July, 14)),
	} {
		s, err := read(sure, "")
		require.NoError(t, err)
		assert.Empty(t, s.Problems)
	}
}
