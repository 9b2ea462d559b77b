package scene

import (
	"image/color"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// Second signs, for eyes and printers without colour: 2 to 3 mm apart survives a
// photocopier (from memory, no source).
const (
	hatchApart = 2.4 // mm between lines
	hatchWidth = 0.3
	dotsApart  = 2.6 // mm between dots, along and across
	dotRadius  = 0.32
)

var ink = color.NRGBA{A: 0xFF}

// sign is the second sign of a zone over its ground, given on paper; scale is of
// the lengths above. Clear ground has none.
func sign(c zones.Class, ground [][]Point, scale float64) []Item {
	if len(ground) == 0 {
		return nil
	}
	switch c {
	case zones.Treat:
		return []Item{Lines{Lines: hatch(ground, hatchApart*scale), Style: Style{Stroke: ink, Width: hatchWidth * scale}}}
	case zones.Watch:
		return []Item{Dots{Centres: dots(ground, dotsApart*scale), Radius: dotRadius * scale, Colour: ink}}
	}
	return nil
}

// hatch is the ground cut with lines from lower left to upper right.
func hatch(ground [][]Point, apart float64) (lines [][]Point) {
	const half = math.Sqrt2 / 2
	turned := polygons(ground, func(p Point) orb.Point {
		return orb.Point{float64(half*p.X) - float64(half*p.Y), float64(half*p.X) + float64(half*p.Y)}
	})
	y0, n := rows(turned, apart)
	for i, spans := range geo.InsideSpansOfRows(turned, y0, apart, n) {
		y := y0 + float64(apart*float64(i))
		back := func(x float64) Point {
			return Point{float64(half*x) + float64(half*y), float64(half*y) - float64(half*x)}
		}
		for _, s := range spans {
			lines = append(lines, []Point{back(s.From), back(s.To)})
		}
	}
	return lines
}

// dots are places in the ground, every other row shifted by half a step.
func dots(ground [][]Point, apart float64) (centres []Point) {
	mp := polygons(ground, func(p Point) orb.Point { return orb.Point{p.X, p.Y} })
	step := apart / 2
	y0, n := rows(mp, step)
	first := int(math.Round(y0 / step))
	for i, spans := range geo.InsideSpansOfRows(mp, y0, step, n) {
		shift := float64((first+i)&1) * step
		for _, s := range spans {
			for k := math.Ceil((s.From - shift) / apart); float64(k*apart)+shift <= s.To; k++ {
				centres = append(centres, Point{float64(k*apart) + shift, y0 + float64(step*float64(i))})
			}
		}
	}
	return centres
}

// rows are multiples of a step over the height of the ground.
func rows(mp orb.MultiPolygon, step float64) (first float64, n int) {
	b := geo.Bound(mp)
	first = math.Ceil(b.Min[1]/step) * step
	return first, max(0, int(math.Floor((b.Max[1]-first)/step))+1)
}

func polygons(ground [][]Point, turn func(Point) orb.Point) orb.MultiPolygon {
	polygon := make(orb.Polygon, len(ground))
	for i, r := range ground {
		for _, p := range r {
			polygon[i] = append(polygon[i], turn(p))
		}
	}
	return orb.MultiPolygon{polygon}
}
