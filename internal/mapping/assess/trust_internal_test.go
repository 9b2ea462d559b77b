package assess

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/interp"
)

// The fewer the stops, the more skill it takes: 0.22 at ten, 0.055 at forty. What the
// zone saves counts twice.
func TestSkillThatStopsBearOut(t *testing.T) {
	for _, c := range []struct {
		skill, saves float64
		stops        int
		believed     bool
		bySaving     bool
	}{
		{0.22, 0, 10, false, true}, // at equality
		{0.23, 0, 10, true, false},
		{0.055, 0, 40, false, true},
		{0.06, 0, 40, true, false},
		{0.05, 0.08, 10, false, true}, // 0.05 + 2·0.08
		{0.05, 0.09, 10, true, true},
		{-0.09, 0.5, 10, true, true},
		{-0.1, 0.5, 10, false, true}, // what the stops do not bear out
		{math.NaN(), 0.5, 40, false, true},
		{0.05, math.NaN(), 40, false, true}, // no chances
		{0.06, math.NaN(), 10, true, false},
	} {
		trust := Trust{Score: interp.Score{Skill: c.skill}, Stops: c.stops, Places: c.stops}.saving(c.saves)
		assert.Equal(t, c.believed, trust.Believed(), "%+v", c)
		assert.Equal(t, c.bySaving, trust.BySaving(), "%+v", c)
	}
}

// What the zone saves is told against the cheaper of the others, and never below 0.
func TestWhatTheZoneSaves(t *testing.T) {
	model := &interp.Chances{}
	zone := decision.Place{Area: 2, Loss: 3, Treat: true}
	for name, c := range map[string]struct {
		l    losses
		want float64
	}{
		"against nothing":   {losses{model: model, now: []decision.Place{zone, {Area: 8, Loss: 0.25}}}, 0.4}, // 0.8 − 0.4
		"against the whole": {losses{model: model, now: []decision.Place{zone, {Area: 8, Loss: 0.75}}}, 0.2}, // 1 − 0.8
		"costs more":        {losses{model: model, now: []decision.Place{zone, {Area: 8, Loss: 1.25}}}, 0},   // 1 − 1.2
		"no zone":           {losses{model: model, now: []decision.Place{{Area: 8, Loss: 0.25}}}, 0},
		"all of it":         {losses{model: model, now: []decision.Place{zone}}, 0},
		"no chances":        {losses{now: []decision.Place{zone, {Area: 8, Loss: 0.25}}}, math.NaN()},
		"nothing known":     {losses{model: model}, math.NaN()},
	} {
		if got := c.l.saves(); math.IsNaN(c.want) {
			assert.True(t, math.IsNaN(got), name)
		} else {
			assert.InDelta(t, c.want, got, 1e-12, name)
		}
	}
}
