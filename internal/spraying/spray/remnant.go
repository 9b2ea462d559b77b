package spray

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/sorted"
)

// remnants lists what stays unsprayed, largest first, and adds all of it up.
func (w *work) remnants(left orb.MultiPolygon, l layout) (list []Remnant, sum float64) {
	dropped, cut := w.bands(l, isDropped), w.bands(l, w.isCut)
	for _, polygon := range left {
		area := geo.Area(orb.MultiPolygon{polygon})
		sum += area
		if area < sliver {
			continue
		}
		inside := planar.InsidePoint(polygon)
		rest := Remnant{Ground: mapped(orb.MultiPolygon{polygon}, w.turned.back)[0], Area: area, Point: w.turned.back(inside)}
		switch {
		case cut.holds(inside):
			rest.Why = NoWay
		case dropped.holds(inside):
			rest.Why = TooShort
		}
		list = append(list, rest)
	}
	sorted.Stably(list, func(a, b Remnant) int {
		switch {
		case a.Area > b.Area:
			return -1
		case a.Area < b.Area:
			return 1
		}
		return 0
	})
	return list, sum
}
