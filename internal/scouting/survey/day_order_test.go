package survey_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Dates that can be two days are read as asked; what the dates of a file tell goes before
// that, and is said.
func TestOpenDaysAreReadAsAsked(t *testing.T) {
	const comma, semi = "stop,longitude,latitude,count,date\n", "stop;longitude;latitude;count;date\n"
	for name, c := range map[string]struct {
		text  string
		asked survey.DayOrder
		dates []string
		note  string
		open  bool
	}{
		"day":                     {comma + "A,1,2.5,3,07/08/2026\n", survey.DayFirst, []string{"2026-08-07"}, `dates such as "07/08/2026" are read day first, as asked`, true},
		"month":                   {comma + "A,1,2.5,3,07/08/2026\n", survey.MonthFirst, []string{"2026-07-08"}, "month first, as asked", true},
		"day, with a time":        {comma + "A,1,2.5,3,07/08/2026 06:40\n", survey.DayFirst, []string{"2026-08-07"}, "day first, as asked", true},
		"month, decimal commas":   {semi + "A;1,5;2,5;3;7/8/2026\n", survey.MonthFirst, []string{"2026-07-08"}, "month first, as asked", true},
		"the file tells the same": {comma + "A,1,2.5,3,7/8/2026\nB,1,3,3,13/8/2026\n", survey.DayFirst, []string{"2026-08-07", "2026-08-13"}, "day first, as asked", false},
		"the file tells another":  {comma + "A,1,2.5,3,7/8/2026\nB,1,3,3,7/13/2026\n", survey.DayFirst, []string{"2026-07-08", "2026-07-13"}, `are read month first, not day first as asked, since "7/13/2026" can only be read so`, false},
		"the file tells both":     {comma + "A,1,2.5,3,7/8/2026\nB,1,3,3,7/13/2026\nC,1,4,3,13/8/2026\n", survey.DayFirst, []string{"2026-07-13", "2026-08-07", "2026-08-13"}, "day first, as asked", true},
		"nothing is open":         {comma + "A,1,2.5,3,7/7/2026\nB,1,3,3,2026-07-08\nC,1,4,3,13/7/2026\n", survey.MonthFirst, []string{"2026-07-07", "2026-07-08", "2026-07-13"}, "", false},
	} {
		s := read(t, c.text, survey.Options{DayOrder: c.asked})
		assert.Equal(t, c.dates, s.Dates, name)
		if strings.HasSuffix(name, "both") {
			assert.Contains(t, strings.Join(problems(s), "\n"), "the file has dates of both orders", name)
		} else {
			assert.Empty(t, s.Problems, "%s: nothing is in doubt that was asked for", name)
		}
		notes := strings.Join(s.Notes, "\n")
		if c.note == "" {
			assert.NotContains(t, notes, "as asked", name)
		} else {
			assert.Contains(t, notes, c.note, name)
		}
		assert.Equal(t, c.open, len(s.OpenDays) == 1, "%s: %v", name, s.OpenDays)
	}
}

// A file leaves a day open whatever was asked, so that who was asked can answer otherwise.
func TestOpenDaysAreNamed(t *testing.T) {
	const head = "stop,longitude,latitude,count,date\n"
	for _, asked := range []survey.DayOrder{"", survey.DayFirst, survey.MonthFirst} {
		from := []geofile.Source{
			{Name: "a.csv", Content: []byte(head + "A,1,2.5,3,2026-07-01\nB,1,3,3,7/8/2026 06:40\nC,1,4,3,8/8/2026\n")},
			{Name: "b.csv", Content: []byte(head + "A,1,2.5,3,13/8/2026\nD,1,5,3,7/8/2026\n")},
			{Name: "c.csv", Content: []byte(head + "E,1,6,3,9/8/2026\n")},
		}
		if asked == "" { // b.csv would tell
			from = slices.Delete(from, 1, 2)
		}
		s, err := survey.Read(from, survey.Options{DayOrder: asked})
		require.NoError(t, err)
		want := []survey.OpenDay{
			{File: "a.csv", Text: "7/8/2026", Line: 3, MonthFirst: "2026-07-08", DayFirst: "2026-08-07"},
			{File: "c.csv", Text: "9/8/2026", Line: 2, MonthFirst: "2026-09-08", DayFirst: "2026-08-09"},
		}
		if asked == "" { // and only then it is a guess
			want[0].Guessed, want[1].Guessed = "2026-07-08", "2026-09-08"
		}
		assert.Equal(t, want, s.OpenDays)
	}
}

