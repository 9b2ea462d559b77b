package scene_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// North is up, east is right, and a metre is as long in both.
func TestNorthIsUp(t *testing.T) {
	m, plot := scene.MapOnly(demo(t, "week2", assess.Settings{})[0], 120, 200)
	o, e, n := plot.Point(orb.Point{}), plot.Point(orb.Point{100, 0}), plot.Point(orb.Point{0, 100})
	assert.InDelta(t, 100*plot.Scale, e.X-o.X, 1e-9)
	assert.InDelta(t, -100*plot.Scale, n.Y-o.Y, 1e-9)
	assert.InDelta(t, o.Y, e.Y, 1e-9)
	assert.InDelta(t, o.X, n.X, 1e-9)
	assert.LessOrEqual(t, m.Height, 200.0)
}
