package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func daysSaved(order survey.DayOrder, days ...string) (*survey.Survey, error) {
	text := "stop,longitude,latitude,count,date\n"
	for i, day := range days {
		text += string(rune('A'+i)) + ",-101.6,35.9" + string(rune('0'+i)) + ",7," + day + "\n"
	}
	return survey.Read([]geofile.Source{{Name: "week.csv", Content: []byte(text)}}, survey.Options{DayOrder: order, Incoming: true})
}

// What a spreadsheet made dates of by halves is no other matter once it is saved as text,
// in whatever form the spreadsheet shows its dates.
func TestATextHalfMadeIntoDatesIsAskedAbout(t *testing.T) {
	for _, stored := range []string{"2026-12-07", "2026/12/07", "07.12.2026", "7-Dec-26", "2026-12-07T00:00:00"} {
		_, err := daysSaved("", stored, "13/07/2026", stored)
		var e *geofile.Error
		require.ErrorAs(t, err, &e, stored)
		assert.EqualError(t, e, `week.csv:2: the spreadsheet has 7 December 2026 here and left "13/07/2026" in line 3: it takes the month first, so this may be 12 July 2026`, stored)
		assert.Equal(t, "if it is 12 July 2026, give --date-order day-first; else write all days as YYYY-MM-DD", e.Hint, stored)
		s, err := daysSaved(survey.DayFirst, stored, "13/07/2026", stored)
		require.NoError(t, err, stored)
		assert.Equal(t, []string{"2026-07-12", "2026-07-13"}, s.Dates, stored)
		assert.Contains(t, strings.Join(s.Notes, "\n"), "week.csv: 2 dates such as 2026-12-07", stored)
	}
	for _, days := range [][]string{
		{"2026-07-05", "7/5/2026", "13/07/2026"}, // the same day in two ways, and as far apart one way as the other
		{"2026-12-07", "07/13/2026", "2026-07-14"},
	} {
		_, err := daysSaved("", days...)
		assert.ErrorContains(t, err, "the spreadsheet has", days)
	}
	_, err := daysSaved(survey.MonthFirst, "07/13/2026", "2026-12-07", "2026-07-14")
	assert.ErrorContains(t, err, "week.csv:3: ", "one that cannot be swapped tells that not all were")
}

// Where the days lie nearer together as they are written, they are read so, with a word.
func TestDaysWrittenInTwoWaysAreReadWhereTheyAgree(t *testing.T) {
	for _, order := range []survey.DayOrder{"", survey.DayFirst} {
		s, err := daysSaved(order, "13/07/2026", "2026-07-12", "14/07/2026")
		require.NoError(t, err)
		assert.Equal(t, []string{"2026-07-12", "2026-07-13", "2026-07-14"}, s.Dates)
		assert.Contains(t, s.Notes, `week.csv: days are written in two ways, "2026-07-12" and "13/07/2026"; "2026-07-12" is read as 12 July 2026`)
	}
	for _, sure := range [][]string{{"2026-07-14", "13/07/2026"}, {"2026-07-07", "13/07/2026"}, {"2026-07-08", "2026-07-14"}, {"13/07/2026", "14/07/2026"}} {
		s, err := daysSaved("", sure...)
		require.NoError(t, err)
		assert.Empty(t, s.Problems)
		assert.NotContains(t, strings.Join(s.Notes, "\n"), "week.csv: da", sure)
	}
}

// One date that decides how all others are read is named: a slip of a digit in it would
// move them all.
func TestOneDateThatDecidesForAllIsNamed(t *testing.T) {
	s, err := daysSaved("", "07/08/2026", "8/8/2026", "13/08/2026")
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-08-07", "2026-08-08", "2026-08-13"}, s.Dates)
	assert.Contains(t, s.Notes, `week.csv: dates such as "07/08/2026" are read day first, as 2026-08-07, since "13/08/2026" in line 4 can only be read so`)
	s, err = daysSaved("", "07/08/2026", "07/13/2026")
	require.NoError(t, err)
	assert.Contains(t, s.Notes, `week.csv: dates such as "07/08/2026" are read month first, as 2026-07-08, since "07/13/2026" in line 3 can only be read so`)
	for _, many := range [][]string{{"07/08/2026", "13/08/2026", "14/08/2026"}, {"8/8/2026", "13/08/2026"}} {
		s, err := daysSaved("", many...)
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(s.Notes, "\n"), "can only be read so", many)
	}
}

// Dates that are left open are read as they fall on the days of the other rows, else as they
// lie nearer to them, which stays a guess.
func TestOpenDatesFallOnTheDaysOfOtherRows(t *testing.T) {
	for _, days := range [][]string{
		{"08/07/2026", "2026-07-08", "2026-07-08"}, {"2026-07-08", "08/07/2026", "8-Jul-2026"}, {"07/08/2026", "2026-07-08"},
	} {
		s, err := daysSaved("", days...)
		require.NoError(t, err)
		assert.Equal(t, []string{"2026-07-08"}, s.Dates, days)
		assert.Empty(t, s.OpenDays[0].Guessed)
		assert.Contains(t, strings.Join(s.Notes, "\n"), "2026-07-08, since they fall on days of other rows so")
	}
	s, err := daysSaved("", "08/07/2026", "2026-07-09")
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-08", "2026-07-09"}, s.Dates)
	assert.Equal(t, "2026-07-08", s.OpenDays[0].Guessed)
	s, err = daysSaved(survey.MonthFirst, "08/07/2026", "2026-07-08")
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-08", "2026-08-07"}, s.Dates, "who is asked decides")
	s, err = daysSaved("", "08/07/2026", "2026-07-08", "2026-08-07")
	require.NoError(t, err)
	assert.Equal(t, "2026-08-07", s.OpenDays[0].Guessed, "both are there: a guess, as before")
}
