package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/interp"
)

// The English words are those that files hold, so that a screen and a file are found to
// say the same; every value has one.
func TestEveryValueHasItsWord(t *testing.T) {
	for _, c := range append(zones.Classes(), zones.NoData) {
		assert.Equal(t, c.String(), report.ZoneWord(c))
	}
	for _, k := range append(change.Kinds(), change.Never) {
		assert.Equal(t, k.String(), report.GroundWord(k))
	}
	for k := verdict.None; k <= verdict.TreatWhole; k++ {
		assert.Equal(t, k.String(), report.VerdictWord(k))
	}
	for _, e := range []change.Event{change.Born, change.Grew, change.Stayed, change.Shrank, change.Merged, change.Joined, change.Split, change.Broke, change.Ended, change.Lost} {
		assert.Equal(t, string(e), report.HotspotWord(e))
	}
	assert.Equal(t, "?", report.ZoneWord(200), "what no table knows")
}

// What people read first calls ground to be treated by what is to be done there, and its
// legend never leans on colour alone.
func TestShownZonesSayWhatToDo(t *testing.T) {
	for c, want := range map[zones.Class][2]string{
		zones.Treat: {"spray", "Spray (red, hatched)"}, zones.Watch: {"watch", "Watch (yellow, dotted)"}, zones.Clear: {"clear", "Clear (pale blue, plain)"}, zones.NoData: {"no data", "no data"},
	} {
		assert.Equal(t, want, [2]string{report.ShownZone(c, figures.Both), report.LegendZone(c, figures.Both)})
	}
}

// The numbers of a trust and its limits, in words.
func TestTrustIsComposed(t *testing.T) {
	trust := assess.Trust{Score: interp.Score{Skill: 0.423}, Stops: 43, Places: 43}
	assert.Equal(t, "better than the field's mean: skill 0.42", report.TrustText(trust))
	assert.Empty(t, report.TrustReasons(trust))
	trust = assess.Trust{Score: interp.Score{Skill: -0.2}, Stops: 3, Places: 3, Empty: 3, Doubts: []assess.Doubt{assess.FewStops, assess.NoSkill, assess.MostEmpty}}
	assert.Equal(t, "no better than the field's mean: do not go by its zones alone", report.TrustText(trust))
	assert.Equal(t, []string{"3 stops, fewer than 10", "left out, stops are predicted hardly better by their neighbours than by the mean (skill -0.20)", "3 of 3 stops are empty, more than 75 %"}, report.TrustReasons(trust))
}

// Pictures say without figures what a map is worth.
func TestTrustOnPicturesIsPlain(t *testing.T) {
	r, f := &assess.Result{}, &assess.Field{Max: 90, Trust: assess.Trust{Score: interp.Score{Skill: 0.423}, Stops: 43, Places: 43}}
	r.Levels.TreatAt, r.Levels.WatchAt = 40, 12.6
	assert.Equal(t, "The map is better than the average", report.TrustLine(r, f, figures.Both))
	f.Trust.Doubts = []assess.Doubt{assess.NoSkill}
	assert.Equal(t, "The map is no better than the average, so do not go by it alone", report.TrustLine(r, f, figures.Both))
	f.Max, f.Map, f.Stops = assess.CleanShare*12.6, &zones.Map{}, make([]assess.Stop, assess.LeastStops)
	assert.Equal(t, report.NothingToMap(figures.Both), report.TrustLine(r, f, figures.Both))
}
