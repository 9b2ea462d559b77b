package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Ground that was sprayed not long before is not called for again without asking why.
func TestSprayedGroundIsNotCalledForAgain(t *testing.T) {
	const (
		all    = "Spray the red ground, 14.5 ha, by Saturday 23 August. If it is not sprayed by then, look again."
		part   = "Spray the red ground that was not sprayed, 8.30 ha, by Saturday 23 August. If it is not sprayed by then, look again."
		was    = "Of the red ground 6.20 ha was sprayed on Friday 15 August."
		why    = "Find out why before spraying it again; the label limits repeats."
		count  = "Count it before spraying it again; the label limits repeats."
		notYet = "Do not spray again yet; look again on Saturday 23 August."
	)
	days := []string{"2031-08-15"}
	for name, c := range map[string]struct {
		kind, instead verdict.Kind
		again         *compare.Again
		want          []string
		now           verdict.Kind
	}{
		"never sprayed":      {verdict.SpotSpray, 0, nil, []string{all}, verdict.SpotSpray},
		"sprayed elsewhere":  {verdict.SpotSpray, 0, &compare.Again{Dates: days, Rest: 145000, Treated: 9000, Counted: true}, []string{all}, verdict.SpotSpray},
		"a trifle, by width": {verdict.SpotSpray, 0, &compare.Again{Dates: days, Red: 4, Rest: 145000, Treated: 9000, Counted: true}, []string{all}, verdict.SpotSpray},
		"in part":            {verdict.SpotSpray, 0, &compare.Again{Dates: days, Red: 62000, Rest: 83000, Counted: true}, []string{part, was, why}, verdict.SpotSpray},
		"not counted since":  {verdict.SpotSpray, 0, &compare.Again{Dates: days, Red: 62000, Rest: 83000}, []string{part, was, count}, verdict.SpotSpray},
		"all of it":          {verdict.SpotSpray, 0, &compare.Again{Dates: days, Red: 62000, Counted: true}, []string{notYet, was, why}, verdict.LookAgain},
		"the whole field": {verdict.TreatWhole, 0, &compare.Again{Dates: days, Red: 62000, Treated: 100000, Counted: true},
			[]string{"Spray the ground that was not sprayed, 40.0 ha, by Saturday 23 August. If it is not sprayed by then, look again.", "Of the field 10.0 ha was sprayed on Friday 15 August.", why}, verdict.TreatWhole},
		"a field sprayed whole": {verdict.TreatWhole, 0, &compare.Again{Dates: days, Treated: 500000, Counted: true}, []string{notYet, "Of the field 50.0 ha was sprayed on Friday 15 August.", why}, verdict.LookAgain},
		"nothing to spray":      {verdict.LookAgain, 0, &compare.Again{Dates: days, Red: 62000, Counted: true}, []string{"Do not spray yet; look again on Saturday 23 August."}, verdict.LookAgain},
		"undecided": {verdict.Undecided, verdict.SpotSpray, &compare.Again{Dates: days, Red: 62000, Rest: 83000, Counted: true},
			[]string{"Not decided yet: count more stops today. If you cannot, spray the red ground, 14.5 ha, by Saturday 23 August. If it is not sprayed by then, look again.", was, why}, verdict.Undecided},
	} {
		t.Run(name, func(t *testing.T) {
			r, f, s := twoVisits()
			f.Steps, f.Visits[0].Assess.Map, f.Visits[1].Assess.Map = []*compare.Step{s}, &zones.Map{}, &zones.Map{}
			f.Area, f.Again = 500000, c.again
			v := verdict.Verdict{Field: f.Name, Kind: c.kind, Instead: c.instead, On: "2031-08-23"}
			v.TreatArea, v.Area, v.Treat = 145000, 500000, 40
			got := report.Answers(r, f, figures.Metric, v)[0]
			assert.Equal(t, report.Answer{Asked: "What to do now", Said: c.want, Now: c.now}, got)
		})
	}
}
