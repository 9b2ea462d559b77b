package planar

import (
	"cmp"
	"slices"
	"sort"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/sorted"
)

// segment joins two different points of whole numbers below 2⁵⁰, so that all
// differences are exact, halves too; a is west of b, or south of it.
type segment struct{ a, b orb.Point }

func newSegment(p, q orb.Point) segment {
	if comparePoints(p, q) > 0 {
		p, q = q, p
	}
	return segment{p, q}
}

func comparePoints(p, q orb.Point) int {
	if p[0] != q[0] {
		return cmp.Compare(p[0], q[0])
	}
	return cmp.Compare(p[1], q[1])
}

func compareSegments(s, t segment) int {
	if s.a != t.a {
		return comparePoints(s.a, t.a)
	}
	return comparePoints(s.b, t.b)
}

// boundOf is the bound that orb has of points, which takes it longer.
func boundOf(points []orb.Point) orb.Bound { return geo.Bound(orb.MultiPolygon{{points}}) }

// uniquePoints sorts points and leaves out what is there twice.
func uniquePoints(all []orb.Point) []orb.Point {
	sorted.By(all, comparePoints)
	return slices.Compact(all)
}

// unique sorts segments and leaves out what is there twice.
func unique(all []segment) []segment {
	sort.Sort(segments(all))
	return slices.Compact(all)
}

// segments are what is sorted most: [sorted.By] would take longer, on the phone most of all.
type segments []segment

func (s segments) Len() int           { return len(s) }
func (s segments) Less(i, k int) bool { return compareSegments(s[i], s[k]) < 0 }
func (s segments) Swap(i, k int)      { s[i], s[k] = s[k], s[i] }

// heights is the range of y.
func (s segment) heights() (low, high float64) {
	return min(s.a[1], s.b[1]), max(s.a[1], s.b[1])
}

// crosses reports whether two segments meet in a point inside both.
func (s segment) crosses(t segment) bool {
	return side(s.a, s.b, t.a)*side(s.a, s.b, t.b) < 0 && side(t.a, t.b, s.a)*side(t.a, t.b, s.b) < 0
}

// pixelOfCrossing is the pixel in which two segments cross.
func (s segment) pixelOfCrossing(t segment) orb.Point {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	ex, ey := t.b[0]-t.a[0], t.b[1]-t.a[1]
	along, all := cross(t.a[0]-s.a[0], t.a[1]-s.a[1], ex, ey), cross(dx, dy, ex, ey)
	return orb.Point{s.a[0] + portion(dx, along, all), s.a[1] + portion(dy, along, all)}
}
