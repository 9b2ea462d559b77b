package planar

import (
	"slices"

	"github.com/paulmach/orb"
	flat "github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
)

// WithoutSpikes returns valid polygons without what is thinner than a width: parts
// and holes of less mean width, fins that stick out of the ground and slits that run
// into it, whose two sides run back along one another. The ground moves by no more
// than about the width, and only there. Where that would leave polygons that are not
// valid they come back as they were. The input is not changed.
func WithoutSpikes(mp orb.MultiPolygon, width float64) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, polygon := range mp {
		var kept orb.Polygon
		for i, ring := range polygon {
			if ring = blunted(ring, width); !thin(ring, width) {
				kept = append(kept, ring)
			} else if i == 0 {
				break
			}
		}
		if len(kept) > 0 {
			out = append(out, kept)
		}
	}
	if Valid(out) != nil {
		return mp
	}
	return out
}

// thin reports whether a ring runs round less than the width on average: as much as a
// strip of it has.
func thin(ring orb.Ring, width float64) bool {
	var rim float64
	for i := 1; i < len(ring); i++ {
		rim += flat.Distance(ring[i-1], ring[i])
	}
	return 2*geo.Area(orb.MultiPolygon{{ring}}) < width*rim
}

// blunted takes the tips of spikes off a ring until there are none: what was next to
// a tip is the tip of the rest.
func blunted(ring orb.Ring, width float64) orb.Ring {
	open := slices.Clone(ring[:max(0, len(ring)-1)])
	for i, left := 0, len(open); len(open) > 3 && left > 0; left-- {
		if isTip(open, i, width) {
			open = slices.Delete(open, i, i+1)
			left = len(open) + 1
			i = max(0, i-2)
			continue
		}
		i = (i + 1) % len(open)
	}
	if len(open) == 0 {
		return nil
	}
	return append(open, open[0])
}

// isTip reports whether a vertex is the tip of a spike, or one of two that are.
func isTip(open orb.Ring, i int, width float64) bool {
	at := func(k int) orb.Point { return open[(i+k+len(open))%len(open)] }
	return foldsBack(at(-1), at(0), at(1), width) ||
		flat.Distance(at(0), at(1)) < width && len(open) > 4 && foldsBack(at(-1), at(1), at(2), width)
}

// foldsBack reports whether the way from a over tip to b comes back along itself, so
// that one of both lies closer than the width to the other's leg.
func foldsBack(a, tip, b orb.Point, width float64) bool {
	if (tip[0]-a[0])*(b[0]-tip[0])+(tip[1]-a[1])*(b[1]-tip[1]) >= 0 {
		return false
	}
	return flat.DistanceFromSegment(tip, b, a) < width || flat.DistanceFromSegment(tip, a, b) < width
}
