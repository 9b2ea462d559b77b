package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A header once more, as in two files that were joined, is no row: it is passed over, with a
// word. One of other columns is a row that cannot be read.
func TestAHeaderOnceMoreIsNoRow(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,date\n"
	read := func(again string) *survey.Survey {
		text := head + "A,-101.6,35.90,7,10,2026-07-08\n" + again + "B,-101.6,35.91,9,10,2026-07-08\n"
		s, err := survey.Read([]geofile.Source{{Name: "week.csv", Content: []byte(text)}}, survey.Options{})
		require.NoError(t, err)
		return s
	}
	for _, again := range []string{head, strings.ToUpper(head), " stop , longitude,latitude,count,leaves,date,,\n"} {
		s := read(again)
		assert.Equal(t, survey.Tally{Read: 2, Used: 2}, s.Tally, again)
		assert.Empty(t, s.Problems)
		assert.Empty(t, s.Unread)
		assert.Contains(t, s.Notes, "week.csv: line 3 is the header once more, and is passed over")
	}
	assert.Contains(t, read(head+head).Notes, "week.csv: line 3 and 1 more are the header once more, and are passed over")
	for _, other := range []string{"stop,latitude,longitude,count,leaves,date\n", "stop\n"} {
		assert.Equal(t, 1, read(other).Tally.SetAside, other)
	}
}
