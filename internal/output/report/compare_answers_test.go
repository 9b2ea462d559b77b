package report_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
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
	assert.Equal(t, []report.Answer{
		{Asked: "What changed", Said: []string{"The average rose from 8 to 20.5 a leaf in 7 days, doubling about every 5.3 days.", "There is no red ground."}},
		{Asked: "When to go back", Said: []string{"Go back by Monday 25 August: the usual 4 days."}, Next: true},
	}, answered(func(*compare.Field, *compare.Step) {}))
	of := func(asked string, change func(f *compare.Field, s *compare.Step)) string {
		said := ""
		for _, a := range answered(change) {
			if a.Asked == asked {
				said += strings.Join(a.Said, " ")
			}
		}
		return said
	}
	notRead := func(stops ...int) func(f *compare.Field, s *compare.Step) {
		return func(f *compare.Field, _ *compare.Step) {
			for i, n := range stops {
				f.Visits[i].Assess.Unread = slices.Repeat([]assess.Unread{{Own: true}}, n)
			}
		}
	}
	assert.Empty(t, of("Look out", notRead(0, 0)))
	assert.Equal(t, "1 stop of Thursday 21 August could not be read, so this may be wrong.", of("Look out", notRead(0, 1)))
	assert.Equal(t, "2 stops of Thursday 14 August and 1 stop of Thursday 21 August could not be read, so this may be wrong.", of("Look out", notRead(2, 1)), "in the order of the visits")

	red := func(before, after float64) func(f *compare.Field, s *compare.Step) {
		return func(f *compare.Field, _ *compare.Step) {
			for i, area := range []float64{before, after} {
				f.Visits[i].Assess.Map.Zones = []zones.Zone{{Class: zones.Treat, Area: area}}
			}
		}
	}
	for want, areas := range map[string][2]float64{
		"The red ground is new: 5.10 ha.":                {0, 51000},
		"The red ground is gone; it was 5.10 ha.":        {51000, 0},
		"The red ground grew from 5.10 ha to 6.00 ha.":   {51000, 60000},
		"The red ground shrank from 6.00 ha to 5.10 ha.": {60000, 51000},
		"The red ground is still 5.10 ha.":               {51000, 51001},
	} {
		assert.Contains(t, of("What changed", red(areas[0], areas[1])), want)
	}
	for want, areas := range map[string][3]float64{
		"The red ground, 5.10 ha, was not looked at again.":                                             {51000, 0, 51000},
		"The red ground is gone from 1.10 ha, and 4.00 ha of it was not looked at again.":               {51000, 0, 40000},
		"The red ground is gone; it was 5.10 ha.":                                                       {51000, 0, 4},
		"The red ground was 5.10 ha and is 1.00 ha now; 4.00 ha of it was not looked at again.":         {51000, 10000, 40000},
		"The red ground grew from 5.10 ha to 6.00 ha; of what was red 1.00 ha was not looked at again.": {51000, 60000, 10000},
	} {
		assert.Contains(t, of("What changed", func(f *compare.Field, s *compare.Step) {
			red(areas[0], areas[1])(f, s)
			s.Areas = map[change.Kind]float64{change.NotSeen: areas[2]}
		}), want)
	}
	assert.NotContains(t, of("What changed", func(f *compare.Field, s *compare.Step) {
		red(0, 51000)(f, s)
		f.Visits[1].Assess.Trust.Doubts = []assess.Doubt{assess.NoSkill}
	}), "red ground", "no ground of a map that may not be believed")
}

// Of several visits the last two are told of, and a day of another year has its year; what is of all
// ground stands before what is of ground not sprayed alone.
func TestAnswersSayOfWhichVisitsAndGroundTheyAre(t *testing.T) {
	all := answered(func(f *compare.Field, s *compare.Step) {
		f.Visits, s.From, s.To, s.Basis = append(f.Visits[:1:1], f.Visits...), 1, 2, compare.Untreated
		f.Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2030-08-15"}, Why: &compare.NoEfficacy{Gap: compare.NotYet}}}
	})
	assert.Equal(t, []string{"There is no red ground.", "In ground not sprayed: the average rose from 8 to 20.5 a leaf in 7 days, doubling about every 5.3 days."}, all[0].Said)
	assert.Equal(t, []string{"Nobody has counted since the spray of Thursday 15 August 2030."}, all[1].Said)
}

func TestAnswersSayWhatATreatmentMissed(t *testing.T) {
	said := func(tr compare.TreatmentResult) report.Answer {
		tr.Date = "2031-08-15"
		return answered(func(f *compare.Field, _ *compare.Step) { f.Treatments = []compare.TreatmentResult{tr} })[1]
	}
	tr := compare.TreatmentResult{Why: &compare.NoEfficacy{Gap: compare.NotYet}, Coverage: &change.Coverage{Missed: 9700}}
	assert.Equal(t, report.Answer{Asked: "Did the spray work", Said: []string{"Nobody has counted since the spray of Friday 15 August.", "It missed 0.97 ha of the red ground."}}, said(tr))
	tr.Coverage.Missed = 0
	assert.Equal(t, []string{"Nobody has counted since the spray of Friday 15 August."}, said(tr).Said)
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
