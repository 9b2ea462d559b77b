package planar

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/shares"
	"github.com/geocoris/geocoris/internal/sorted"
)

// crossings are the pixels in which segments cross, once for each two that do, and
// no more than so many where most is above 0. The plane is cut into upright strips,
// and a line from south to north sweeps over each, so that neither long level nor
// long upright segments are compared with all others.
func crossings(segments []segment, most int) (at []orb.Point) {
	strips := newStrips(segments)
	at = shares.Found(len(strips), leastShare, func(from, to int) (some []orb.Point) {
		for i := from; i < to && (most == 0 || len(some) < most); i++ {
			some = strips[i].cross(i, some, most)
		}
		return some
	})
	if most > 0 && len(at) > most {
		return at[:most]
	}
	return at
}

// strips cut a plane from west to east.
type strips struct {
	west, width float64
	count       int
}

// entriesPerSegment bounds in how many strips a segment is entered on average.
const entriesPerSegment = 4

func stripsFor(segments []segment) strips {
	west, east, wide := math.Inf(1), math.Inf(-1), 0.0
	for _, s := range segments {
		west, east, wide = min(west, s.a[0]), max(east, s.b[0]), wide+(s.b[0]-s.a[0])
	}
	n := float64(len(segments))
	count := 1.0
	if wide > 0 {
		count = max(1, math.Floor(min(n/4, (entriesPerSegment-1)*n*(east-west)/wide)))
	}
	return strips{west, max(1, (east-west)/count), int(count)}
}

func (s strips) at(x float64) int {
	return min(max(int(math.Floor((x-s.west)/s.width)), 0), s.count-1)
}

// strip is the segments in one of the strips, with their heights there.
type strip struct {
	strips
	in []lying
}

type lying struct {
	segment
	low, high float64
}

func newStrips(segments []segment) []strip {
	if len(segments) == 0 {
		return nil
	}
	all := stripsFor(segments)
	entered, sum := make([]int, all.count), 0
	for _, s := range segments {
		first, last := all.at(s.a[0]), all.at(s.b[0])
		for i := first; i <= last; i++ {
			entered[i]++
		}
		sum += last - first + 1
	}
	room := make([]lying, sum)
	out := make([]strip, all.count)
	for i, n := range entered {
		out[i] = strip{all, room[:0:n]}
		room = room[n:]
	}
	for _, s := range segments {
		for i := all.at(s.a[0]); i <= all.at(s.b[0]); i++ {
			west := all.west + float64(float64(i)*all.width)
			low, high := s.heightsBetween(west, west+all.width)
			out[i].in = append(out[i].in, lying{s, low, high})
		}
	}
	return out
}

// heightsBetween is the range of y from one x to another, and a little more: a pixel
// is passed beside its middle, and the arithmetic rounds.
func (s segment) heightsBetween(west, east float64) (low, high float64) {
	low, high = s.heights()
	dx := s.b[0] - s.a[0]
	if dx == 0 {
		return low, high
	}
	const slack = 2
	at := func(x float64) float64 {
		return s.a[1] + float64((s.b[1]-s.a[1])*min(max((x-s.a[0])/dx, 0), 1))
	}
	y, z := at(west-slack), at(east+slack)
	return max(low, min(y, z)-slack), min(high, max(y, z)+slack)
}

// cross appends the crossings in a strip. One at the border of two strips is
// counted by one of them, whichever its place rounds to.
func (s strip) cross(number int, at []orb.Point, most int) []orb.Point {
	sorted.By(s.in, func(a, b lying) int {
		if a.low != b.low {
			return cmp.Compare(a.low, b.low)
		}
		return compareSegments(a.segment, b.segment)
	})
	var cut []lying
	for _, l := range s.in {
		kept := cut[:0]
		for _, k := range cut {
			if k.high < l.low {
				continue
			}
			kept = append(kept, k)
			if k.a[0] > l.b[0] || l.a[0] > k.b[0] || !l.crosses(k.segment) {
				continue
			}
			if p := l.pixelOfCrossing(k.segment); s.strips.at(p[0]) == number {
				if at = append(at, p); len(at) == most {
					return at
				}
			}
		}
		cut = append(kept, l)
	}
	return at
}
