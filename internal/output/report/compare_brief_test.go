package report_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

func TestChangesInPlainWords(t *testing.T) {
	_, f, s := twoVisits()
	said := func() string { return report.PlainChange(f, s, assess.Statistic{}, figures.Both) }
	assert.Equal(t, "The average rose from 8 to 20.5 a leaf in 7 days, doubling about every 5.3 days.", said())
	s.Change.Interval = paired.Interval{Low: -0.1, High: 0.3}
	assert.Equal(t, "Higher than before, 8 to 20.5 a leaf in 7 days, but how fast it goes is not clear.", said())
	s.Change.Typical = -2
	assert.Contains(t, said(), "the usual stop went the other way")
	s.Change.StandsOut, s.Change.Rate, s.Change.MeanB = false, -0.13, 3
	assert.Equal(t, "Lower than before, 8 to 3 a leaf in 7 days, but too few stops to be sure.", said())
	s.Basis = compare.Untreated
	assert.Contains(t, said(), "In ground not sprayed: lower than before")
	s.Change.Rate = 0
	assert.Contains(t, said(), "the average stayed the same")
	s.Change.Rate = math.NaN()
	assert.Contains(t, said(), "nothing was found at either visit")
	s.Basis = compare.NoGround
	assert.Contains(t, said(), "The growth is not known")
}

func TestEffectsInPlainWords(t *testing.T) {
	said := func(e *paired.Efficacy, gap compare.Gap) string {
		return report.PlainEffect(compare.TreatmentResult{Treatment: compare.Treatment{Date: "2026-07-17"}, Efficacy: e, Why: &compare.NoEfficacy{Gap: gap}}, figures.Both)
	}
	e := func(percent, low, high float64) *paired.Efficacy {
		return &paired.Efficacy{Percent: percent, Interval: paired.Interval{Low: low, High: high}}
	}
	assert.Equal(t, "The spray of Friday 17 July took about 90 % of the pest; it could be 80 to 96 %.", said(e(90, 80.4, 95.2), 0))
	assert.Equal(t, "The spray of Friday 17 July made no clear difference.", said(e(30, 0, 60), 0), "at equality")
	assert.Equal(t, "No: the spray of Friday 17 July left 40 % more than would be there without it.", said(e(-40, -90, -5), 0))
	assert.Contains(t, said(e(90, math.NaN(), math.NaN()), 0), "how sure that is, nobody knows")
	assert.Equal(t, "Too few stops to tell whether the spray of Friday 17 July worked.", said(nil, compare.TooFewStops))
	alone := e(90, 80.4, 95.2)
	alone.Formula = paired.Abbott
	assert.Equal(t, "The spray of Friday 17 July took about 90 % of the pest; it could be 80 to 96 %. Without a count there before it, both sides are taken to have been alike.", said(alone, 0))
	assert.Contains(t, said(nil, compare.NotYet), "Nobody has counted since")
	assert.Contains(t, said(nil, compare.NoCheck), "Leave a strip next time.")
}
