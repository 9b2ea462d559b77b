package planar

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/shares"
)

// leastShare is how many faces, holes or cells are worth a processor of their own.
const leastShare = 256

// Outside is the face beyond every ring.
const Outside = -1

// A Face is a connected piece of the plane that no line crosses.
type Face struct {
	Point orb.Point // a place inside, off the border
	Area  float64   // holes taken off
	// Neighbors are the faces across its border arcs, sorted, each once;
	// [Outside] among them where the face lies on the rim. Faces that only
	// touch in a point are no neighbours.
	Neighbors []int
}

// An Arrangement is the plane cut along lines.
type Arrangement struct {
	Faces    []Face
	graph    *graph
	left     []int         // face on the left of each half-edge, or Outside
	polygons []orb.Polygon // of each face
	step     float64       // of the lattice that the lines were moved to
}

// Arrange cuts the plane along lines. Lines that bound nothing are dropped. No
// lines give no faces. Vertices move to a lattice, by 2⁻⁴³ of the largest
// coordinate or less. A coordinate that is not finite is the only error.
func Arrange(lines []orb.LineString) (*Arrangement, error) {
	step, err := latticeFor(lines)
	if err != nil {
		return nil, err
	}
	a := arrangeNoded(prune(nodeOn(lines, step)))
	a.step = step
	return a, nil
}

// RingLines returns every ring of the polygons as a closed line.
func RingLines(mps ...orb.MultiPolygon) []orb.LineString {
	var lines []orb.LineString
	for _, mp := range mps {
		for _, polygon := range mp {
			for _, ring := range polygon {
				lines = append(lines, closed(slices.Clone(orb.LineString(ring))))
			}
		}
	}
	return lines
}

// closed repeats the first vertex at the end where that is missing, in a copy then.
func closed(line orb.LineString) orb.LineString {
	if len(line) == 0 || line[0] == line[len(line)-1] {
		return line
	}
	return append(slices.Clip(line), line[0])
}

func arrangeNoded(arcs []orb.LineString) *Arrangement {
	g := newGraph(arcs)
	a := &Arrangement{graph: g, left: make([]int, 2*len(arcs))}
	shells, rims := g.walk(a.left)
	holes := nest(shells, rims)
	for i, shell := range shells {
		polygon := orb.Polygon{shell.ring}
		area := shell.area
		for _, r := range holes[i] {
			polygon = append(polygon, rims[r].ring)
			area += rims[r].area
			for _, h := range rims[r].halves {
				a.left[h] = i
			}
		}
		a.polygons = append(a.polygons, polygon)
		a.Faces = append(a.Faces, Face{Area: area})
	}
	shares.Of(len(a.Faces), leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			a.Faces[i].Point = InsidePoint(a.polygons[i])
		}
	})
	a.link()
	return a
}

// loop is a closed walk along half-edges with one face on its left.
type loop struct {
	halves []int
	ring   orb.Ring
	area   float64
	bound  orb.Bound
	piece  int // connected piece of linework that it belongs to
}

// walk follows the left side of every half-edge. Shells turn counter-clockwise
// and each is the outer border of one face; rims are the outer borders of
// connected pieces of linework, seen from the face around them.
func (g *graph) walk(left []int) (shells, rims []loop) {
	seen := make([]bool, len(left))
	piece := g.pieces()
	for start := range left {
		if seen[start] {
			continue
		}
		var halves []int
		for h := start; !seen[h]; h = g.next(h) {
			seen[h] = true
			halves = append(halves, h)
		}
		ring := g.cycle(halves)
		l := loop{halves: halves, ring: ring, area: signedArea(ring), bound: boundOf(ring), piece: piece[g.from[start]]}
		face := Outside
		if l.area > 0 {
			face = len(shells)
			shells = append(shells, l)
		} else {
			rims = append(rims, l)
		}
		for _, h := range halves {
			left[h] = face
		}
	}
	return shells, rims
}

// nest finds for each rim the smallest shell around it, if any, and returns the
// rims inside each shell. Pieces of linework do not touch, so any one vertex of
// the rim tells. The shells of a rim's own piece lie inside it, never around it.
func nest(shells, rims []loop) map[int][]int {
	inside := map[int][]int{}
	if len(rims) < 2 { // all is one piece
		return inside
	}
	around, in := aroundFor(shells, len(rims)), make([]int, len(rims))
	shares.Of(len(rims), leastShare, func(from, to int) {
		for r := from; r < to; r++ {
			rim := &rims[r]
			in[r] = -1
			for _, s := range around(rim.ring[0], rim.bound) {
				if shell := &shells[s]; shell.piece != rim.piece && (in[r] < 0 || shell.area < shells[in[r]].area) && contains(shell.bound, rim.bound) {
					in[r] = s
				}
			}
		}
	})
	for r, s := range in {
		if s >= 0 {
			inside[s] = append(inside[s], r)
		}
	}
	return inside
}

