//go:build !small

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

// A stop that one of two people found at the spray level and that is under it by both together
// is asked about; not where both together are at it, and not leaves of one person.
func TestPeopleWhoCountDifferentlyAreAskedAbout(t *testing.T) {
	of := func(l vocabulary.Language, kind verdict.Kind, stops ...assess.Stop) []string {
		f := &assess.Field{Stops: stops}
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}}
		return report.PlainOf(r, f, verdict.Verdict{Kind: kind, Figures: verdict.Figures{Treat: 40, Watch: 10}}, figures.Both.In(l)).LookOut
	}
	stop := func(name string, rows ...survey.Record) assess.Stop {
		s := assess.Stop{Stop: survey.Stop{Name: name, Records: rows}}
		for _, r := range rows {
			s.Total, s.Units = s.Total+r.Total, s.Units+r.Units
		}
		s.Value = s.Mean()
		return s
	}
	by := func(who string, total, leaves float64) survey.Record {
		return survey.Record{Observer: who, Total: total, Units: leaves}
	}
	eight := stop("8", by("A", 6, 10), by("B", 400, 10), by("A", 4, 10))
	nine := stop("9", by("A", 10, 10), by("", 500, 10))
	assert.Equal(t, []string{"At stop 8 one person counted 0.5 and another 40 a leaf: which holds? Their average was used."}, of(vocabulary.English, verdict.NoSpray, eight))
	assert.Equal(t, []string{"At stop 9 one person counted 1 and another 50 a leaf: which holds? Their average was used. Ask the same of 8. That may make the red ground larger."},
		of(vocabulary.English, verdict.SpotSpray, eight, nine))
	assert.Equal(t, []string{"En el punto 8 una persona contó 0.5 y otra 40 por hoja: ¿cuál vale? Se usó su promedio."}, of(vocabulary.Spanish, verdict.NoSpray, eight))
	for name, s := range map[string]assess.Stop{
		"one person":        stop("1", by("A", 6, 10), by("A", 400, 10)),
		"just under":        stop("2", by("A", 6, 10), by("B", 399, 10)),
		"together at it":    stop("3", by("A", 400, 10), by("B", 410, 10)),
		"at it by the mean": stop("4", by("A", 0, 10), by("B", 800, 10)),
	} {
		assert.Empty(t, of(vocabulary.English, verdict.NoSpray, s), name)
	}
}
