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

// What is looked out for first are stops of odd leaves, and whether they decide: at the
// spray level with as many leaves as usual, and below it as read, or the other way.
func TestOddLeavesAreLookedOutFor(t *testing.T) {
	stop := func(name string, line int, total, units float64) survey.Stop {
		return survey.Stop{Name: name, Longitude: float64(line), Total: total, Units: units, Records: []survey.Record{{File: "a.csv", Line: line}}}
	}
	of := func(l vocabulary.Language, stops ...survey.Stop) []string {
		r, f := &assess.Result{Survey: &survey.Survey{}}, &assess.Field{}
		for _, s := range stops {
			r.Survey.Odd = append(r.Survey.Odd, survey.OddUnits{Stop: s, Usual: 10})
			f.Stops = append(f.Stops, assess.Stop{Stop: s, Value: s.Mean()})
		}
		r.Survey.Odd = append(r.Survey.Odd, survey.OddUnits{Stop: stop("elsewhere", 99, 1, 100), Usual: 10})
		return report.PlainOf(r, f, verdict.Verdict{Kind: verdict.NoSpray, Figures: verdict.Figures{Treat: 40}}, figures.Both.In(l)).LookOut
	}
	const decides = " If so, it is at the spray level: set that right before you decide."
	assert.Empty(t, of(vocabulary.English), "a stop of another field")
	many := "Stop A has 100 leaves, most others about 10: is there a 0 too many?"
	assert.Equal(t, []string{many}, of(vocabulary.English, stop("A", 2, 399, 100)))
	assert.Equal(t, []string{many + decides}, of(vocabulary.English, stop("A", 2, 400, 100)))
	assert.Equal(t, []string{many}, of(vocabulary.English, stop("A", 2, 4000, 100)), "at the level either way")
	assert.Equal(t, []string{"El punto A tiene 100 hojas, los demás alrededor de 10: ¿sobra un 0?"}, of(vocabulary.Spanish, stop("A", 2, 399, 100)))
	assert.Equal(t, []string{"Stops A, B have 100 leaves or more, most others about 10: is there a 0 too many?" + decides},
		of(vocabulary.English, stop("A", 2, 400, 100), stop("B", 3, 1, 120)))
	few := "Stop C has 1 leaf, most others about 10: is a 0 missing?"
	assert.Equal(t, []string{few}, of(vocabulary.English, stop("C", 2, 39, 1)))
	assert.Equal(t, []string{few + " If so, it is below the spray level: set that right before you decide."}, of(vocabulary.English, stop("C", 2, 40, 1)))
	assert.Equal(t, []string{few}, of(vocabulary.English, stop("C", 2, 400, 1)), "at the level either way")
}
