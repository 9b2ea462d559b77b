package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Averages of some of the stops are not those of the maps, and say of what they are.
func TestAveragesOfSomePlacesSaySo(t *testing.T) {
	for _, c := range []struct {
		before, after int // stops of the visits, of which 6 are matched
		basis         compare.Basis
		unmatched     bool
		want          string
		marked        bool
	}{
		{6, 6, compare.AllGround, false, "The average rose", false},
		{7, 6, compare.AllGround, false, "At the 6 places counted twice: the average rose", true},
		{6, 7, compare.AllGround, false, "At the 6 places counted twice: the average rose", true},
		{7, 7, compare.AllGround, true, "The average rose", false},
		{7, 7, compare.Untreated, true, "In ground not sprayed: the average rose", true},
		{7, 7, compare.Untreated, false, "In ground not sprayed, at the 6 places counted twice: the average rose", true},
		{7, 7, compare.Regrowth, false, "In ground not sprayed between the visits, at the 6 places counted twice: the average rose", true},
	} {
		r, f, s := twoVisits()
		s.Basis, s.Change.Matched = c.basis, !c.unmatched
		for i, n := range []int{c.before, c.after} {
			f.Visits[i].Assess.Stops, f.Visits[i].Assess.Map = make([]assess.Stop, n), &zones.Map{}
		}
		assert.Contains(t, report.PlainChange(f, s, r.Statistic, figures.Metric), c.want+" from 8 to 20.5 a leaf")
		r.Fields = []*compare.Field{f, f, f, f}
		var table []string
		for _, line := range (report.CompareBrief{CompareScreen: report.CompareScreen{Result: r, Units: figures.Metric}}).Lines() {
			table = append(table, line.Text)
		}
		text := strings.Join(table, "\n")
		assert.Contains(t, text, "average a leaf")
		assert.Equal(t, c.marked, strings.Contains(text, "rose, 8 to 20.5 *"), c)
		assert.Equal(t, c.marked, strings.Contains(text, "\n* Of ground not sprayed, or of places counted twice: not the map's average."), c)
	}
}

// What a spray took says nothing of what stands there now.
func TestWhatStandsInSprayedGroundNow(t *testing.T) {
	said := func(parts ...compare.Part) string {
		all := answered(func(f *compare.Field, s *compare.Step) {
			s.Parts = append(parts, compare.Part{Lot: compare.NotTreated, NA: 9, NB: 9, MeanB: 99})
			f.Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2031-08-08"}, Why: &compare.NoEfficacy{Gap: compare.TooFewStops}}}
		})
		return strings.Join(all[1].Said[1:], " ")
	}
	before := func(n int, mean float64) compare.Part {
		return compare.Part{Lot: compare.TreatedBefore, Dates: []string{"2031-08-08"}, NA: 2, NB: n, MeanA: 1, MeanB: mean}
	}
	const why = " Find out why before spraying it again; the label limits repeats."
	assert.Empty(t, said())
	assert.Empty(t, said(before(0, 0)))
	assert.Equal(t, "The average in the sprayed ground is now 11.5 a leaf, by 1 stop: under the spray level.", said(before(1, 11.5)))
	assert.Equal(t, "The average in the sprayed ground is now <12 a leaf, by 2 stops: under the spray level.", said(before(2, 11.999)))
	assert.Equal(t, "The average in the sprayed ground is now 12 a leaf, by 2 stops: at or over the spray level."+why, said(before(2, 12)), "at equality")
	between := compare.Part{Lot: compare.TreatedBetween, Dates: []string{"2031-08-08"}, NA: 3, NB: 3, MeanA: 20, MeanB: 16}
	assert.Equal(t, "In the sprayed ground the average went from 20 to 16 a leaf: not under the spray level."+why, said(between), "once")
	between.MeanB = 20.5
	assert.Equal(t, "The pest grew through it, from 20 to 20.5 a leaf: not under the spray level."+why, said(between))
	between.MeanB = 16
	assert.Contains(t, said(between, before(1, 4)), "now 13 a leaf, by 4 stops: at or over")
}
