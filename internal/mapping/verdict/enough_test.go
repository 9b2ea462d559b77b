package verdict_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Who has walked the stops that were asked for is not sent out for more at once: a line
// below the one that decided may want more of them.
func TestStopsThatAreAskedForAreEnough(t *testing.T) {
	f := spot()
	f.Stats.Edge.InteriorStops, f.Unscouted, f.Reach = 3, 45e4, 130
	v := verdict.Decide(f, verdict.Settings{})
	assert.Equal(t, "few-inside", v.Line)
	lone := f
	lone.Stats.Edge.InteriorStops = 4
	beyond := verdict.Decide(lone, verdict.Settings{})
	assert.Equal(t, "unscouted-much", beyond.Line)
	assert.Greater(t, beyond.More, 1)
	assert.Equal(t, beyond.More, v.More, "not 1")
	assert.Equal(t, "inside, 8 m or more from the edge", v.Where)
	assert.False(t, v.Anew())

	f.Stats.Stops = 4 // fewer than tell where more would help
	v = verdict.Decide(f, verdict.Settings{})
	assert.True(t, v.Anew())
	assert.Equal(t, "over the whole field", v.Where)
	few := f
	few.Stats.Stops = 5
	assert.False(t, verdict.Decide(few, verdict.Settings{}).Anew(), "at equality")
	assert.Equal(t, 4+max(beyond.More, 10-4), v.More)
}
