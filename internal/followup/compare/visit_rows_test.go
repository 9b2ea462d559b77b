package compare_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Rows that could not be read are of the visits to their field that took their day, of those next
// to it where nothing was read that day, and of all where no day can be gone by. Field 0 was
// counted on 8 and 15 July, field 1 in one walk from 8 to 10 July.
func TestRowsNotReadGoWithTheirVisit(t *testing.T) {
	at := func(longitude, _ float64) int {
		switch {
		case longitude < -100:
			return 0
		case longitude < -90:
			return 1
		}
		return -1
	}
	day := func(field int, date string) string {
		if field == 1 {
			return "2026-07-08"
		}
		return date
	}
	const counts = "stop,longitude,latitude,count,leaves,date\n" +
		"A,-101,38,1,10,2026-07-08\nA,-101,38,2,10,2026-07-15\nB,-99,38,3,10,2026-07-08\nC,-99,38.001,3,10,2026-07-10\n"
	for name, c := range map[string]struct {
		row  string
		want []int // how many rows each visit has
	}{
		"its day":                       {"D,-101,38.001,,10,2026-07-15", []int{0, 1}},
		"the first day":                 {"D,-101,38.001,,10,2026-07-08", []int{1, 0}},
		"a day of the walk":             {"D,-99,38.002,,10,2026-07-10", []int{1, 0}},
		"a day within the walk":         {"D,-99,38.002,,10,2026-07-09", []int{1, 0}},
		"a day between the visits":      {"D,-101,38.001,,10,2026-07-11", []int{1, 1}},
		"after all":                     {"D,-101,38.001,,10,2026-07-16", []int{0, 1}},
		"before all":                    {"D,-101,38.001,,10,2026-07-07", []int{1, 0}},
		"the other field's day":         {"D,-99,38.002,,10,2026-07-15", []int{0, 1}},
		"no day":                        {"D,-101,38.001,,10,", []int{1, 1}},
		"no day, of the field once":     {"D,-99,38.002,,10,", []int{1, 0}},
		"a day that is none":            {"D,-101,38.001,,10,soon", []int{1, 1}},
		"no place":                      {"D,,,3,10,2026-07-15", []int{0, 1}},
		"no place, a day of the walk":   {"D,,,3,10,2026-07-10", []int{1, 0}},
		"neither place nor day":         {"D,,,3,10,", []int{1, 1}},
		"cells under the wrong headers": {"D,-101,38,001,3,10,2026-07-15,", []int{1, 1}},
		"in no field, no day, but read": {"D,-80,38,3,10,", []int{0, 0}},
	} {
		s, err := survey.Read(given.Table(counts+c.row+"\n"), survey.Options{})
		require.NoError(t, err, name)
		visits, without := compare.ByVisit(s, at, day)
		assert.Empty(t, without, name)
		var rows []int
		for _, v := range visits {
			rows = append(rows, len(v.Unread))
			used := 0
			for _, stop := range v.Stops {
				used += len(stop.Records)
			}
			assert.Equal(t, survey.Tally{Read: used + len(v.Unread), Used: used, SetAside: len(v.Unread)}, v.Tally, name)
		}
		assert.Equal(t, c.want, rows, fmt.Sprint(name, s.Problems))
	}
	// A stop of a field without a day is of none, and one in no field goes with all.
	s, err := survey.Read(given.Table(counts+"D,-101,38.001,3,10,\nE,-80,38,9,10,\n"), survey.Options{})
	require.NoError(t, err)
	visits, without := compare.ByVisit(s, at, day)
	require.Len(t, without, 1)
	assert.Equal(t, "D", without[0].Name)
	for _, v := range visits {
		assert.Equal(t, "E", v.Stops[len(v.Stops)-1].Name)
	}
	assert.Equal(t, []string{"2026-07-08", "2026-07-10"}, visits[0].Dates)
}
