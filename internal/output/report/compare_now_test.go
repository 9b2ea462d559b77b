package report_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A comparison begins with what to do now, in the words of the map of the last visit; of
// another field's it says nothing.
func TestAComparisonBeginsWithWhatToDoNow(t *testing.T) {
	r, f, s := twoVisits()
	f.Steps, f.Visits[0].Assess.Map, f.Visits[1].Assess.Map = []*compare.Step{s}, &zones.Map{}, &zones.Map{}
	v := verdict.Verdict{Field: f.Name, Kind: verdict.SpotSpray, On: "2031-08-24"}
	v.TreatArea = 51700
	other := v
	other.Field = "another"
	all := report.Answers(r, f, figures.Metric, other, v)
	assert.Equal(t, report.Answer{Asked: "What to do now", Said: []string{report.PlainAnswer(v, figures.Metric)}, Now: verdict.SpotSpray}, all[0])
	assert.Equal(t, report.Answers(r, f, figures.Metric), all[1:])
}

const toldApplicator = "Tell the applicator: the job sheet has the map's day."

func goBack(all []report.Answer) report.Answer {
	return all[slices.IndexFunc(all, func(a report.Answer) bool { return a.Next })]
}

// The day of the next look is one, in what to do now as in when to go back: the sooner of
// the map's and that of the growth.
func TestOneDayOfTheNextLook(t *testing.T) {
	r, f, s := twoVisits()
	f.Steps, f.Visits[0].Assess.Map, f.Visits[1].Assess.Map = []*compare.Step{s}, &zones.Map{}, &zones.Map{}
	v := verdict.Verdict{Field: f.Name, Kind: verdict.LookAgain, On: "2031-08-23"}
	for by, want := range map[string]string{"2031-08-21": "Thursday 21 August", "2031-08-23": "Saturday 23 August", "2031-08-24": "Saturday 23 August", "": "Saturday 23 August"} {
		f.Next = compare.Next{GoBackBy: by, MapLook: v.On}
		answers := report.Answers(r, f, figures.Metric, v)
		assert.Equal(t, []string{"Do not spray yet; look again on " + want + "."}, answers[0].Said, by)
		assert.NotContains(t, goBack(answers).Said, toldApplicator, by)
	}
	v.Kind = verdict.SpotSpray
	sooner := func(days string) string {
		return "Tell the applicator: without --good-for " + days + " the job sheet has the map's day."
	}
	for by, told := range map[string]string{"2031-08-21": toldApplicator, "2031-08-22": sooner("1"), "2031-08-23": ""} {
		f.Next = compare.Next{GoBackBy: by, MapLook: v.On}
		said := goBack(report.Answers(r, f, figures.Metric, v)).Said
		assert.Equal(t, told != "", strings.HasPrefix(said[len(said)-1], "Tell"), by)
		if told != "" {
			assert.Contains(t, said, told)
		}
		last, ok := report.CompareScreen{Result: r, Now: []verdict.Verdict{v}}.SpraySooner()
		assert.Equal(t, by == "2031-08-22", ok, by)
		assert.Equal(t, ok, last.GoodFor == 1)
	}
	// by the first day of the count, as the hand-off has it
	f.Next.GoBackBy, f.Visits[1].Assess.Stops = "2031-08-22", []assess.Stop{{Stop: survey.Stop{Date: "2031-08-20"}}}
	assert.Contains(t, goBack(report.Answers(r, f, figures.Metric, v)).Said, sooner("2"))
}

// A day sooner than the map's says that it is, and one that is the map's says whose.
func TestTheDayToGoBackDoesNotContradictTheMap(t *testing.T) {
	n := compare.Next{GoBackBy: "2026-07-16", MapLook: "2026-07-18", Why: compare.Reason{Cause: compare.Colonies, Days: 3}}
	assert.Equal(t, "Go back by Thursday 16 July: colonies are there, so look every 3 days. The map by itself says Saturday 18 July.", report.PlainGoBack(n, figures.Both))
	n.MapLook = "2026-07-16"
	assert.Equal(t, "Go back by Thursday 16 July: colonies are there, so look every 3 days.", report.PlainGoBack(n, figures.Both))
	n.Why = compare.Reason{Cause: compare.MapLook}
	assert.Equal(t, "Go back by Thursday 16 July: the last map asks for a look then.", report.PlainGoBack(n, figures.Both))
	assert.Equal(t, "the map of the last visit asks for a look then", report.GoBackWhy(n))
}
