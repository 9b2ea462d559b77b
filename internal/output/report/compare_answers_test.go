package report_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// answered are the answers to an invented field, after a change to it.
func answered(change func(f *compare.Field, s *compare.Step)) []report.Answer {
	r, f, s := twoVisits()
	f.Next = compare.Next{GoBackBy: "2031-08-25", Why: compare.Reason{Cause: compare.UsualVisit, Days: 4}}
	for _, v := range f.Visits {
		v.Assess.Map = &zones.Map{}
	}
	change(f, s)
	return report.Answers(r, f, figures.Metric)
}

func TestAnswersAreShort(t *testing.T) {
	grew := func(change func(f *compare.Field, s *compare.Step)) []string { return answered(change)[0].Said }
	assert.Equal(t, []report.Answer{
		{Asked: "What grew", Said: []string{"Up from 8 to 20.5 a leaf in 7 days.", "Doubles about every 5.33 days."}},
		{Asked: "Go back by Monday 25 August", Said: []string{"The usual 4 days."}},
	}, answered(func(*compare.Field, *compare.Step) {}))
	assert.Equal(t, []string{"Down from 20.5 to 8 a leaf in 7 days.", "Too few stops to be sure of that."}, grew(func(_ *compare.Field, s *compare.Step) {
		s.Change.MeanA, s.Change.MeanB, s.Change.Rate, s.Change.StandsOut = 20.5, 8, -0.13, false
	}))
	assert.Equal(t, []string{"Nothing was found at either visit."}, grew(func(_ *compare.Field, s *compare.Step) { s.Change.Rate = math.NaN() }))
	assert.Equal(t, []string{"Cannot be told: too few stops lie outside the sprayed ground."}, grew(func(_ *compare.Field, s *compare.Step) { s.Basis = compare.NoGround }))
	assert.Equal(t, "A few stops make this average: the usual stop went the other way.", grew(func(_ *compare.Field, s *compare.Step) { s.Change.Typical = -2 })[1])
	assert.Equal(t, "That it changed is sure, how fast is not.", grew(func(_ *compare.Field, s *compare.Step) { s.Change.Interval = paired.Interval{Low: -0.1, High: 0.3} })[1])
	assert.Contains(t, grew(func(_ *compare.Field, s *compare.Step) { s.Basis = compare.Untreated })[0], "in 7 days where nothing was sprayed.")
	assert.Contains(t, grew(func(f *compare.Field, _ *compare.Step) {
		f.Visits[1].Assess.Unread = []assess.Unread{{Own: true}}
	}), "But not read: 1 stop of 2031-08-21, so all of this may be wrong.")
	assert.Contains(t, grew(func(f *compare.Field, _ *compare.Step) {
		f.Visits[0].Assess.Unread = []assess.Unread{{Own: true}, {Own: true}}
		f.Visits[1].Assess.Unread = []assess.Unread{{Own: true}}
	}), "But not read: 2 stops of 2031-08-14 and 1 stop of 2031-08-21, so all of this may be wrong.", "in the order of the visits")
	treat := func(f *compare.Field, _ *compare.Step) {
		f.Visits[1].Assess.Map.Zones = []zones.Zone{{Class: zones.Treat, Area: 51000}}
	}
	assert.Contains(t, grew(treat), "Red ground: 0.00 ha before, 5.10 ha now.")
	assert.Len(t, grew(func(f *compare.Field, s *compare.Step) {
		treat(f, s)
		f.Visits[1].Assess.Trust.Doubts = []assess.Doubt{assess.NoSkill}
	}), 2, "no ground of a map that may not be believed")
}

func TestWhetherATreatmentWorkedIsShort(t *testing.T) {
	said := func(tr compare.TreatmentResult) []string {
		tr.Date = "2031-08-15"
		all := answered(func(f *compare.Field, _ *compare.Step) { f.Treatments = []compare.TreatmentResult{tr} })
		assert.Equal(t, "Did the spray of Friday 15 August work?", all[1].Asked)
		return all[1].Said
	}
	effect := func(percent, low, high float64) compare.TreatmentResult {
		return compare.TreatmentResult{Efficacy: &paired.Efficacy{Percent: percent, Interval: paired.Interval{Low: low, High: high}}}
	}
	assert.Equal(t, []string{"It took 85 % of what would be there without it (70 to 92 %)."}, said(effect(85, 70, 92)))
	assert.Equal(t, []string{"No effect to be seen: anywhere from 10 % more to 60 % less than without it."}, said(effect(30, -10, 60)))
	assert.Equal(t, []string{"There is 40 % more than there would be without it."}, said(effect(-40, -60, -20)))
	assert.Equal(t, []string{"It took 40 % of what would be there without it; how sure cannot be told."}, said(effect(40, math.NaN(), math.NaN())))
	missed := compare.TreatmentResult{Why: &compare.NoEfficacy{Gap: compare.NotYet}, Coverage: &change.Coverage{Missed: 9700}}
	assert.Equal(t, []string{"Cannot be told: no visit after it yet.", "It missed 0.97 ha of the red ground."}, said(missed))
	missed.Coverage.Missed = 0
	assert.Equal(t, []string{"Cannot be told: no visit after it yet."}, said(missed))
}

// Every line that was said under the tables stands under a heading, once.
func TestGroupsHaveHeadings(t *testing.T) {
	r, f, _ := twoVisits()
	f.Next = compare.Next{GoBackBy: "2031-08-25", Rate: math.NaN(), Within: []compare.Ahead{{}}}
	f.Tracks = &change.Tracks{}
	f.Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2031-08-15"}}, {Treatment: compare.Treatment{Date: "2031-08-18"}}}
	var headings []string
	for _, g := range report.CompareGroups(report.CompareScreen{Result: r}, f) {
		headings = append(headings, g.Heading)
		assert.NotEmpty(t, g.Lines, g.Heading)
	}
	assert.Equal(t, []string{"When to go back", "Treatment of 2031-08-15", "Treatment of 2031-08-18"}, headings)
}
