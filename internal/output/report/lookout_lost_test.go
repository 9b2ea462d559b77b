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

// The hottest stop whose place is lost is named with its count, where that is at the spray level
// or higher than all others.
func TestTheHottestLostStopIsNamed(t *testing.T) {
	stop := func(name string, total float64) survey.Stop {
		return survey.Stop{Name: name, Total: total, Units: 10, Records: []survey.Record{{File: "a.csv", Stop: name, Total: total, Units: 10}}}
	}
	of := func(l vocabulary.Language, highest float64, kind verdict.Kind, away []survey.Stop, unread ...assess.Unread) []string {
		f := &assess.Field{Stops: []assess.Stop{{Stop: stop("1", 10*highest), Value: highest}}, Unread: unread}
		r := &assess.Result{Survey: &survey.Survey{}, Fields: []*assess.Field{f}, Away: away}
		v := verdict.Verdict{Kind: kind, Figures: verdict.Figures{Treat: 40}, Away: len(away), Unread: unread}
		return report.PlainOf(r, f, v, figures.Both.In(l)).LookOut
	}
	lost := func(name string, total float64, counted bool) assess.Unread {
		row := survey.Unread{Problem: survey.Problem{File: "a.csv", Line: 5}, Row: stop(name, total).Records[0], Units: 10, Least: total / 10, Most: total / 10}
		if !counted {
			row.Most = 1e9
		}
		return assess.Unread{Rows: []survey.Unread{row}, Own: true, Share: 1}
	}
	for _, c := range []struct {
		highest float64
		kind    verdict.Kind
		away    []survey.Stop
		want    string
	}{
		{50, verdict.SpotSpray, []survey.Stop{stop("4", 866)}, "Stop 4 (86.6 a leaf, the highest) lies in no field; check where it belongs. That may make the red ground larger."},
		{100, verdict.NoSpray, []survey.Stop{stop("3", 399), stop("4", 400), stop("5", 400)}, "Stop 4 (40 a leaf) lies in no field; check where it belongs. 2 more stops lie in no field."},
		{30, verdict.NoSpray, []survey.Stop{stop("3", 310)}, "Stop 3 (31 a leaf, the highest) lies in no field; check where it belongs."},
		{39, verdict.NoSpray, []survey.Stop{stop("3", 390)}, "1 stop lies in no field; check where it belongs."},
	} {
		assert.Equal(t, []string{c.want}, of(vocabulary.English, c.highest, c.kind, c.away))
	}
	assert.Equal(t, []string{"Stop 4 (86.6 a leaf, the highest) has no place in a field; find out where it was.", "2 rows not read: a.csv:5, a.csv:5."},
		of(vocabulary.English, 50, verdict.NoSpray, nil, lost("2", 600, true), lost("4", 866, true)))
	assert.Equal(t, []string{"El punto 4 (86.6 por hoja, el más alto) no tiene lugar en un campo; averigüe dónde estuvo."},
		of(vocabulary.Spanish, 50, verdict.NoSpray, nil, lost("4", 866, true))[:1])
	assert.Equal(t, []string{"A stop (40 a leaf) has no place in a field; find out where it was."}, of(vocabulary.English, 50, verdict.NoSpray, nil, lost("", 400, true))[:1])
	for _, u := range []assess.Unread{lost("4", 866, false), lost("4", 399, true)} {
		assert.Equal(t, []string{"1 row not read: a.csv:5."}, of(vocabulary.English, 50, verdict.NoSpray, nil, u))
	}
}
