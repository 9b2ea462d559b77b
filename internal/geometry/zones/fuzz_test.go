package zones_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// FuzzBuild parts a field with a hole by a surface of any whole numbers, many of them
// the levels themselves, with ground beyond reach and stops anywhere in it. Whatever the
// surface, the zones part the field, and no stop lies in milder ground than it asks for.
func FuzzBuild(f *testing.F) {
	f.Add([]byte{40, 20, 0, 41, 19, 255, 254, 39, 40, 40, 20}, []byte{60, 60, 40, 61, 60, 20}, uint8(3), uint8(0), uint8(2))
	f.Add([]byte{20}, []byte{}, uint8(0), uint8(9), uint8(0))
	f.Add([]byte{0, 80}, []byte{90, 10, 90}, uint8(12), uint8(40), uint8(30))
	f.Fuzz(func(t *testing.T, heights, at []byte, margin, least, simplify uint8) {
		s := fuzzSurvey(heights, at)
		s.settings.Margin, s.settings.MinArea, s.settings.Simplify = float64(margin%16), 10*float64(least), float64(simplify%32)/4
		m, err := zones.Build(s.field, s.surface, s.stops, s.settings)
		if err != nil {
			t.Fatal(err)
		}
		assertTiles(t, m, s)
		assertCautious(t, m, s)
	})
}

// fuzzSurvey is a field of 100 m by 100 m on a lattice of 20 m: a height for each node,
// taken in turn, of which 254 is ground beyond reach and 255 such ground without a value;
// and three bytes for each stop.
func fuzzSurvey(heights, at []byte) survey {
	l := interp.Lattice{X0: -20, Y0: -20, Cell: 20, Cols: 8, Rows: 8}
	s := survey{
		field:    orb.MultiPolygon{{rectangle(0, 0, 100, 100)[0], {{40, 40}, {40, 60}, {60, 60}, {60, 40}, {40, 40}}}},
		surface:  zones.Surface{Value: interp.NewGrid(l), Distance: interp.NewGrid(l)},
		settings: zones.Settings{Levels: levels, Reach: 30},
	}
	for i := range s.surface.Value.Values {
		var b byte
		if len(heights) > 0 {
			b = heights[i%len(heights)]
		}
		switch value, distance := &s.surface.Value.Values[i], &s.surface.Distance.Values[i]; b {
		case 255:
			*value, *distance = math.NaN(), 50
		case 254:
			*value, *distance = 10, 50
		default:
			*value, *distance = float64(b), 10
		}
	}
	for ; len(at) >= 3 && len(s.stops) < 20; at = at[3:] {
		p := orb.Point{float64(at[0]) / 2.55, float64(at[1]) / 2.55}
		if geo.Contains(s.field, p) {
			s.stops = append(s.stops, interp.Sample{X: p[0], Y: p[1], Value: float64(at[2])})
		}
	}
	return s
}
