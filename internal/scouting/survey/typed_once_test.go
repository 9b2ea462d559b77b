package survey_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// leavesOf is a table of six stops with four leaves each, of which rows below the first of a
// stop leave some columns out; more stands below it.
func leavesOf(header string, blank string, more ...string) string {
	rows := []string{header}
	for s := range 6 {
		for k := range 4 {
			cells := map[string]string{
				"stop": fmt.Sprintf("S%d", s+1), "longitude": fmt.Sprint(-101.6 + 0.001*float64(s)), "latitude": "35.9",
				"count": fmt.Sprint(7*s + 3*k), "plant": fmt.Sprint(k + 1), "date": "2026-07-15",
			}
			var row []string
			for _, c := range strings.Split(header, ",") {
				if k > 0 && strings.Contains(","+blank+",", ","+c+",") {
					row = append(row, "")
					continue
				}
				row = append(row, cells[c])
			}
			rows = append(rows, strings.Join(row, ","))
		}
	}
	return strings.Join(append(rows, more...), "\n") + "\n"
}

// What is typed once for a stop holds for its further rows, and is said.
func TestWhatIsTypedOnceIsOfAllRowsOfAStop(t *testing.T) {
	const numbered, plain = "stop,longitude,latitude,count,plant,date", "stop,longitude,latitude,count,date"
	for _, header := range []string{numbered, plain} {
		whole := read(t, leavesOf(header, ""), survey.Options{})
		for blank, note := range map[string]string{
			"date":                         "rows without a day are taken as of the day of their stop's other rows: 18",
			"stop":                         "rows without the name or place of their stop are taken as its further rows, as both stand once on the row above: 18",
			"longitude,latitude":           "rows without the name or place of their stop are taken as its further rows, as both stand once on the row above: 18",
			"stop,longitude,latitude,date": "rows without a day are taken as of the day of their stop's other rows: 18",
		} {
			s := read(t, leavesOf(header, blank), survey.Options{})
			assert.Equal(t, fmt.Sprintf("%+v", whole.Stops), fmt.Sprintf("%+v", s.Stops), "%s: %s", header, blank)
			assert.Equal(t, whole.Tally, s.Tally)
			assert.Empty(t, s.Problems)
			assert.Contains(t, strings.Join(s.Notes, "\n"), note)
		}
	}
}

// What contradicts it is read, or refused, as it stands.
func TestRowsThatAreNoneOfTheStopAboveAreNotTakenSo(t *testing.T) {
	const header, blank = "stop,longitude,latitude,count,plant,date", "stop,longitude,latitude,date"
	for name, c := range map[string]struct {
		more  string
		stops int
		aside int
	}{
		"another place":         {",-101.55,35.9,4,5,", 6, 1},
		"the sum of all":        {",,,528,,", 6, 1},
		"plants from one again": {",,,4,1,\n,,,9,2,", 6, 2},
		"another day":           {"S1,-101.6,35.9,4,1,2026-07-22", 7, 0},
		"another day, once":     {"S1,-101.6,35.9,4,1,2026-07-22\nS1,-101.6,35.9,8,2,", 7, 0},
		"no day, farther off":   {"S1,-101.6,35.9,4,9,", 7, 0},
		"one below":             {",,,4,5,", 6, 0},
	} {
		s := read(t, leavesOf(header, blank, c.more), survey.Options{})
		assert.Len(t, s.Stops, c.stops, name)
		assert.Equal(t, c.aside, s.Tally.SetAside, name)
	}
	// Sums below each stop; names that were lost here and there.
	plain := strings.Split(leavesOf("stop,longitude,latitude,count,date", blank), "\n")
	var summed []string
	for i, row := range plain {
		if summed = append(summed, row); i > 0 && i%4 == 0 {
			summed = append(summed, fmt.Sprintf(",,,%d,", 4*7*(i/4-1)+18))
		}
	}
	s := read(t, strings.Join(summed, "\n"), survey.Options{})
	assert.Equal(t, survey.Tally{Read: 30, Used: 24, SetAside: 6}, s.Tally)
	lost := "stop,longitude,latitude,count\n"
	for i := range 12 {
		if i == 5 || i == 8 {
			lost += fmt.Sprintf(",,,%d\n", i)
			continue
		}
		lost += fmt.Sprintf("S%d,%g,35.9,%d\n", i, -101.6+0.001*float64(i), i)
	}
	s = read(t, lost, survey.Options{})
	require.Equal(t, survey.Tally{Read: 12, Used: 10, SetAside: 2}, s.Tally)
	assert.Len(t, s.Unread, 2)
}

// A day that could not be read is that of the stop's other rows, but not for a whole count, which
// may be of another visit, wherever it stands.
func TestAWholeCountOfAnUnreadableDayIsOfNone(t *testing.T) {
	const header = "stop,longitude,latitude,count,leaves,date\n"
	for leaves, want := range map[string][]string{"1": {"2026-07-08", "2026-07-08"}, "10": {"2026-07-08", "2026-07-08", ""}} {
		for _, between := range []string{"", "S2,-101.61,35.91,4," + leaves + ",2026-07-08\n"} {
			first, then := "S1,-101.6,35.9,3,"+leaves+",2026-07-08\n", "S1,-101.6,35.9,300,"+leaves+",07-15-26x\n"
			s := read(t, header+first+between+then+"S3,-101.62,35.91,4,"+leaves+",2026-07-08\n", survey.Options{})
			var days []string
			for _, stop := range s.Stops {
				if stop.Name != "S2" {
					days = append(days, stop.Date)
				}
			}
			slices.Sort(days)
			slices.Reverse(days)
			assert.Equal(t, want, days, "%s leaves, %q", leaves, between)
		}
	}
}
