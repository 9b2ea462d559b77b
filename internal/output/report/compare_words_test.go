package report_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// twoVisits is an invented field of two visits and the step between them.
func twoVisits() (*compare.Result, *compare.Field, *compare.Step) {
	visit := func(date string, treat float64) *compare.Visit {
		return &compare.Visit{Date: date, Assess: &assess.Field{}, Levels: assess.Levels{Levels: zones.Levels{TreatAt: treat, WatchAt: 5}}}
	}
	s := &compare.Step{From: 0, To: 1, Days: 7, Change: paired.Change{Matched: true, NA: 6, NB: 6, MeanA: 8, MeanB: 20.5, Rate: 0.13, P: 0.03, StandsOut: true, Typical: 2, Interval: paired.Interval{Low: math.NaN(), High: math.NaN()}}}
	f := &compare.Field{Visits: []*compare.Visit{visit("2031-08-14", 10), visit("2031-08-21", 12)}, Steps: []*compare.Step{s}}
	return &compare.Result{Statistic: assess.Statistic{Unit: "leaf"}, Fields: []*compare.Field{f}}, f, s
}

func TestWhatDiffersBetweenVisitsIsComposed(t *testing.T) {
	_, f, s := twoVisits()
	for want, u := range map[string]compare.Unlike{
		"observers: scout A on 2031-08-14, not told on 2031-08-21; each eye has a bias of its own, and no calibration corrects scout A, rows without an observer":           {In: compare.Observers, Before: "scout A", Uncalibrated: []string{"scout A", ""}},
		"leaf rule: top on 2031-08-14, middle on 2031-08-21; leaves of other places bear other numbers":                                                                     {In: compare.LeafRules, Before: "top", After: "middle"},
		"growth stage: 4 on 2031-08-14, 5 on 2031-08-21; levels and the place of the pest on the plant change with it":                                                      {In: compare.Stages, Before: "4", After: "5"},
		"levels: treat at 10 and watch at 5 on 2031-08-14, 12 and 5 on 2031-08-21; zones are cut at other values, so ground can change its zone without a change of counts": {In: compare.LevelPairs},
		"zones: of one visit by chance, of the other by counts; ground can change its zone without a change of counts":                                                      {In: compare.CutKinds},
		"treat zones: cut at 30.5 on 2031-08-14, at 28 on 2031-08-21, to catch the ground over 12; ground can change its zone without a change of counts":                   {In: compare.CutValues, BeforeN: 30.5, AfterN: 28},
		"effort: 10 a stop on 2031-08-14, 8 on 2031-08-21; the fewer, the noisier":                                                                                          {In: compare.Effort, BeforeN: 10, AfterN: 8},
		"stops: 40 on 2031-08-14, 11 on 2031-08-21; zones of few stops are coarser":                                                                                         {In: compare.StopNumbers, BeforeN: 40, AfterN: 11},
	} {
		assert.Equal(t, want, report.UnlikeText(f, s, u))
	}
}

func TestStepsAreComposed(t *testing.T) {
	r, f, s := twoVisits()
	assert.Equal(t, "mean per leaf rose from 8 to 20.5 in 7 days: doubles every 5.33 days (how sure is not known); this stands out from the noise (p 0.03, 6 matched stops)", report.StepVerdict(r, f, s))
	s.Basis, s.TreatedOn = compare.NoGround, []string{"2031-08-15", "2031-08-16"}
	assert.Equal(t, "no growth can be told: all stops lie in ground treated on 2031-08-15 and 2031-08-16, and what a treatment did is no growth", report.StepVerdict(r, f, s))
	s.Parts = []compare.Part{{Lot: compare.NotTreated, NA: 5, NB: 5}}
	assert.Contains(t, report.StepVerdict(r, f, s), "lie 5 stops before and 5 after, fewer than 6")
	part := compare.Part{Lot: compare.TreatedBetween, Dates: s.TreatedOn, NA: 6, NB: 6, Matched: true, MeanA: 8, MeanB: 1}
	assert.Equal(t, "in ground treated on 2031-08-15 and 2031-08-16: mean per leaf 8 before, 1 after (6 matched stops), with what the treatment did in it", report.PartText(r, part))
	part.NB = 0
	assert.Equal(t, "in ground treated on 2031-08-15 and 2031-08-16: stops 6 before, 0 after; nothing to compare", report.PartText(r, part))
}

