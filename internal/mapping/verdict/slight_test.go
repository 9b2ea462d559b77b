package verdict_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A treat zone of less than a stop's ground that saves nothing is not sprayed, nor that of one stop that saves next to
// nothing: it is left until the next look. What is very hot, a patch, or a mean at the level
// keeps its zone, and one stop that no other bears out is walked round as before. What that
// costs is in SIMULATIONS.md.
func TestSlightZones(t *testing.T) {
	for name, c := range map[string]struct {
		nothing, zone, max float64
		over, patches      int
		mean               float64
		want               verdict.Kind
	}{
		"saves":                {0.3, 0.29, 60, 4, 0, 10, verdict.SpotSpray},
		"saves nothing":        {0.3, 0.3, 60, 4, 0, 10, verdict.LookAgain},
		"hardly anything":      {0.3, math.Nextafter(0.3, 0), 60, 4, 0, 10, verdict.SpotSpray},
		"costs":                {0.3, 0.32, 60, 4, 0, 10, verdict.LookAgain},
		"one stop, next to it": {0.3, 0.281, 60, 1, 0, 10, verdict.LookAgain},
		"one stop, more":       {0.3, 0.279, 60, 1, 0, 10, verdict.SpotSpray},
		"very hot":             {0.3, 0.3, 120, 4, 0, 10, verdict.SpotSpray},
		"not quite":            {0.3, 0.3, 119.9, 4, 0, 10, verdict.LookAgain},
		"a patch":              {0.3, 0.3, 60, 4, 1, 10, verdict.SpotSpray},
		"the mean is over":     {0.3, 0.3, 60, 4, 0, 40, verdict.SpotSpray},
	} {
		f := spot()
		f.Believed, f.Sums, f.TreatArea = true, sums(c.nothing, c.zone), 0.99*f.Area/float64(f.Stats.Stops)
		f.Stats.Max, f.Over, f.OverInside, f.Patches, f.Borne, f.Next = c.max, c.over, c.over, c.patches, 0.5, 30
		f.Stats.Mean, f.Stats.Edge.InteriorMean, f.High = c.mean, c.mean, max(c.mean, 21)
		got := verdict.Decide(f, verdict.Settings{})
		assert.Equal(t, c.want, got.Kind, "%s: %s", name, got.Line)
		f.TreatArea = f.Area / float64(f.Stats.Stops)
		assert.Equal(t, verdict.SpotSpray, verdict.Decide(f, verdict.Settings{}).Kind, "%s, the ground of a stop", name)
	}
	f := spot()
	f.Believed, f.Sums, f.Over, f.OverInside, f.Next, f.TreatArea = true, sums(0.3, 0.3), 1, 1, 5, 1e3
	got := verdict.Decide(f, verdict.Settings{})
	assert.Equal(t, []any{"one-spot", verdict.LookAgain}, []any{got.Line, got.Instead}, "walked round, and not sprayed by who cannot")
}
