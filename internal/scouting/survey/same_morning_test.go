package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Two scouts' files of one morning settle each other's dates: one that could be two days is
// read as the day that the other is of.
func TestTheOtherFileOfAMorningTellsTheDay(t *testing.T) {
	read := func(ours string, others ...string) (string, string) {
		var from []geofile.Source
		for i, day := range append([]string{ours}, others...) {
			name := string(rune('a' + i))
			text := "stop,longitude,latitude,count,leaves,date\n" + name + "1,-101.6,35.9,1,10," + day + "\n" + name + "2,-101.6,35.901,2,10," + day + "\n"
			from = append(from, geofile.Source{Name: name + ".csv", Content: []byte(text)})
		}
		s, err := survey.Read(from, survey.Options{})
		require.NoError(t, err)
		return s.Stops[0].Date, strings.Join(append(problems(s), s.Notes...), "; ")
	}
	day, said := read("7/8/26", "2026-07-08")
	assert.Equal(t, "2026-07-08", day)
	assert.Equal(t, `a.csv: dates such as "7/8/26" are read month first, as 2026-07-08: so they are of a day of b.csv`, said)
	day, said = read("7/8/26", "2026-08-07")
	assert.Equal(t, "2026-08-07", day, "the guess would be month first")
	assert.NotContains(t, said, "can be")
	for name, others := range map[string][]string{"neither": {"2026-07-09"}, "both": {"2026-07-08", "2026-08-07"}, "none": {""}, "open too": {"7/8/26"}} {
		day, said = read("7/8/26", others...)
		assert.Equal(t, "2026-07-08", day, name)
		assert.Contains(t, said, "can be 8 July 2026 or 7 August 2026", name)
	}
}