// Files of one call may differ, and what the dates of a file tell is not overruled.
func TestEachFileHasItsOrder(t *testing.T) {
	const head = "stop,longitude,latitude,count,date\n"
	openA, openB := head+"A,1,2,3,7/8/2026\n", head+"B,1,3,3,7/8/2026\n"
	read := func(order, a, b string) (*survey.Survey, error) {
		return survey.Read([]geofile.Source{{Name: "east/a.csv", Content: []byte(a)}, {Name: "b.csv", Content: []byte(b)}}, survey.Options{DayOrder: survey.DayOrder(order), Incoming: true})
	}
	for order, dates := range map[string][]string{
		"a.csv=day-first,b.csv=month-first": {"2026-07-08", "2026-08-07"},
		"day-first,b.csv=month-first":       {"2026-07-08", "2026-08-07"},
		"east/a.csv=day-first,month-first":  {"2026-07-08", "2026-08-07"},
		"./b.csv=day-first,a.csv=day-first": {"2026-08-07"},
		"day-first":                         {"2026-08-07"},
	} {
		s, err := read(order, openA, openB)
		require.NoError(t, err, order)
		assert.Equal(t, dates, s.Dates, order)
	}
	tells := head + "B,1,3,3,7/8/2026\nC,1,4,3,7/13/2026\n"
	s, err := read("day-first", openA, tells)
	require.NoError(t, err, "an order for all is for those that do not tell")
	assert.Equal(t, []string{"2026-07-08", "2026-07-13", "2026-08-07"}, s.Dates)
	_, err = read("month-first,b.csv=day-first", openA, tells)
	assert.EqualError(t, err, `b.csv:3: "7/13/2026" can only be read month first, and day-first was asked for`)
	_, err = survey.Read([]geofile.Source{{Name: "b.csv", Content: []byte(tells)}}, survey.Options{DayOrder: survey.DayFirst, Incoming: true})
	assert.EqualError(t, err, `b.csv:3: "7/13/2026" can only be read month first, and day-first was asked for`)
	_, err = read("c.csv=day-first", openA, tells)
	assert.EqualError(t, err, `the order of day and month is given for "c.csv", and no file of counts is called so; there is east/a.csv, b.csv`)

	var o survey.DayOrder
	for _, bad := range []string{"year-first", "a.csv=", "=", "day-first,month-first", "a=day-first,a=month-first", "a.csv=day-firstb"} {
		assert.Error(t, o.UnmarshalText([]byte(bad)), bad)
	}
	require.NoError(t, o.UnmarshalText([]byte("a,b=c.csv=day-first")))
}

// What the dates of one file prove holds for those of others that leave it open; where files
// prove different orders each has its own, which is said.
func TestAProvenOrderHoldsForOtherFiles(t *testing.T) {
	const head = "stop,longitude,latitude,count,date\n"
	dayTells, monthTells, open := head+"A,1,2,3,13/07/2026\n", head+"B,1,3,3,07/14/2026\n", head+"C,1,4,3,12/07/2026\n"
	read := func(order survey.DayOrder, texts ...string) *survey.Survey {
		var from []geofile.Source
		for i, text := range texts {
			from = append(from, geofile.Source{Name: string(rune('a'+i)) + ".csv", Content: []byte(text)})
		}
		s, err := survey.Read(from, survey.Options{DayOrder: order, Incoming: true})
		require.NoError(t, err)
		return s
	}
	for _, texts := range [][]string{{dayTells, open}, {open, dayTells}} {
		s := read("", texts...)
		assert.Equal(t, []string{"2026-07-12", "2026-07-13"}, s.Dates)
		assert.Contains(t, strings.Join(s.Notes, "\n"), `dates such as "12/07/2026" are read day first, as 2026-07-12, since "13/07/2026" in `)
		assert.NotContains(t, strings.Join(s.Notes, "\n"), "no date in the file shows")
		assert.Empty(t, s.OpenDays[0].Guessed)
		assert.Equal(t, 2, s.Tally.Read, "each row once")
	}
	assert.Equal(t, []string{"2026-07-13", "2026-12-07"}, read(survey.MonthFirst, dayTells, open).Dates, "who is asked decides")
	s := read("", dayTells, monthTells, open)
	assert.Equal(t, []string{"2026-07-13", "2026-07-14", "2026-12-07"}, s.Dates, "a guess, as before")
	assert.Contains(t, s.Notes, `a.csv has dates day first ("13/07/2026"), and b.csv month first ("07/14/2026"): each file is read by its own order`)
	assert.Contains(t, strings.Join(s.Notes, "\n"), "no date in the file shows which is right")
}
