package decision_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/decision"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

// By hand: 10 ha of which 2 are treat zone, where leaving costs 3, the rest 0.4.
func byHand() []decision.Place {
	return []decision.Place{
		{Area: 1e4, Loss: 3, Capped: 0.9, Treat: true}, {Area: 1e4, Loss: 3, Capped: 0.9, Treat: true},
		{Area: 7e4, Loss: 0.4, Capped: 0.3}, {Area: 1e4, Loss: 1, Capped: 0.5},
	}
}

func TestWeighByHand(t *testing.T) {
	s := decision.Weigh(byHand(), decision.Prices{})
	assert.InDelta(t, 9.8e4, s.Nothing, 1e-6)
	assert.InDelta(t, 5.8e4, s.Zone, 1e-6)
	assert.Equal(t, 10e4, s.Whole)
	assert.InDelta(t, 3e4, s.PlacesArea, 1e-6, "at equality a place is treated")
	assert.InDelta(t, 5.8e4, s.Places, 1e-6)
	assert.InDelta(t, 5.8e4, s.Blind, 1e-6)
	assert.InDelta(t, 4.4e4, s.Seeing, 1e-6)
	assert.Equal(t, decision.Zone, s.Best())
	assert.Equal(t, decision.Nothing, s.Rival(decision.Zone))
	assert.InDelta(t, 0.58+0.5/20, s.PerArea(19), 1e-9)
	assert.InDelta(t, (1.4e4+0.5/20*10e4)*(1-math.Sqrt(19./29)), s.Saving(19, 10), 1e-6)

	charged := decision.Weigh(byHand(), decision.Prices{SpotCharge: 3e4, SpotLeaves: 0.5})
	assert.InDelta(t, 5.8e4+3e4+0.5*6e4, charged.Zone, 1e-6)
	assert.Equal(t, decision.Nothing, charged.Best())
	assert.Equal(t, 2e4, charged.PlacesArea, "where a spot spray leaves half of what it should avert, a loss of 1 is no reason for one")
}

func TestBestAtEquality(t *testing.T) {
	s := decision.Sums{Area: 10, ZoneArea: 2, Nothing: 10, Zone: 10, Whole: 10}
	assert.Equal(t, decision.Whole, s.Best(), "of equal ones the one that treats more")
	s.Whole = 11
	assert.Equal(t, decision.Zone, s.Best())
	s.ZoneArea = 0
	assert.Equal(t, decision.Nothing, s.Best(), "a zone without ground is none")
	s.ZoneArea, s.Nothing = 10, 12
	assert.Equal(t, decision.Whole, s.Best(), "nor is one that is all of the field")
	assert.Equal(t, decision.None, decision.Sums{}.Best())
	assert.Equal(t, decision.None, decision.Sums{Area: 1, Nothing: math.NaN()}.Best())
}

func TestChoose(t *testing.T) {
	sums := func(nothing, zone float64) decision.Sums {
		return decision.Sums{Area: 100, ZoneArea: 20, Nothing: 100 * nothing, Zone: 100 * zone, Whole: 100}
	}
	for name, c := range map[string]struct {
		s              decision.Sums
		zone, meanOver bool
		want           decision.Choice
	}{
		"zone":                   {sums(0.8, 0.4), true, false, decision.Zone},
		"close to nothing":       {sums(0.5, 0.6), true, false, decision.Zone},
		"nothing clearly":        {sums(0.5, 0.61), true, false, decision.Nothing},
		"close to whole":         {sums(3, 1.09), true, true, decision.Zone},
		"whole clearly":          {sums(3, 1.11), true, true, decision.Whole},
		"whole, mean under":      {sums(1.5, 1.2), true, false, decision.Whole},
		"mean over, no nothing":  {sums(0.2, 1.2), true, true, decision.Whole},
		"mean over, zone":        {sums(0.2, 0.9), true, true, decision.Zone},
		"no zone":                {sums(3, 0.4), false, false, decision.Nothing},
		"no zone, mean over":     {sums(3, 0.4), false, true, decision.Whole},
		"nothing known":          {decision.Sums{}, true, false, decision.Zone},
		"nothing known, no zone": {decision.Sums{}, false, false, decision.Nothing},
	} {
		assert.Equal(t, c.want, c.s.Choose(c.zone, c.meanOver), name)
	}
	assert.True(t, sums(0.5, 0.45).Close(decision.Zone))
	assert.False(t, sums(0.8, 0.4).Close(decision.Zone))
	assert.False(t, decision.Sums{}.Close(decision.Zone))
}

func TestLeastBut(t *testing.T) {
	for name, c := range map[string]struct {
		nothing, zone float64
		want          decision.Choice
	}{
		"zone":                {60, 54, decision.Zone},
		"saves a twentieth":   {60, 55, decision.Nothing},
		"nothing":             {60, 61, decision.Nothing},
		"whole":               {120, 101, decision.Whole},
		"nothing at whole":    {100, 96, decision.Nothing},
		"nothing above whole": {101, 99, decision.Zone},
	} {
		s := decision.Sums{Area: 100, ZoneArea: 20, Nothing: c.nothing, Zone: c.zone, Whole: 100}
		assert.Equal(t, c.want, s.LeastBut(0.05), name)
	}
	assert.Equal(t, decision.None, decision.Sums{}.LeastBut(0.05))
}
