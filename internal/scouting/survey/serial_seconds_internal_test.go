package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Seconds of a spreadsheet's time are kept, as a place along a track is looked up by them.
func TestASpreadsheetsTimeKeepsItsSeconds(t *testing.T) {
	for stored, want := range map[string]string{
		"0.3125":           "07:30",
		"0.31313657407407": "07:30:55",
		"46217.3125":       "2026-07-14T07:30",
		"46217.3131365741": "2026-07-14T07:30:55",
		"46217":            "2026-07-14",
	} {
		assert.Equal(t, want, serialTime(stored, false), stored)
	}
	_, clock, ok := monthFirst.parseTime("46217.3131365741")
	assert.True(t, ok)
	assert.Equal(t, "07:30", clock)
}
