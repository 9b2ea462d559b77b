package planar

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/shares"
	"github.com/geocoris/geocoris/internal/sorted"
)

// snapRounded parts segments where they meet, on the lattice of whole numbers.
// Snap rounding (Hobby 1999, Comput. Geom. 13:199–214): around each end and each
// crossing of segments stands a hot pixel, a unit square with its left and lower
// sides, and every segment is led through the middles of the hot pixels that it
// passes. The pieces have no point in common but their ends, whatever came in,
// and none is twice. No place moves by more than half a unit along either axis.
func snapRounded(segments []segment) (pieces []segment) {
	segments = unique(segments)
	hot := crossings(segments, 0)
	hot = slices.Grow(hot, 2*len(segments))
	for _, s := range segments {
		hot = append(hot, s.a, s.b)
	}
	return unique(newPixels(hot).parted(segments))
}

// parted are the pieces of segments between the hot pixels that they pass.
func (p *pixels) parted(segments []segment) []segment {
	return shares.Found(len(segments), leastShare, func(from, to int) (pieces []segment) {
		var way []orb.Point
		pieces = make([]segment, 0, to-from+(to-from)/8) // few are cut
		for _, s := range segments[from:to] {
			way = p.along(s, way[:0])
			for i := 1; i < len(way); i++ {
				pieces = append(pieces, newSegment(way[i-1], way[i]))
			}
		}
		return pieces
	})
}

// passes reports whether a segment passes the pixel around p, a point within the
// segment's bounds. An upright or level segment then runs through p; another
// cuts the square where it parts two opposite corners, and the lower left one is
// in it.
func (s segment) passes(p orb.Point) bool {
	left, right, low, high := p[0]-0.5, p[0]+0.5, p[1]-0.5, p[1]+0.5
	switch {
	case s.a[0] == s.b[0] || s.a[1] == s.b[1]:
		return true
	case s.b[1] > s.a[1]:
		return side(s.a, s.b, orb.Point{left, high}) > 0 && side(s.a, s.b, orb.Point{right, low}) < 0
	}
	return side(s.a, s.b, orb.Point{right, high}) > 0 && side(s.a, s.b, orb.Point{left, low}) <= 0
}

// pixels are hot pixels sorted into cells, so that a segment finds those on its
// way.
type pixels struct {
	origin        orb.Point
	width, height float64       // of a cell
	side          int           // cells along either axis
	cells         [][]orb.Point // row by row, each pixel once
}

// newPixels takes pixels in any order, the same ones several times too.
func newPixels(hot []orb.Point) *pixels {
	b := boundOf(hot)
	p := &pixels{origin: b.Min, side: max(1, int(math.Sqrt(float64(len(hot)/2))))}
	p.width, p.height = max(1, (b.Max[0]-b.Min[0])/float64(p.side)), max(1, (b.Max[1]-b.Min[1])/float64(p.side))
	in, count := make([]int32, len(hot)), make([]int, p.side*p.side)
	for i, h := range hot {
		in[i] = int32(p.cell(h))
		count[in[i]]++
	}
	room := make([]orb.Point, len(hot))
	p.cells = make([][]orb.Point, len(count))
	for c, n := range count {
		p.cells[c], room = room[:0:n], room[n:]
	}
	for i, h := range hot {
		p.cells[in[i]] = append(p.cells[in[i]], h)
	}
	shares.Of(len(p.cells), leastShare, func(from, to int) {
		for c := from; c < to; c++ {
			p.cells[c] = uniquePoints(p.cells[c])
		}
	})
	return p
}

func (p *pixels) cell(at orb.Point) int { return p.row(at[1])*p.side + p.col(at[0]) }

func (p *pixels) col(x float64) int { return p.index((x - p.origin[0]) / p.width) }
func (p *pixels) row(y float64) int { return p.index((y - p.origin[1]) / p.height) }

func (p *pixels) index(v float64) int { return min(max(int(math.Floor(v)), 0), p.side-1) }

// along appends the hot pixels that a segment passes, from a to b.
func (p *pixels) along(s segment, way []orb.Point) []orb.Point {
	low, high := s.heights()
	for col := p.col(s.a[0]); col <= p.col(s.b[0]); col++ {
		from, to := p.rows(s, col)
		for row := from; row <= to; row++ {
			for _, h := range p.cells[row*p.side+col] {
				if h[0] >= s.a[0] && h[0] <= s.b[0] && h[1] >= low && h[1] <= high && s.passes(h) {
					way = append(way, h)
				}
			}
		}
	}
	rise := 1.0
	if s.b[1] < s.a[1] {
		rise = -1
	}
	// Both coordinates run one way along a segment.
	sorted.By(way, func(h, k orb.Point) int { return cmp.Compare(h[0]+rise*h[1], k[0]+rise*k[1]) })
	return way
}

// rows are those of the cells of a column that pixels passed by a segment lie in.
func (p *pixels) rows(s segment, col int) (from, to int) {
	west := p.origin[0] + float64(float64(col)*p.width)
	low, high := s.heightsBetween(west, west+p.width)
	return p.row(low), p.row(high)
}
