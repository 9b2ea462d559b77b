package scene_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/scene"
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
		scene.LeftOut(nil, zones.Levels{TreatAt: 40, WatchAt: 10}, figures.Both),
		scene.Growth(nil, 40),
	} {
		body, err := scene.Fragment(s)
		require.NoError(t, err)
		assert.NotContains(t, body, "NaN")
	}
}

// Of ten weekly visits some have a date, the last among them, and no two dates run
// into each other; three have all.
func TestGrowthLabelsStayApart(t *testing.T) {
	for visits, least := range map[int]int{1: 1, 3: 3, 10: 3} {
		var moments []scene.Moment
		for i := range visits {
			moments = append(moments, scene.Moment{Day: float64(7 * i), Label: fmt.Sprintf("2026-07-%02d", i+1), Mean: 1, Highest: 9})
		}
		var at []float64
		last := ""
		for _, item := range scene.Growth(moments, 40).Layers[0].Items {
			if text, ok := item.(scene.Text); ok && strings.HasPrefix(text.Text, "2026-") {
				at, last = append(at, text.At.X), text.Text
				if n := len(at); n > 1 {
					assert.Greater(t, at[n-1]-at[n-2], 10*0.56*text.Size, "a figure is 0.56 of its size wide")
				}
			}
		}
		assert.GreaterOrEqual(t, len(at), least)
		assert.Equal(t, moments[visits-1].Label, last)
	}
}

// Figures of visits stand on white ground that no line strikes through, and on no disc
// or other figure, also where the average is as high as the highest or next to the level.
func TestGrowthFiguresAreNotStruckThrough(t *testing.T) {
	for _, m := range []scene.Moment{{Mean: 1.48, Highest: 23.9}, {Mean: 75, Highest: 80}, {Mean: 38, Highest: 41}, {Mean: 9, Highest: 9}, {Mean: 0, Highest: 0.5}} {
		m.Label = "Wed 8 Jul"
		items := scene.Growth([]scene.Moment{m}, 40).Layers[0].Items
		var discs, values []orb.Bound
		for i, item := range items {
			switch item := item.(type) {
			case scene.Disc:
				discs = append(discs, orb.Bound{Min: orb.Point{item.Centre.X - 0.9, item.Centre.Y - 0.9}, Max: orb.Point{item.Centre.X + 0.9, item.Centre.Y + 0.9}})
			case scene.Text:
				if item.Anchor == scene.End || item.Text == m.Label {
					continue
				}
				half := 0.28 * item.Size * float64(len(item.Text))
				if item.Anchor == scene.Start {
					item.At.X += half
				}
				box := orb.Bound{Min: orb.Point{item.At.X - half, item.At.Y - 0.7*item.Size}, Max: orb.Point{item.At.X + half, item.At.Y}}
				values = append(values, box)
				assert.True(t, slices.ContainsFunc(items[:i], func(below scene.Item) bool {
					area, ok := below.(scene.Area)
					return ok && boxOf(area).Contains(box.Min) && boxOf(area).Contains(box.Max)
				}), "%v: ground under %s", m, item.Text)
			}
		}
		require.Len(t, values, 2)
		assert.False(t, values[0].Intersects(values[1]), "%v: figures", m)
		for _, value := range values {
			for _, disc := range discs {
				assert.False(t, value.Intersects(disc), "%v: figure %v on disc %v", m, value, disc)
			}
		}
	}
}