func TestTreatmentsAreComposed(t *testing.T) {
	why := func(u compare.NoEfficacy) string { return report.EfficacyUnknown(compare.TreatmentResult{Why: &u}) }
	assert.Empty(t, report.EfficacyUnknown(compare.TreatmentResult{}))
	assert.Equal(t, "no visit after the treatment yet", why(compare.NoEfficacy{Gap: compare.NotYet}))
	assert.Equal(t, "no stops inside since: count in the treated ground too", why(compare.NoEfficacy{Gap: compare.NoneInside}))
	assert.Contains(t, why(compare.NoEfficacy{Gap: compare.NoneBefore}), "no stop lies in untreated ground, and nobody counted before: leave a strip")
	assert.Contains(t, why(compare.NoEfficacy{Gap: compare.NoCheck, Percent: 95, Interval: paired.Interval{Low: 90, High: 97}}), "without a check, there is 95 % less (90 to 97 %); how much")
	assert.Contains(t, why(compare.NoEfficacy{Gap: compare.NoCheckNorInside, Err: errors.New("nothing was found")}), "untreated ground, and nothing was found: leave")
	assert.Equal(t, "nothing was found", why(compare.NoEfficacy{Gap: compare.NotComputable, Err: errors.New("nothing was found")}))
	assert.Contains(t, report.Reentry(compare.Treatment{Date: "2031-08-15", ReentryHours: 24}), "not before 24 hours after the treatment of 2031-08-15, as you read it off the label")
	assert.Contains(t, report.Reentry(compare.Treatment{}), "read the interval off the label")
}

func TestDaysToGoBackAreComposed(t *testing.T) {
	for want, why := range map[string]compare.Reason{
		"the usual 7 days": {Days: 7},
		"the usual 7 days, as no growth is known; in one Texas trial of 2015 good control held 17 to 21 days, and poor control needed another look after 10 to 14": {Days: 7, Unsure: true},
		"colonies are there: 3 days": {Cause: compare.Colonies, Days: 3},
		"at the quick end of the growth measured, which a map of one morning does not know, a further 5 % of the ground may reach the treat level by then": {Cause: compare.QuickGrowth, Share: 0.05},
		"treated on 2031-08-13: in one Texas trial of 2015 good control held 17 to 21 days, and poor control needed another look after 10 to 14":           {Cause: compare.SecondLook, Treated: "2031-08-13"},
		"the map of the last visit is good until then": {Cause: compare.MapGoodUntil},
	} {
		assert.Equal(t, want, report.GoBackWhy(compare.Next{Why: why}))
	}
}

func TestNotesOfAFieldAreComposed(t *testing.T) {
	treatment := compare.Treatment{Date: "2031-08-15", Note: "load 1"}
	for want, n := range map[string]compare.Note{
		"the visit of 2031-08-14 has stops of other days":                             {On: compare.SeveralDays, Date: "2031-08-14"},
		"ground counts as treated for 21 days after the day of its treatment: in one": {On: compare.TreatedFor, Days: 21},
		"treatment of 2031-08-15 (load 1): no count there came after it":              {On: compare.NoCountAfter, Treatment: treatment},
		"no growth is known, so there is no forecast":                                 {On: compare.NoForecast},
		"the forecast looks 1 day ahead, more than 14":                                {On: compare.FarForecast, Days: 1, Of: 14},
		"the zones of 2031-08-21 go by chance":                                        {On: compare.CutsDiffer, Date: "2031-08-21"},
		"visit of 2031-08-21: 3 more stops within 12 m of stop 21, where places lie about 145 m apart, count for one place with it and are not in the mean": {
			On: compare.StandTogether, Date: "2031-08-21", Stop: "21", Together: &assess.Together{At: 7, Others: []int{1, 2, 3}, Within: 12, Spacing: 145},
		},
		"the forecast rests on a growth that does not stand out":                                      {On: compare.ForecastUnsure},
		"treatment of 2031-08-15 (load 1): 50 of the stops outside lie":                               {On: compare.OutsideElsewhere, Treatment: treatment, N: 50},
		"treatment of 2031-08-15 (load 1): 80 of 81 stops inside lie in ground treated otherwise too": {On: compare.InsideAlsoTreated, Treatment: treatment, N: 80, Of: 81},
	} {
		assert.Contains(t, report.NoteText(n), want)
	}
	r := &compare.Result{LeftOut: []compare.LeftOut{{Field: "A"}, {Field: "B", Visits: 1}}, Notes: []string{"c"}}
	assert.Equal(t, []string{`field "A" was scouted at no visit: nothing to compare`, `field "B" was scouted at one visit only: nothing to compare`, "c"}, report.CompareNotes(r))
	shares := report.ForecastText(compare.Forecast{Date: "2031-09-18", Odds: true})
	assert.Equal(t, "forecast for 2031-09-18, not an observation: the odds of all shares grow alike, nothing moves, nothing is sprayed", shares)
}
