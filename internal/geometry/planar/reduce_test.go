package planar_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A border that may go one way only gives ground to that side and to no other, by cutting
// corners off or by filling notches; one that may go nowhere stays.
func TestBordersGoWhereTheyMay(t *testing.T) {
	// A box of 100 m with a tooth and a notch of 8 m² each in its south edge.
	ring := orb.Ring{{0, 0}, {20, 0}, {22, -4}, {24, 0}, {50, 0}, {52, 4}, {54, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}
	a, err := planar.Arrange(planar.RingLines(orb.MultiPolygon{{ring}}))
	require.NoError(t, err)
	c := a.Dissolve([]int{1})
	one := func(int, int) int { return 1 }
	for name, tc := range map[string]struct {
		inward, outward bool
		wanted, gone    int
		area            float64
	}{
		"inward, the tooth goes":        {true, false, 1, 1, 9992},
		"outward, the notch fills":      {false, true, 1, 1, 10008},
		"both":                          {true, true, 6, 6, 10000},
		"nowhere":                       {false, false, 5, 0, 10000},
		"inward, what was asked for":    {true, false, 3, 3, 9992},
		"nothing asked":                 {true, true, 0, 0, 10000},
		"as far as four corners remain": {true, true, 100, 7, 5000},
	} {
		allowed := func(left, right int) planar.Move {
			if left == 1 {
				return planar.Move{Left: tc.inward, Right: tc.outward}
			}
			return planar.Move{Left: tc.outward, Right: tc.inward}
		}
		fewer, gone := c.Reduce(tc.wanted, allowed, one)
		assert.Equal(t, tc.gone, gone, name)
		ground := fewer.Union(func(l int) bool { return l == 1 })
		require.NoError(t, planar.Valid(ground), name)
		if tc.wanted < 100 {
			assert.InDelta(t, tc.area, geo.Area(ground), 1e-6, name)
		}
	}
	assert.InDelta(t, 10000, c.Area(1), 1e-9, "what it was given stays")
}

// Lines that were one and were rounded apart leave slivers, which go to their neighbours.
func TestSliversAreAbsorbed(t *testing.T) {
	const off = 1e-9
	a, err := planar.Arrange(planar.RingLines(orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}},
		orb.MultiPolygon{{{{10, 0}, {20, 0}, {20, 10}, {10, 10}, {10 + off, 5}, {10, 0}}}}))
	require.NoError(t, err)
	require.Len(t, a.Faces, 3)
	labels := make([]int, 3)
	for i, f := range a.Faces {
		labels[i] = i + 1
		if f.Area < 1 {
			labels[i] = planar.Void
		}
	}
	assert.Len(t, a.Dissolve(labels).Union(func(int) bool { return true }), 2, "two parts that the sliver parts")
	got := a.Absorb(labels, 1e-6)
	assert.NotContains(t, got, planar.Void)
	whole := a.Dissolve(got).Union(func(int) bool { return true })
	assert.Len(t, whole, 1)
	assert.InDelta(t, 200, geo.Area(whole), 1e-6)
	assert.Contains(t, labels, planar.Void, "what it was given stays")
}
