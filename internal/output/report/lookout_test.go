package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A day that nobody told, and stops that the average goes without though nobody marked
// them, are named.
func TestGuessesAreNamed(t *testing.T) {
	r, f := &assess.Result{Survey: &survey.Survey{}}, &assess.Field{Field: geo.Field{Name: "A"}}
	for _, name := range []string{"1", "2", "3"} {
		f.Stops = append(f.Stops, assess.Stop{Stop: survey.Stop{Name: name, Records: []survey.Record{{File: "a.csv"}}}})
	}
	r.Fields = []*assess.Field{f}
	says := func(l vocabulary.Language) []string {
		return report.Guesses(r, f, figures.Both.In(l))
	}
	assert.Empty(t, says(vocabulary.English))

	day := survey.OpenDay{File: "a.csv", Text: "7/8/2026", MonthFirst: "2026-07-08", DayFirst: "2026-08-07"}
	r.Survey.OpenDays = []survey.OpenDay{day}
	assert.Empty(t, says(vocabulary.English), "as asked")
	for guess, want := range map[string]string{
		day.MonthFirst: "The date 7/8/2026 was read as Wednesday 8 July, but may be Friday 7 August.",
		day.DayFirst:   "The date 7/8/2026 was read as Friday 7 August, but may be Wednesday 8 July.",
	} {
		r.Survey.OpenDays[0].Guessed = guess
		assert.Equal(t, []string{want}, says(vocabulary.English))
	}
	r.Survey.OpenDays[0].File = "b.csv"
	assert.Empty(t, says(vocabulary.English), "a file of other fields")

	f.Together = []assess.Together{{At: 1, Others: []int{2}}}
	assert.Equal(t, []string{"Not in the average: 1 more stop close to stop 2."}, says(vocabulary.English))
	assert.Equal(t, []string{"Fuera del promedio: 1 punto más junto al punto 2."}, says(vocabulary.Spanish))
	f.Together = append(f.Together, assess.Together{At: 0, Others: []int{2, 2, 2}})
	assert.Equal(t, []string{"Not in the average: 4 more stops close to others, at 2 places."}, says(vocabulary.English))
}
