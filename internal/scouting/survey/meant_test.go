package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestWhatWasMeant(t *testing.T) {
	for _, c := range []struct {
		typed string
		among []string
		want  string
	}{
		{"Pivott", []string{"Corner block", "Pivot"}, "Pivot"},
		{"week2.cvs", []string{"week1.csv", "week2.csv", "week3.csv"}, "week2.csv"},
		{"week4.csv", []string{"week1.csv", "week2.csv"}, ""}, // another number is another file
		{"home", []string{"Home"}, "Home"},
		{"Norht", []string{"North", "Norte"}, "North"},
		{"Nort", []string{"North", "Norte"}, ""}, // either
		{"ab", []string{"xy"}, ""},
		{"rul", []string{"rule"}, "rule"},
		{"", []string{"a"}, ""}, {"a", nil, ""},
	} {
		assert.Equal(t, c.want, survey.Meant(c.typed, c.among), c.typed)
	}
}
