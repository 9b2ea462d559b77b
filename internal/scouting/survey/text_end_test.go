package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// The sign that ended a text file in old systems is no row.
func TestAnEndOfFileSignIsNoRow(t *testing.T) {
	s := read(t, slipsHead+walk(3, some, ten)+"\x1a", survey.Options{})
	assert.Equal(t, 3, s.Tally.Read)
	assert.Empty(t, s.Problems)
}
