package zones

import (
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/interp"

	"github.com/paulmach/orb"
)

// judge applies the least area to connected patches of faces. Every rule is
// monotone: with a higher treat level no piece of ground gets a worse class.
type judge struct {
	faces   []planar.Face
	classes []Class
	minArea float64
}

// apply lowers small treat patches without evidence of their own to watch, then
// raises small islands to the worse ground that encloses them. hot tells which of some faces
// hold a stop at or above the treat level.
func (j judge) apply(hot func(faces []int) map[int]bool) {
	if j.minArea <= 0 {
		return
	}
	treat := j.patches(func(c Class) bool { return c == Treat })
	var small []int // faces
	for _, p := range treat {
		if p.area < j.minArea {
			small = append(small, p.faces...)
		}
	}
	var overLevel map[int]bool
	if len(small) > 0 {
		overLevel = hot(small)
	}
	for _, p := range treat {
		if p.area < j.minArea && !p.holds(overLevel) {
			j.set(p, Watch)
		}
	}
	for _, p := range j.patches(func(c Class) bool { return c == Watch || c == Clear }) {
		if p.area < j.minArea && len(p.around) > 0 {
			j.set(p, Treat)
		}
	}
	for _, p := range j.patches(func(c Class) bool { return c == Clear }) {
		if p.area < j.minArea && len(p.around) > 0 {
			j.set(p, p.mildest())
		}
	}
}

// patch is a connected piece of ground of one kind.
type patch struct {
	faces  []int
	area   float64
	around []Class // classes in the field that border it
}

func (p patch) holds(overLevel map[int]bool) bool {
	for _, f := range p.faces {
		if overLevel[f] {
			return true
		}
	}
	return false
}

// mildest is the least of the worse classes around, the zone that an island of
// clear ground joins.
func (p patch) mildest() Class {
	best := p.around[0]
	for _, c := range p.around {
		best = min(best, c)
	}
	return best
}

func (j judge) set(p patch, c Class) {
	for _, f := range p.faces {
		j.classes[f] = c
	}
}

// patches finds the connected pieces whose class is of a kind.
func (j judge) patches(kind func(Class) bool) []patch {
	var found []patch
	seen := make([]bool, len(j.faces))
	for start := range j.faces {
		if seen[start] || !kind(j.classes[start]) {
			continue
		}
		seen[start] = true
		p := patch{faces: []int{start}}
		for i := 0; i < len(p.faces); i++ {
			face := j.faces[p.faces[i]]
			p.area += face.Area
			for _, n := range face.Neighbors {
				switch {
				case n == planar.Outside || j.classes[n] == NoData:
				case kind(j.classes[n]) && !seen[n]:
					seen[n] = true
					p.faces = append(p.faces, n)
				case !kind(j.classes[n]):
					p.around = append(p.around, j.classes[n])
				}
			}
		}
		found = append(found, p)
	}
	return found
}

// hotFaces finds those of some faces that hold a stop at or above the treat level. A stop
// on a line counts for the faces on both sides.
func hotFaces(a *planar.Arrangement, some []int, stops []interp.Sample, treatAt float64) map[int]bool {
	var hot []orb.Point
	for _, s := range stops {
		if !(s.Value < treatAt) {
			hot = append(hot, orb.Point{s.X, s.Y})
		}
	}
	return a.Holding(hot, some)
}
