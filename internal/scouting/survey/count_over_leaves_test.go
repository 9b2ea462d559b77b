package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A count typed with its leaves says how to write both.
func TestACountOverItsLeavesIsExplained(t *testing.T) {
	for typed, want := range map[string]string{
		"19/10":    "may be 19 on 10 leaves, or the date that a spreadsheet made of 10-19; write 19 under count and 10 under leaves, or 10-19 as a text",
		"364/10":   "may be 364 on 10 leaves; write 364 under count and 10 under leaves",
		"364 / 10": "may be 364 on 10 leaves; write 364 under count and 10 under leaves",
		"3/0":      "the spreadsheet made a date of 0-3",
		"1/2/3":    "is not a number; write a number",
	} {
		s := read(t, "stop,longitude,latitude,count,leaves\nA,1.5,2.5,\""+typed+"\",10\nB,1.5,2.6,4,10\n", survey.Options{})
		assert.Contains(t, problems(s)[0], want, typed)
	}
	s := read(t, "stop,longitude,latitude,count,leaves\nA,1.5,2.5,4,\"19/10\"\n", survey.Options{})
	assert.NotContains(t, problems(s)[0], "on 10 leaves")
}
