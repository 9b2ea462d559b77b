package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestNamesThatASpreadsheetMakes(t *testing.T) {
	for _, c := range [][2]string{
		{"7", "007"}, {"07", "007"}, {"1.00E+05", "1E5"}, {"100000", "1E5"}, {"2.5", "2.50"}, {"2-Jan", "1-2"}, {"1-Feb", "1-2"}, {"02.01.2026", "1/2"}, {"2026-01-02", "1-2"}, {"Nov-50", "11-50"},
	} {
		assert.True(t, survey.MadeOf(c[0], c[1]), c)
	}
	for _, c := range [][2]string{
		{"7", "7"}, {"7", "8"}, {"7", "07b"}, {"2-Jan", "1-3"}, {"North", "Nord"}, {"", "0"}, {"0", ""}, {"2-Jan", "2-Jan"}, {"2-Jan", "Home 1-2"}, {"NaN", "NaN1"}, {"Inf", "Infinity"},
	} {
		assert.False(t, survey.MadeOf(c[0], c[1]), c)
	}
}
