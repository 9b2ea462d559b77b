package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Two stops at one place whose counts are of different zones are asked about.
func TestStopsAtOnePlaceAreAskedAbout(t *testing.T) {
	of := func(l vocabulary.Language, kind verdict.Kind, pairs ...assess.SharedPlace) []string {
		f := &assess.Field{Stops: []assess.Stop{at("4", 4, 40), at("5", 5, 50), at("4 again", 4, 39), at("5 again", 5, 9)}}
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}}
		v := verdict.Verdict{Kind: kind, Shared: pairs, Figures: verdict.Figures{Treat: 40, Watch: 10}}
		return report.PlainOf(r, f, v, figures.Both.In(l)).LookOut
	}
	four, five := assess.SharedPlace{First: 0, Then: 2}, assess.SharedPlace{First: 1, Then: 3}
	assert.Empty(t, of(vocabulary.English, verdict.NoSpray))
	assert.Equal(t, []string{"Stops 4 and 4 again are at one place, with 40 and 39 a leaf: which holds?"}, of(vocabulary.English, verdict.NoSpray, four))
	assert.Equal(t, []string{"Stops 5 and 5 again are at one place, with 50 and 9 a leaf: which holds? Ask the same of 4 again. That may make the red ground larger."},
		of(vocabulary.English, verdict.SpotSpray, four, five))
	assert.Equal(t, []string{"Los puntos 4 y 4 again están en un mismo lugar, con 40 y 39 por hoja: ¿cuál vale?"}, of(vocabulary.Spanish, verdict.NoSpray, four))
}

// Stops at the place of another are named, hot ones with their counts.
func TestStopsOutOfPlaceAreNamed(t *testing.T) {
	of := func(kind verdict.Kind, lost ...assess.Unread) []string {
		f := &assess.Field{Stops: []assess.Stop{at("1", 1, 30)}, Unread: lost}
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}}
		return report.PlainOf(r, f, verdict.Verdict{Kind: kind, Unread: lost, Figures: verdict.Figures{Treat: 40, Watch: 10}}, figures.Both).LookOut
	}
	lost := func(name, of string, mean float64) assess.Unread {
		s := survey.Stop{Name: name, Records: []survey.Record{{File: "a.csv", Stop: name, Total: 10 * mean, Units: 10}}}
		return assess.Unread{Rows: s.WithoutPlace(of), PlaceOf: of, Own: true, Share: 1}
	}
	const kept = ": did the phone keep one fix, or was it copied down? Give each stop its own place."
	assert.Equal(t, []string{"Stop 10 has the place of stop 9" + kept}, of(verdict.SpotSpray, lost("10", "9", 29)))
	assert.Equal(t, []string{"Stop 10 (31 a leaf, the highest) has the place of stop 9" + kept + " That may make the red ground larger."}, of(verdict.SpotSpray, lost("10", "9", 31)))
	assert.Equal(t, []string{"Stops 10 (40 a leaf), 11 (41 a leaf, the highest) have the place of stop 9" + kept}, of(verdict.NoSpray, lost("10", "9", 40), lost("11", "9", 41)))
	assert.Equal(t, []string{"Stops 10, 12 have the place of a stop before them" + kept}, of(verdict.NoSpray, lost("10", "9", 3), lost("12", "11", 3)))
}

func at(name string, longitude, value float64) assess.Stop {
	return assess.Stop{Value: value, Stop: survey.Stop{Name: name, Longitude: longitude, Records: []survey.Record{{File: "a.csv"}}}}
}
