package scene_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scene"
	"github.com/geocoris/geocoris/internal/zones"
)

func TestClasses(t *testing.T) {
	for name, tc := range map[string]struct {
		values []float64
		want   []scene.Class
	}{
		"none":      {nil, []scene.Class{{}}},
		"all empty": {[]float64{0, 0}, []scene.Class{{Count: 2}}},
		"by hand": {[]float64{0, 0.3, 0.5, 0.6, 4, 5, 40}, []scene.Class{
			{0, 0, 1}, {0, 0.5, 2}, {0.5, 1, 1}, {1, 2, 0}, {2, 5, 2}, {5, 10, 0}, {10, 20, 0}, {20, 50, 1}}},
		"at an end": {[]float64{100}, []scene.Class{{0, 0, 0}, {0, 100, 1}}},
	} {
		t.Run(name, func(t *testing.T) {
			got := scene.Classes(tc.values)
			require.Len(t, got, len(tc.want), "%v", got)
			for i := range got {
				assert.InDelta(t, tc.want[i].From, got[i].From, 1e-9)
				assert.InDelta(t, tc.want[i].To, got[i].To, 1e-9)
				assert.Equal(t, tc.want[i].Count, got[i].Count)
			}
		})
	}
}

func TestEveryValueIsInOneClass(t *testing.T) {
	values := []float64{0, 1e-9, 0.001, 0.02, 1, 2, 5, 9.99, 10, 10.01, 1e6, 123456}
	sum, classes := 0, scene.Classes(values)
	for _, c := range classes {
		sum += c.Count
	}
	assert.Equal(t, len(values), sum)
	assert.LessOrEqual(t, len(classes), 12)
}

// The five stops of viridis (Smith & van der Walt 2015) are the scale's own.
func TestTint(t *testing.T) {
	assert.Equal(t, uint8(0x44), scene.Tint(0).R)
	assert.Equal(t, uint8(0x91), scene.Tint(0.5).G)
	assert.Equal(t, uint8(0x25), scene.Tint(1).B)
	assert.Equal(t, scene.Tint(1), scene.Tint(7))
}

func TestChartsOfNothingAreDrawn(t *testing.T) {
	for _, s := range []scene.Scene{
		scene.Histogram(scene.Classes(nil), "x"),
		scene.LeftOut(nil, zones.Levels{TreatAt: 40, WatchAt: 10}),
	} {
		body, err := scene.Fragment(s)
		require.NoError(t, err)
		assert.NotContains(t, body, "NaN")
	}
}
