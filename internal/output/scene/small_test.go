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
	for _, u := range []figures.Units{figures.Metric, figures.US, figures.Both} {
		for _, scale := range []float64{0.001, 0.01, 0.13, 0.5, 2} {
			mm, name := scene.ScaleBar(scene.Plot{Scale: scale}, 40, u)
			assert.LessOrEqual(t, mm, 40.0, name)
			assert.Greater(t, mm, 16-1e-9, name)
		}
	}
	mm, name := scene.ScaleBar(scene.Plot{Scale: 0.1}, 20, figures.Metric)
	assert.Equal(t, "200 m", name)
	assert.InDelta(t, 20, mm, 1e-9, "equality is allowed")
	for _, c := range []struct {
		units  figures.Units
		ground float64 // m, what there is room for
		name   string
		metres float64
	}{
		{figures.US, 200, "500 ft", 152.4}, {figures.Both, 300, "200 m (656 ft)", 200},
		{figures.Metric, 999, "500 m", 500}, {figures.Metric, 1000, "1 km", 1000}, {figures.Metric, 2600, "2 km", 2000},
		{figures.US, 1609.3, "5000 ft", 1524}, {figures.US, 1609.344, "1 mi", 1609.344}, {figures.US, 5000, "2 mi", 3218.688},
		{figures.Both, 2600, "2 km (1.24 mi)", 2000},
	} {
		mm, name := scene.ScaleBar(scene.Plot{Scale: 0.01}, c.ground*0.01, c.units)
		assert.Equal(t, c.name, name)
		assert.InDelta(t, c.metres*0.01, mm, 1e-6, name)
	}
}

// Where maps share a scale, a stop of full size has the size given.
func TestSharedSizesAreKept(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	s.Full = 1.25
	_, plot := scene.MapOnly(s, 110, 125)
	require.Equal(t, 1.25, scene.FullSize(s, plot))
}
