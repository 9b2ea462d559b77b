package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A stop is extra where one of its rows says so, and planned where nothing does.
func TestKindOfStop(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,kind\nA,1,2,3,planned\nB,1.1,2,4,Extra\nC,1.2,2,5,\nC,1.2,2,6,extra\nD,1.3,2,1,\n", survey.Options{})
	require.Len(t, s.Stops, 4)
	var extra []bool
	for _, stop := range s.Stops {
		extra = append(extra, stop.Extra)
	}
	assert.Equal(t, []bool{false, true, true, false}, extra)
	assert.Empty(t, s.Problems)
}

// A kind that is not known is said, as the stop is then in the mean like all others.
func TestAKindThatIsNotKnownIsNamed(t *testing.T) {
	for kind, c := range map[string]struct {
		extra bool
		note  string
	}{
		"Extra stop": {true, ""}, "EXTRA": {true, ""}, "Planned": {false, ""}, "": {false, ""},
		"xtra": {false, `counts.csv: line 3: kind "xtra" is neither planned nor extra, and is not read`},
	} {
		s := read(t, "stop,longitude,latitude,count,kind\n1,-101.6,35.9,3,\n2,-101.61,35.9,30,"+kind+"\n", survey.Options{})
		assert.Equal(t, c.extra, s.Stops[1].Extra, kind)
		notes := strings.Join(s.Notes, "\n")
		if c.note == "" {
			assert.NotContains(t, notes, "kind", kind)
		} else {
			assert.Contains(t, notes, c.note, kind)
		}
	}
}
