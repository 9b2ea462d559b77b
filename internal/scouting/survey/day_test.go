package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestDaysAsPeopleWriteThem(t *testing.T) {
	for _, text := range []string{
		"2026-07-14", "2026/07/14", "2026/7/14", "2026.07.14", "20260714", "14 July 2026", "14th July, 2026", "July 14, 2026", "July 14th 2026",
		"Jul 14 2026", "Jul. 14, 2026", "14-Jul-26", "14-Jul-2026", "2026-Jul-14", "Tue 14 Jul 2026", "Tuesday, July 14, 2026", "14.07.2026", "14.7.26", " 14. 7. 2026 ",
		"7/14/2026", "14/7/2026", "7/14/26", "07-14-2026", "14-07-2026", "Di., 14. Juli 2026", "14 de julio de 2026", "mardi 14 juillet 2026", "14 Jul '26",
	} {
		day, err := survey.ParseDay(text)
		assert.NoError(t, err, text)
		assert.Equal(t, "2026-07-14", day, text)
	}
	for text, want := range map[string]string{
		"29 February 2028": "2028-02-29", "7/7/2026": "2026-07-07", "1er août 2026": "2026-08-01", "3 März 2026": "2026-03-03", "1.1.1969": "1969-01-01", "1.1.69": "1969-01-01", "1.1.68": "2068-01-01",
	} {
		day, err := survey.ParseDay(text)
		assert.NoError(t, err, text)
		assert.Equal(t, want, day, text)
	}
	for _, text := range []string{
		"", "Friday", "14 July", "July 2026", "2026", "46217", "29 February 2026", "31.6.2026", "07.14.2026", "32/1/2026", "14 July 1826", "14 July 2201", "14 Smarch 2026",
		"2026-07", "26-07-14", "14 July 2026 06:11", "July August 2026", "14/7-2026", "-5", "2026-13-01", strings.Repeat("1", 100), "14 July 2026 or so",
	} {
		day, err := survey.ParseDay(text)
		assert.ErrorContains(t, err, "is no day", text)
		assert.Empty(t, day)
	}
	for _, text := range []string{"5/7/2026", "05-07-2026", "5/7/26"} {
		_, err := survey.ParseDay(text)
		assert.ErrorContains(t, err, "can be 7 May 2026 or 5 July 2026: write 2026-05-07 or 2026-07-05", text)
	}
}

func TestDatesInWordsInTables(t *testing.T) {
	s, err := regress(t, "dates_in_words.csv")
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-14"}, s.Dates)
	require.Len(t, s.Stops, 14)
	for _, stop := range s.Stops {
		assert.Equal(t, "2026-07-14", stop.Date, stop.Name)
	}
	for _, i := range []int{0, 1, 9, 12} {
		assert.Equal(t, "06:11", s.Stops[i].Time, s.Stops[i].Name)
	}
	assert.Equal(t, []string{`dates_in_words.csv:13: date "46217": is a number; read as the day that a spreadsheet stores so, 2026-07-14, and so are all like it; format the column as dates`}, problems(s))
	assert.Contains(t, s.Notes, `dates_in_words.csv: days such as "46217" are read as a spreadsheet counts them, 2026-07-14`)
}

func TestTimesOfDay(t *testing.T) {
	for text, want := range map[string]string{
		"06:11": "06:11", "6:11": "06:11", "6:11 am": "06:11", "6:11 p.m.": "18:11", "12:05 AM": "00:05", "12:05 PM": "12:05", "06:11:16.5": "06:11",
		// the sun stands 4 minutes ahead of UTC at 1° E
		"06:40 Uhr": "06:40", "06:11:16-05": "06:11", "06:11:16 CDT": "06:11", "06:11Z": "06:15", "0.25": "06:00",
		"2026/07/15 06:11:16-05": "06:11", "15.07.2026 06:11": "06:11", "06:11 15 July 2026": "06:11", "06:11 July 15 2026": "06:11", "7/15/26 6:11": "06:11",
		"July 15, 2026 at 6:11 AM": "06:11", "15-07-2026T06:11": "06:11", "20260715T06:11": "06:11", "Wed Jul 15 06:11:16 CDT 2026": "06:11",
		"25:00": "", "06:60": "", "13:00 pm": "", "0:30 am": "", "06:11:61": "", "late": "", "1.5": "", "06:11 or 06:12": "",
	} {
		s := read(t, "stop,longitude,latitude,count,time\nA,1,2,3,\""+text+"\"\n", survey.Options{})
		assert.Equal(t, want, s.Stops[0].Time, text)
		assert.Equal(t, want == "", len(s.Problems) == 1, text)
		if len(text) > 14 && want != "" {
			assert.Equal(t, "2026-07-15", s.Stops[0].Date, text)
		}
	}
}

// The order that nothing settles is said, with the reading taken, and doubted once.
func TestOpenOrderIsSaid(t *testing.T) {
	const head = "stop,longitude,latitude,count,date\n"
	s := read(t, head+"A,1,2.5,3,2026-05-07\nB,1,3,3,5/7/2026\nC,1,4,3,6/7/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-05-07", "2026-06-07"}, s.Dates)
	assert.Equal(t, []string{`counts.csv:3: date "5/7/2026": can be 7 May 2026 or 5 July 2026; read as 2026-05-07, and so are all like it; write it as 2026-05-07`}, problems(s))
	assert.Contains(t, strings.Join(s.Notes, "\n"), `dates such as "5/7/2026" are read month first, as 2026-05-07, and no date in the file shows which is right`)

	s = read(t, "stop;longitude;latitude;count;date\nA;1,5;2,5;3;5/7/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-07-05"}, s.Dates, "who writes 1,5 writes the day first")
	assert.Contains(t, problems(s)[0], "can be 5 July 2026 or 7 May 2026; read as 2026-07-05")

	s = read(t, head+"A,1,2,3,5-7-2026\nB,1,3,3,13-7-2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-07-05", "2026-07-13"}, s.Dates, "dashes are known by the file as slashes are")
	assert.Empty(t, s.Problems)
}

// A serial number of less than 2000-01-01 or from 2100 on is no day: a count that
// slipped, or a year.
func TestSerialsAtTheBounds(t *testing.T) {
	for text, want := range map[string]string{"36525": "", "36526": "2000-01-01", "73050": "2099-12-31", "73051": "", "2026": "", "46217.2578": "2026-07-14"} {
		s := read(t, "stop,longitude,latitude,count,date\nA,1,2,3,"+text+"\n", survey.Options{})
		assert.Equal(t, want, s.Stops[0].Date, text)
	}
}
