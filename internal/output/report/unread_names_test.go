package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// What is in doubt is said as what it is: rows that were not read, stops out of place, two counts.
func TestWhatIsInDoubtIsSaid(t *testing.T) {
	row := assess.Unread{Own: true, Share: 1, Rows: []survey.Unread{{Problem: survey.Problem{File: "a.csv", Line: 9}, Row: survey.Record{Stop: "9"}, Placed: true, Most: 1}}}
	moved := assess.Unread{Own: true, Share: 1, PlaceOf: "3", Rows: survey.Stop{Records: []survey.Record{{File: "a.csv", Line: 5, Stop: "4", Total: 9, Units: 1}}}.WithoutPlace("3")}
	pair := []assess.SharedPlace{{First: 0, Then: 1}}
	for want, v := range map[string]verdict.Verdict{
		"Not decided yet: the count of stop 9 could not be read; find it out or count it again today.":             {Unread: []assess.Unread{row}},
		"Not decided yet: stop 4 has no place of its own; find out where it was or count it again today.":          {Unread: []assess.Unread{moved}},
		"Not decided yet: 2 stops have no place of their own; find out where they were or count them again today.": {Unread: []assess.Unread{moved, moved}},
		"Not decided yet: one place has two counts; find out which holds or count there again today.":              {Shared: pair},
		"Not decided yet: 2 places have two counts; find out which hold or count there again today.":               {Shared: append(pair, pair...)},
		"Not decided yet: 3 counts are in doubt; find them out or count them again today.":                         {Unread: []assess.Unread{row, moved}, Shared: pair},
	} {
		v.Kind, v.Line, v.Days = verdict.Undecided, verdict.Unread, 3
		assert.Contains(t, report.PlainAnswer(v, figures.Both), want)
	}
	heading := func(unread ...assess.Unread) string {
		return report.VerdictHeading(verdict.Verdict{Kind: verdict.Undecided, Line: verdict.Unread, Unread: unread, Days: 3}, figures.Both)
	}
	assert.Contains(t, heading(moved), "undecided: stop 4 has the place of stop 3 (a.csv:5): find it out or count it again today")
	assert.Contains(t, heading(moved, moved), "undecided: 2 stops have the place of another: stop 4 (a.csv:5), stop 4 (a.csv:5): find them out")
	assert.Contains(t, heading(row, moved), "undecided: the count of stop 9 could not be read (a.csv:9); stop 4 has the place of stop 3 (a.csv:5): find them out")
}
