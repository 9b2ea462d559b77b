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

// Hot stops that were counted again with next to nothing are asked about on the map of both, the
// hottest by its counts; so they are by a comparison.
func TestStopsThatFellToNothingAreAskedAbout(t *testing.T) {
	again := func(name, day string, from, to float64) assess.Stop {
		s := at(name, 1, to)
		s.Date, s.First = day, &survey.Stop{Date: "2026-07-15", Total: 10 * from, Units: 10}
		return s
	}
	said := func(u figures.Units, stops ...assess.Stop) []string {
		f := &assess.Field{Stops: stops}
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}}
		return report.PlainOf(r, f, verdict.Verdict{Kind: verdict.NoSpray, Figures: verdict.Figures{Treat: 40, Watch: 10}}, u).LookOut
	}
	const asked = "Stop 7 fell from 500 to 0 a leaf in 1 day: was it sprayed, was it another place, or is a count wrong?"
	day := "2026-07-16"
	assert.Contains(t, said(figures.Both, again("7", day, 500, 0)), asked)
	assert.Contains(t, said(figures.Both, again("5", day, 40, 2), again("7", day, 500, 0)), asked+" Ask the same of 5.")
	assert.Contains(t, said(figures.Both.In(vocabulary.Spanish), again("7", day, 500, 0)), "El punto 7 bajó de 500 a 0 por hoja en 1 día: ¿se aplicó ahí, era otro lugar, o hay una cuenta mala?")
	for _, s := range []assess.Stop{again("7", "2026-07-18", 500, 0), again("7", day, 39, 0), again("7", day, 500, 26), at("7", 1, 0)} {
		assert.NotContains(t, said(figures.Both, s), "fell")
	}
	r, f, s := twoVisits()
	f.Visits[0].Assess.Map, f.Visits[1].Assess.Map = nil, nil
	s.Fallen = []assess.Fallen{{Stop: "7", From: 500, To: 0, Days: 1}}
	all := report.Answers(r, f, figures.Both)
	assert.Equal(t, "Look out", all[len(all)-1].Asked)
	assert.Contains(t, all[len(all)-1].Said, asked)
	s.Fallen = nil
	for _, v := range f.Visits { // within a visit of two days
		v.Assess.Stops = []assess.Stop{again("7", day, 500, 0)}
		assert.Contains(t, fmt.Sprint(report.Answers(r, f, figures.Both)), asked)
		v.Assess.Stops = nil
	}
	assert.NotContains(t, fmt.Sprint(report.Answers(r, f, figures.Both)), "fell from")
}
