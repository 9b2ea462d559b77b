package planar

import (
	"github.com/paulmach/orb"
)

// Ground returns the ground that outlines bound, as valid polygons: what lies in a
// shell and in no hole. Shells that overlap are united; a hole that reaches over
// its shell takes ground away and never adds any. A hole takes the ground of other
// parts too, but for a part that lies in it by more than half: that is an island.
//
// A shell that crosses itself is filled by the even-odd rule, so that what it runs
// round twice, such as a pond that was walked on the way, is left out. Where that
// leaves less than a quarter, the whole was walked twice and is ground. A hole is
// all that its ring runs round. The input is not changed. Coordinates that are not
// finite and outlines of more than [MostCrossings] are errors.
func Ground(mp orb.MultiPolygon) (orb.MultiPolygon, error) {
	mp = withoutCopies(mp)
	lines := RingLines(mp)
	if err := tangled(lines); err != nil {
		return nil, err
	}
	a, err := Arrange(lines)
	if err != nil {
		return nil, err
	}
	d := newDrawing(mp)
	faces := make([]faceIn, len(a.Faces))
	for i, f := range a.Faces {
		faces[i] = d.faceAt(f)
	}
	d.measure(faces)
	labels := make([]int, len(faces))
	for i, f := range faces {
		if d.holds(f) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
}

// walkedTwice is the share of the ground that a shell runs round, below which the
// even-odd rule has left only the slivers between two rounds. Judgement, no source.
const walkedTwice = 0.25

// drawing is the parts of one outline with what is known of them.
type drawing struct {
	shells []*windings // of each part
	holes  []*windings
	owner  []int  // part of each hole
	twice  []bool // parts whose shell was walked twice
	// island tells of a part and the hole of another that it lies in.
	island map[[2]int]bool
}

// faceIn is a face with the shells and holes around it.
type faceIn struct {
	area   float64
	shells []int
	odd    []bool // of each of shells, that it runs round the face an odd number of times
	holes  []int
}

func newDrawing(mp orb.MultiPolygon) *drawing {
	d := &drawing{twice: make([]bool, len(mp)), island: map[[2]int]bool{}}
	for k, polygon := range mp {
		for i, ring := range polygon {
			switch {
			case i == 0:
				d.shells = append(d.shells, newWindings(ring))
			default:
				d.holes, d.owner = append(d.holes, newWindings(ring)), append(d.owner, k)
			}
		}
		if len(polygon) == 0 {
			d.shells = append(d.shells, newWindings(nil))
		}
	}
	return d
}

func (d *drawing) faceAt(f Face) faceIn {
	in := faceIn{area: f.Area}
	for k, shell := range d.shells {
		if n := shell.round(f.Point); n != 0 {
			in.shells, in.odd = append(in.shells, k), append(in.odd, n%2 != 0)
		}
	}
	for h, hole := range d.holes {
		if hole.round(f.Point) != 0 {
			in.holes = append(in.holes, h)
		}
	}
	return in
}

// measure finds the shells that were walked twice, then the islands.
func (d *drawing) measure(faces []faceIn) {
	all, odd := make([]float64, len(d.shells)), make([]float64, len(d.shells))
	for _, f := range faces {
		for i, k := range f.shells {
			all[k] += f.area
			if f.odd[i] {
				odd[k] += f.area
			}
		}
	}
	ground := odd
	for k := range all {
		if odd[k] < walkedTwice*all[k] {
			d.twice[k], ground[k] = true, all[k]
		}
	}
	shared := map[[2]int]float64{}
	for _, f := range faces {
		for i, k := range f.shells {
			for _, h := range f.holes {
				if d.owner[h] != k && (f.odd[i] || d.twice[k]) {
					shared[[2]int{k, h}] += f.area
				}
			}
		}
	}
	for pair, area := range shared {
		d.island[pair] = area > ground[pair[0]]/2
	}
}

// holds reports whether a face is ground of any part.
func (d *drawing) holds(f faceIn) bool {
	for i, k := range f.shells {
		if (f.odd[i] || d.twice[k]) && !d.closed(k, f.holes) {
			return true
		}
	}
	return false
}

// closed reports whether one of the holes takes its ground from a part.
func (d *drawing) closed(part int, holes []int) bool {
	for _, h := range holes {
		if d.owner[h] == part || !d.island[[2]int{part, h}] {
			return true
		}
	}
	return false
}

// withoutCopies leaves out parts that are there already, vertex by vertex.
func withoutCopies(mp orb.MultiPolygon) orb.MultiPolygon {
	if len(mp) < 2 {
		return mp
	}
	var kept orb.MultiPolygon
	known := map[[4]float64][]int{}
	for _, polygon := range mp {
		b := orb.MultiPolygon{polygon}.Bound()
		key := [4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}
		copied := false
		for _, k := range known[key] {
			copied = copied || kept[k].Equal(polygon)
		}
		if !copied {
			known[key] = append(known[key], len(kept))
			kept = append(kept, polygon)
		}
	}
	return kept
}
