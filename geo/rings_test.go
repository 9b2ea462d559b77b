package geo_test

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestWind(t *testing.T) {
	ccw := orb.Ring{{0, 0}, {4, 0}, {4, 3}, {0, 0}}
	cw := orb.Ring{{0, 0}, {4, 3}, {4, 0}, {0, 0}}
	tests := []struct {
		name     string
		in, want orb.MultiPolygon
	}{
		{"right already", orb.MultiPolygon{{ccw, cw}}, orb.MultiPolygon{{ccw, cw}}},
		{"wrong both", orb.MultiPolygon{{cw, ccw}}, orb.MultiPolygon{{ccw, cw}}},
		{"not closed", orb.MultiPolygon{{cw[:3]}}, orb.MultiPolygon{{ccw}}},
		{"single vertex", orb.MultiPolygon{{{{1, 2}}}}, orb.MultiPolygon{{{{1, 2}, {1, 2}}}}},
		{"no area", orb.MultiPolygon{{{{0, 0}, {1, 0}}}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {0, 0}}}}},
		{"empty ring", orb.MultiPolygon{{{}}}, orb.MultiPolygon{{{}}}},
		{"empty", orb.MultiPolygon{}, orb.MultiPolygon{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := tt.in.Clone()
			assert.Equal(t, tt.want, geo.Wind(tt.in))
			assert.Equal(t, before, tt.in, "the input is left alone")
		})
	}
}

// orb's own orientation is the judge.
func TestWindOnAStar(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		outer, hole := star(t), star(t)
		if rapid.Bool().Draw(t, "reverse outer") {
			slices.Reverse(outer)
		}
		if rapid.Bool().Draw(t, "reverse hole") {
			slices.Reverse(hole)
		}
		mp := orb.MultiPolygon{{outer, hole}}
		wound := geo.Wind(mp)
		require.Equal(t, orb.CCW, wound[0][0].Orientation())
		require.Equal(t, orb.CW, wound[0][1].Orientation())
		assert.Equal(t, outer[0], wound[0][0][0])
		assert.Equal(t, wound, geo.Wind(wound))
	})
}
