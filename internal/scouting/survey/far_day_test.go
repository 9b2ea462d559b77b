package survey_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Years that were filled by dragging do not fill the screen.
func TestManyFarDaysAreCounted(t *testing.T) {
	for days, more := range map[int]string{5: "", 6: "and so for 1 more of the days", 12: "and so for 7 more of the days"} {
		text := "stop,longitude,latitude,count,date\n"
		for i := range days {
			text += fmt.Sprintf("%d,-101.6,35.9,3,%d-07-15\n", i+1, 2030+i)
		}
		lines := read(t, text, survey.Options{}).FarDays("2026-07-15")
		assert.Equal(t, "2030-07-15 is still to come (stop 1): check the year", lines[0])
		if more == "" {
			assert.Len(t, lines, 5)
		} else {
			assert.Len(t, lines, 6)
			assert.Equal(t, more, lines[5])
		}
	}
}
