package scene

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Signs stay on their ground, holes left out, and are as dense as they are apart:
// one dot for each apart²/2, hatching of a length of area / apart. A place on the
// very edge may round to either side of it.
func TestSignsStayOnTheirGround(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y")
		w, h := rapid.Float64Range(40, 90).Draw(t, "w"), rapid.Float64Range(40, 90).Draw(t, "h")
		ground := [][]Point{
			{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}},
			{{x + 10, y + 10}, {x + 10, y + 25}, {x + 25, y + 25}, {x + 25, y + 10}},
		}
		mp := polygons(ground, func(p Point) orb.Point { return orb.Point{p.X, p.Y} })
		area := geo.Area(mp)
		spots := dots(ground, dotsApart)
		for _, p := range spots {
			assert.True(t, onGround(mp, orb.Point{p.X, p.Y}), "%v", p)
		}
		assert.InEpsilon(t, area, float64(len(spots))*dotsApart*dotsApart/2, 0.15)
		length := 0.0
		for _, l := range hatch(ground, hatchApart) {
			a, b := orb.Point{l[0].X, l[0].Y}, orb.Point{l[1].X, l[1].Y}
			assert.True(t, onGround(mp, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}), "%v", l)
			length += hypot(a, b)
		}
		assert.InEpsilon(t, area, length*hatchApart, 0.15)
	})
}

func onGround(mp orb.MultiPolygon, p orb.Point) bool {
	const rounding = 1e-9 // mm
	return geo.Contains(mp, p) || geo.DistanceToEdge(mp, p) < rounding
}

func hypot(a, b orb.Point) float64 { return geo.DistanceToEdge(orb.MultiPolygon{{{a, a, a}}}, b) }
