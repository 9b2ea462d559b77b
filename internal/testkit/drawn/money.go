// Package drawn draws figures of fields that hang together, for properties.
package drawn

import (
	"math"

	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Sums are what choices may cost on a field: what is lost without a treatment, and the
// part of it that a treatment of the zone averts; now and then nothing is known.
func Sums(t *rapid.T, f verdict.Figures) (s decision.Sums) {
	if rapid.IntRange(0, 9).Draw(t, "nothing weighed") == 0 {
		return s
	}
	s.Area, s.Whole, s.ZoneArea = f.Area, f.Area, f.TreatArea
	s.Nothing = f.Area * rapid.SampledFrom([]float64{0.01, 0.1, 0.5, 0.95, 1.05, 2, 4}).Draw(t, "nothing")
	s.Zone = f.TreatArea + s.Nothing*rapid.SampledFrom([]float64{0.2, 0.6, 1}).Draw(t, "left by the zone")
	s.Blind = min(s.Nothing, s.Area)
	s.Seeing = s.Blind * rapid.Float64Range(0.5, 1).Draw(t, "seeing")
	return s
}

// Costs are those of one field in four, half of them with what treating would save; nil
// for the others.
func Costs(t *rapid.T) *verdict.Costs {
	if rapid.IntRange(0, 3).Draw(t, "money") != 0 {
		return nil
	}
	sum := rapid.Float64Range(1, 1000)
	c := &verdict.Costs{Spot: sum.Draw(t, "spot"), Whole: sum.Draw(t, "whole"), SpotAverts: math.NaN(), WholeAverts: math.NaN()}
	if rapid.Bool().Draw(t, "averts") {
		c.SpotAverts, c.WholeAverts = sum.Draw(t, "spot averts"), sum.Draw(t, "whole averts")
	}
	return c
}

// Walks are how hot stops inside stand together, and what was found round them; on half of
// the fields nobody walked round any.
func Walks(t *rapid.T, f *verdict.Figures) {
	if f.OverInside == 0 || rapid.Bool().Draw(t, "no walk") {
		return
	}
	if f.Beside = rapid.IntRange(0, f.OverInside-1).Draw(t, "beside"); rapid.Bool().Draw(t, "apart") {
		f.Beside = 0
	}
	places := f.OverInside - f.Beside
	f.Walked = rapid.IntRange(0, places).Draw(t, "walked")
	f.Patches = rapid.IntRange(0, 1).Draw(t, "patches")
}
