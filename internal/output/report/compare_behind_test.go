package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A field that others were counted after says when it was counted last; once its map is good no
// longer it is to be counted again, not sprayed, and a day that is past is none to go back by.
func TestAnOldCountIsNoAnswerOfToday(t *testing.T) {
	r, f, s := twoVisits()
	f.Name, f.Steps, f.Visits[0].Assess.Map, f.Visits[1].Assess.Map, f.Visits[1].Last = "Pivot", []*compare.Step{s}, &zones.Map{}, &zones.Map{}, "2031-08-21"
	f.Next = compare.Next{GoBackBy: "2031-08-25", GoodUntil: "2031-08-28", Why: compare.Reason{Days: 4}}
	v := verdict.Verdict{Field: f.Name, Kind: verdict.SpotSpray, On: "2031-08-25"}
	v.TreatArea, v.Treat = 51700, 40
	for _, c := range []struct {
		behind, now, back string
		kind              verdict.Kind
	}{
		{"", "Spray the red ground, 5.17 ha, by Monday 25 August. If it is not sprayed by then, look again.", "Go back by Monday 25 August: the usual 4 days.", verdict.SpotSpray},
		{"2031-08-25", "Spray the red ground, 5.17 ha, by Monday 25 August. If it is not sprayed by then, look again. The last count is of Thursday 21 August.", "Go back by Monday 25 August: the usual 4 days.", verdict.SpotSpray},
		{"2031-08-28", "Spray the red ground, 5.17 ha, by Thursday 28 August. If it is not sprayed by then, look again. The last count is of Thursday 21 August.", "Go back at once: it was due by Monday 25 August.", verdict.SpotSpray},
		{"2031-08-29", "Count again: the last count is of Thursday 21 August, and its map was good until Thursday 28 August. Other fields were counted on Friday 29 August.", "Go back at once: it was due by Monday 25 August.", verdict.Undecided},
	} {
		f.Behind = c.behind
		answers := report.Answers(r, f, figures.Metric, v)
		assert.Equal(t, c.now, strings.Join(answers[0].Said, " "))
		assert.Equal(t, c.kind, answers[0].Now)
		assert.Equal(t, c.back, goBack(answers).Said[0])
		f.Again = &compare.Again{Red: 10000, Rest: 41700}
		_, rest := report.CompareScreen{Result: r, Now: []verdict.Verdict{v}}.SprayTheRest()
		assert.Equal(t, c.kind == verdict.SpotSpray, rest, c.behind)
		f.Again = nil
	}
}

// In a table a day that is past is "at once", and a field to be counted again is told at length.
func TestFieldsBehindInATable(t *testing.T) {
	r := leveled(20, 20, 20)
	for i, f := range r.Fields {
		f.Steps = []*compare.Step{{From: 0, To: 1, Days: 7}}
		f.Next = compare.Next{GoBackBy: "2031-08-24", GoodUntil: "2031-08-28"}
		f.Behind = []string{"", "2031-08-26", "2031-08-30"}[i]
	}
	now := []verdict.Verdict{{Field: "A", Kind: verdict.NoSpray}, {Field: "B", Kind: verdict.NoSpray}, {Field: "C", Kind: verdict.NoSpray}}
	var lines []string
	for _, l := range (report.CompareBrief{CompareScreen: report.CompareScreen{Result: r, Now: now, Units: figures.Metric}, Width: 200}).Lines() {
		lines = append(lines, strings.Join(strings.Fields(l.Text), " "))
	}
	assert.Subset(t, lines, []string{"A still 0 Sun 24 Aug 2", "B still 0 at once 2", "C still 0 at once 2"})
	assert.NotContains(t, strings.Join(lines, "\n"), "B, 0.00 ha")
	assert.Contains(t, strings.Join(lines, "\n"), "Count again: the last count is of")
}
