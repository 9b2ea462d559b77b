package geo_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestInsideSpans(t *testing.T) {
	valley := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {5, 5}, {0, 10}, {0, 0}}}}
	tests := []struct {
		name string
		mp   orb.MultiPolygon
		y    float64
		want []geo.Span
	}{
		{"plain", box(0, 0, 10, 10), 5, []geo.Span{{0, 10}}},
		{"pond", ponded(), 50, []geo.Span{{0, 40}, {60, 100}}},
		{"two parts, not in order", append(box(20, 0, 30, 10), box(0, 0, 10, 10)...), 5, []geo.Span{{0, 10}, {20, 30}}},
		{"parts that touch", append(box(10, 0, 30, 10), box(0, 0, 10, 10)...), 5, []geo.Span{{0, 30}}},
		{"bottom edge", box(0, 0, 10, 10), 0, []geo.Span{{0, 10}}},
		{"top edge", box(0, 0, 10, 10), 10, nil},
		{"pond's bottom edge", ponded(), 40, []geo.Span{{0, 40}, {60, 100}}},
		{"pond's top edge", ponded(), 60, []geo.Span{{0, 100}}},
		{"lowest point", orb.MultiPolygon{{{{5, 0}, {10, 10}, {0, 10}}}}, 0, nil},
		{"highest point", orb.MultiPolygon{{{{0, 0}, {10, 0}, {5, 10}}}}, 10, nil},
		{"valley's floor", valley, 5, []geo.Span{{0, 10}}},
		{"above the valley's floor", valley, 7.5, []geo.Span{{0, 2.5}, {7.5, 10}}},
		{"above everything", box(0, 0, 10, 10), 11, nil},
		{"not a number", box(0, 0, 10, 10), nan, nil},
		{"nothing", nil, 0, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, geo.InsideSpans(tt.mp, tt.y))
		})
	}
}

// Integer coordinates make points on edges and vertices common, which is where
// two ways of asking would differ.
func TestInsideSpansAgreeWithContains(t *testing.T) {
	lattice := rapid.Custom(func(t *rapid.T) orb.Point {
		return orb.Point{float64(rapid.IntRange(-6, 6).Draw(t, "x")), float64(rapid.IntRange(-6, 6).Draw(t, "y"))}
	})
	testkit.Property(t, func(t *rapid.T) {
		mp := orb.MultiPolygon{{rapid.SliceOfN(lattice, 1, 12).Draw(t, "ring")}}
		if rapid.Bool().Draw(t, "smooth") {
			mp = orb.MultiPolygon{{star(t)}}
		}
		y := float64(rapid.IntRange(-24, 24).Draw(t, "4y")) / 4
		spans := geo.InsideSpans(mp, y)
		for i, s := range spans {
			require.Less(t, s.From, s.To)
			require.True(t, i == 0 || spans[i-1].To < s.From, "sorted and apart: %v", spans)
		}
		for x4 := -28; x4 <= 28; x4++ {
			p := orb.Point{float64(x4) / 4, y}
			in := false
			for _, s := range spans {
				in = in || s.From <= p[0] && p[0] <= s.To
			}
			if in != geo.Contains(mp, p) {
				require.False(t, in, "%v is in a span, but not inside", p)
				require.InDelta(t, 0, geo.DistanceToEdge(mp, p), 1e-9, "%v differs away from the boundary", p)
			}
		}
	})
}

// The spans of rows 1 m apart, at half metres, add up to the area of shapes
// made of metres.
func TestInsideSpansAddUpToArea(t *testing.T) {
	var sum float64
	for y := 0.5; y < 100; y++ {
		for _, s := range geo.InsideSpans(ponded(), y) {
			sum += s.To - s.From
		}
	}
	assert.Equal(t, geo.Area(ponded()), sum)
}

func TestInsideSpansOfRowsAreThoseOfEachRow(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		mp := orb.MultiPolygon{{star(t)}, {{{-6, -6}, {-6, 3}, {2, 3}, {2, -6}}}}
		y0 := rapid.Float64Range(-12, 12).Draw(t, "y0")
		step := rapid.SampledFrom([]float64{0.1, 0.5, 1, 3}).Draw(t, "step")
		n := rapid.IntRange(0, 40).Draw(t, "n")
		rows := geo.InsideSpansOfRows(mp, y0, step, n)
		require.Len(t, rows, n)
		for row, spans := range rows {
			require.Equal(t, geo.InsideSpans(mp, y0+float64(float64(row)*step)), spans)
		}
	})
}
