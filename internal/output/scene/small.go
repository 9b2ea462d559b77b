package scene

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// smallSign is how much smaller signs and lines are on a map for a list.
const smallSign = 0.55

// Small is the map for a list, in a box of a width and height in mm: boundary, zones
// with their signs, and stops, of which those at or above the treat level are black.
func Small(s Subject, width, height float64) Scene {
	const margin = 1
	p := plotInto(s.bound(), Point{margin, margin}, width-2*margin, height-2*margin)
	out := Scene{Width: width, Height: height}
	for _, l := range s.mapLayers(p, smallSign) {
		if l.Name != LayerValues {
			out.Layers = append(out.Layers, l)
		}
	}
	return out
}

// ScaleBar is the longest round length that is no longer than most mm on a map: in mm,
// and its name.
func ScaleBar(p Plot, most float64, u figures.Units) (mm float64, name string) {
	metres, name := barOf(most/p.Scale, u)
	return metres * p.Scale, name
}

// MapHeight is that of a map of [MapOnly] of a width, at most a height, in mm.
func MapHeight(s Subject, width, height float64) float64 {
	b := s.bound()
	if w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]; w > 0 && h > 0 {
		return min(height, (width-2*mapMargin)*h/w+2*mapMargin)
	}
	return height
}

// MapIn is the map of [MapOnly] in the middle of a box of just that size, so that maps of
// several fields have the same size on a page.
func MapIn(s Subject, width, height float64) (Scene, Plot) {
	p := plotInto(s.bound(), Point{mapMargin, mapMargin}, width-2*mapMargin, height-2*mapMargin)
	p.room = orb.Bound{Min: orb.Point{0.5, 0.5}, Max: orb.Point{width - 0.5, height - 0.5}}
	return Scene{Width: width, Height: height, Layers: s.mapLayers(p, 1)}, p
}

// mapMargin is round a map without words, in mm.
const mapMargin = 4
