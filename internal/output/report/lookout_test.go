package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Stops that are there twice, a day that nobody told, and stops that the average goes without
// though nobody marked them, are named: the first two where the answer is looked out for.
func TestGuessesAreNamed(t *testing.T) {
	r, f := &assess.Result{Survey: &survey.Survey{}}, &assess.Field{Field: geo.Field{Name: "A"}}
	for i, name := range []string{"1", "2", "3"} {
		f.Stops = append(f.Stops, assess.Stop{Stop: survey.Stop{Name: name, Longitude: float64(i), Records: []survey.Record{{File: "a.csv"}}}})
	}
	r.Fields = []*assess.Field{f}
	says := func(l vocabulary.Language) []string {
		u := figures.Both.In(l)
		assert.NotContains(t, report.Guesses(r, f, u), "The date")
		return append(report.PlainOf(r, f, verdict.Verdict{}, u).LookOut, report.Guesses(r, f, u)...)
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
	const first = "stop,longitude,latitude,count,leaves\n1,-101.6,35.9,3,10\n2,-101.61,35.9,9,10\n3,-101.62,35.9,0,10\n"
	const others = "5,-101.63,35.9,30,10\n6,-101.64,35.9,30,10\n7,-101.65,35.9,30,10\n"
	for text, want := range map[string]string{
		"1,-101.6,35.9,30,10\n":                                "Stop 1 is there twice with different counts, which were both used: a.csv:2 and a.csv:5.",
		others + "1,-101.6,35.9,30,10\n2,-101.61,35.9,30,10\n": "2 stops are there twice with different counts, which were both used: a.csv:2 and a.csv:8, a.csv:3 and a.csv:9.",
	} {
		read, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(first + text)}}, survey.Options{})
		require.NoError(t, err)
		field, of := &assess.Field{}, &assess.Result{Survey: read}
		for _, s := range read.Stops {
			field.Stops = append(field.Stops, assess.Stop{Stop: s})
		}
		assert.Contains(t, report.PlainOf(of, field, verdict.Verdict{}, figures.Both).LookOut, want)
		field.Stops = field.Stops[2:]
		assert.Empty(t, report.PlainOf(of, field, verdict.Verdict{}, figures.Both).LookOut, "of another field")
	}
	slipped := &assess.Result{Survey: &survey.Survey{Slips: []survey.Slip{{File: "a.csv", Column: "date", From: 2, To: 9}, {File: "a.csv", Column: "count", From: 2, To: 9, Sorted: true}}}}
	for line, want := range map[int][]string{
		1: nil, 10: nil,
		2: {"The column date in a.csv stays the same or goes in equal steps from line 2 to 9: was it filled by dragging? The counts in a.csv are in order from first to last: was that column sorted alone, or summed up?"},
	} {
		of := &assess.Field{Stops: []assess.Stop{{Stop: survey.Stop{Records: []survey.Record{{File: "a.csv", Line: line}}}}}}
		assert.Equal(t, want, report.PlainOf(slipped, of, verdict.Verdict{}, figures.Both).LookOut)
	}
	r.Survey.OpenDays[0].File = "b.csv"
	assert.Empty(t, says(vocabulary.English), "a file of other fields")

	f.Together = []assess.Together{{At: 1, Others: []int{2}}}
	assert.Equal(t, []string{"Not in the average: 1 more stop close to stop 2."}, says(vocabulary.English))
	assert.Equal(t, []string{"Fuera del promedio: 1 punto más junto al punto 2."}, says(vocabulary.Spanish))
	f.Together = append(f.Together, assess.Together{At: 0, Others: []int{2, 2, 2}})
	assert.Equal(t, []string{"Not in the average: 4 more stops close to others, at 2 places."}, says(vocabulary.English))
}

// Words that were read as counts of 0 are said before other notes, as only the first few are there
// on the short screen.
func TestWordsReadAsZeroAreNotedFirst(t *testing.T) {
	r := &assess.Result{Notes: []string{"one", "two", "three"}, Survey: &survey.Survey{Notes: []string{"zeros", "four"}, Nones: []string{"zeros"}}}
	var screen strings.Builder
	require.NoError(t, report.Brief{Screen: report.Screen{Result: r}, Width: 200}.Write(&screen))
	assert.Contains(t, screen.String(), "Note: zeros\nNote: one\nNote: two\n2 more notes: see --details.\n")
}
