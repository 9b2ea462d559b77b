package report_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Two stops at one place are asked about where their counts are of different zones, or the place
// was copied down.
func TestStopsAtOnePlaceAreAskedAbout(t *testing.T) {
	of := func(l vocabulary.Language, more ...assess.Stop) []string {
		f := &assess.Field{}
		stops := []assess.Stop{}
		for i := range 10 {
			stops = append(stops, at(fmt.Sprint(i), float64(i), float64(10*i)))
		}
		f.Stops = append(stops, more...)
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}}
		v := verdict.Verdict{Kind: verdict.NoSpray, Figures: verdict.Figures{Treat: 40, Watch: 10}}
		return report.PlainOf(r, f, v, figures.Both.In(l)).LookOut
	}
	const kept = ": did the phone keep one fix, or was it copied down? Give each stop its own place."
	assert.Empty(t, of(vocabulary.English))
	assert.Equal(t, []string{"Stop 10 has the place of stop 9" + kept}, of(vocabulary.English, at("10", 9, 3)))
	assert.Equal(t, []string{"Stops 10, 11 have the place of the stop before" + kept}, of(vocabulary.English, at("10", 9, 3), at("11", 9, 3)))
	assert.Equal(t, []string{"Stops 4 and 4 again are at one place, with 40 and 39 a leaf: which holds?"}, of(vocabulary.English, at("4 again", 4, 39)))
	assert.Empty(t, of(vocabulary.English, at("5 again", 5, 40), at("3 again", 3, 10)), "of the same zones")
	assert.Equal(t, []string{"Stops 5 and 5 again are at one place, with 50 and 9 a leaf: which holds? Ask the same of 4 again, 3 again."},
		of(vocabulary.English, at("4 again", 4, 39), at("5 again", 5, 9), at("3 again", 3, 40)))
	assert.Equal(t, []string{"Los puntos 4 y 4 again están en un mismo lugar, con 40 y 39 por hoja: ¿cuál vale?"}, of(vocabulary.Spanish, at("4 again", 4, 39)))
}

func at(name string, longitude, value float64) assess.Stop {
	return assess.Stop{Value: value, Stop: survey.Stop{Name: name, Longitude: longitude, Records: []survey.Record{{File: "a.csv"}}}}
}