// fewAsked is how often shells are asked what they lie around without an index of their
// edges, which takes as long to make.
const fewAsked = 12

// aroundFor finds the shells around a place in rising order, for who asks so many times; those
// whose bounds do not hold some others may be left out.
func aroundFor(shells []loop, times int) func(p orb.Point, within orb.Bound) []int {
	if times > fewAsked {
		index := indexOf(shells)
		return func(p orb.Point, _ orb.Bound) []int { return index.Containing(p) }
	}
	return func(p orb.Point, within orb.Bound) (around []int) {
		for i, shell := range shells {
			if contains(shell.bound, within) && geo.Contains(orb.MultiPolygon{{shell.ring}}, p) {
				around = append(around, i)
			}
		}
		return around
	}
}

func indexOf(shells []loop) *geo.PolygonIndex {
	polygons := make([]orb.Polygon, len(shells))
	for i, s := range shells {
		polygons[i] = orb.Polygon{s.ring}
	}
	return geo.NewPolygonIndex(polygons)
}

func contains(a, b orb.Bound) bool {
	return a.Min[0] <= b.Min[0] && a.Min[1] <= b.Min[1] && a.Max[0] >= b.Max[0] && a.Max[1] >= b.Max[1]
}

func (a *Arrangement) link() {
	for h, face := range a.left {
		if across := a.left[twin(h)]; face >= 0 && across != face {
			a.Faces[face].Neighbors = append(a.Faces[face].Neighbors, across)
		}
	}
	for i := range a.Faces {
		slices.Sort(a.Faces[i].Neighbors)
		a.Faces[i].Neighbors = slices.Compact(a.Faces[i].Neighbors)
	}
}

// Check compares the faces inside polygons, whose rings must be among the lines
// of the arrangement, with the polygons' area as known from elsewhere: should
// ground be lost or come twice, it shows here. Inside is meant by the even-odd
// rule; in is an index of the polygons.
func (a *Arrangement) Check(mp orb.MultiPolygon, in *geo.Index, area float64) error {
	return a.CheckInside(mp, a.Inside(in), area)
}

// CheckInside is Check for who knows already which faces lie inside.
func (a *Arrangement) CheckInside(mp orb.MultiPolygon, inside []bool, area float64) error {
	faces := 0.0
	for i, f := range a.Faces {
		if inside[i] {
			faces += f.Area
		}
	}
	return a.addUp(faces, mp, area)
}

// Inside tells of each face whether it lies inside polygons, by an index of them. Their rings
// are among the lines, so that only what was dropped of them runs through a face.
func (a *Arrangement) Inside(in *geo.Index) []bool {
	inside := make([]bool, len(a.Faces))
	shares.Of(len(a.Faces), leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			inside[i] = in.Odd(a.Faces[i].Point)
		}
	})
	return inside
}

// addUp compares the area of the faces inside polygons with that of the polygons.
func (a *Arrangement) addUp(faces float64, mp orb.MultiPolygon, area float64) error {
	var rim float64
	for _, polygon := range mp {
		for _, ring := range polygon {
			rim += length(closed(orb.LineString(ring)))
		}
	}
	if !(math.Abs(faces-area) <= float64(areaTolerance*area)+float64(rim*a.step)) {
		return fmt.Errorf("planar: faces of %.12g m² where the polygon has %.12g m²", faces, area)
	}
	return nil
}

// Holding tells which of some faces hold one of the places, on a line each that meets there.
func (a *Arrangement) Holding(places []orb.Point, some []int) map[int]bool {
	polygons, holding := make([]orb.Polygon, len(some)), map[int]bool{}
	for k, face := range some {
		polygons[k] = a.polygons[face]
	}
	index := geo.NewPolygonIndex(polygons)
	for _, p := range places {
		for _, k := range index.Containing(p) {
			holding[some[k]] = true
		}
	}
	return holding
}

// areaTolerance is relative; sums of some thousand products near the origin are
// good to about 1e-12.
const areaTolerance = 1e-9
