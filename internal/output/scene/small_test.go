package scene_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/scene"

	"github.com/paulmach/orb"
)

func layersOf(s scene.Scene) (names []string) {
	for _, l := range s.Layers {
		names = append(names, l.Name)
	}
	return names
}

// A map for a list shows zones and stops, and no numbers that nobody could read.
func TestASmallMapHasNoNumbers(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	m := scene.Small(s, 30, 20)
	assert.Equal(t, []string{scene.LayerGround, scene.LayerZones, scene.LayerSigns, scene.LayerBoundary, scene.LayerStops}, layersOf(m))
	assert.Equal(t, [2]float64{30, 20}, [2]float64{m.Width, m.Height})
}

// Treated ground lies over the zones and under the stops, and only where there is any.
func TestTreatedGroundIsDrawnUnderStops(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	m, _ := scene.MapIn(s, 110, 110)
	assert.NotContains(t, layersOf(m), scene.LayerTreated)
	s.Treated = []orb.MultiPolygon{{{{{0, 0}, {100, 0}, {100, 100}, {0, 0}}}}}
	m, _ = scene.MapIn(s, 110, 110)
	assert.Equal(t, []string{scene.LayerGround, scene.LayerZones, scene.LayerSigns, scene.LayerBoundary, scene.LayerTreated, scene.LayerStops, scene.LayerValues}, layersOf(m))
}

// A scale bar is as long as it says, no longer than asked for, and more than two fifths of that.
func TestScaleBars(t *testing.T) {
	for _, u := range []figures.Units{figures.Metric, figures.US} {
		for _, scale := range []float64{0.01, 0.13, 0.5, 2} {
			mm, name := scene.ScaleBar(scene.Plot{Scale: scale}, 40, u)
			assert.LessOrEqual(t, mm, 40.0, name)
			assert.Greater(t, mm, 16-1e-9, name)
		}
	}
	mm, name := scene.ScaleBar(scene.Plot{Scale: 0.1}, 20, figures.Metric)
	assert.Equal(t, "200 m", name)
	assert.InDelta(t, 20, mm, 1e-9, "equality is allowed")
}

// Where maps share a scale, a stop of full size has the size given.
func TestSharedSizesAreKept(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	s.Full = 1.25
	_, plot := scene.MapOnly(s, 110, 125)
	require.Equal(t, 1.25, scene.FullSize(s, plot))
}
