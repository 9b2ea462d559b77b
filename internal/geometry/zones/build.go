package zones

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/contour"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/shares"
	"github.com/geocoris/geocoris/interp"
)

// Settings say how a surface is cut. Levels and Reach are required; the zero
// value of the others changes nothing.
type Settings struct {
	Levels Levels
	Reach  float64 // metres; ground farther from every stop is never clear
	Margin float64 // metres by which treat ground is grown, within the field
	// MinArea in m²: smaller treat patches without a stop at or above the treat
	// level become watch, smaller islands inside worse ground join it.
	MinArea  float64
	Simplify float64 // metres; tolerance for level lines, never for the field's edge
}

// Validate reports settings that cannot be meant.
func (s Settings) Validate() error {
	if err := s.Levels.Validate(); err != nil {
		return err
	}
	if !(s.Reach > 0) {
		return fmt.Errorf("reach %g m: want a distance above 0", s.Reach)
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"margin", s.Margin}, {"least area", s.MinArea}, {"simplify tolerance", s.Simplify}} {
		if !(v.value >= 0) || math.IsInf(v.value, 0) {
			return fmt.Errorf("%s %g: want a number of 0 or more", v.name, v.value)
		}
	}
	return nil
}

// Build parts a field, in metres and valid, by a surface and the stops it came
// from. The surface must hold a distance at every node of every cell that touches
// the field, and a value within reach of a stop: a node without one inside the
// field is an error, never clear ground.
func Build(field orb.MultiPolygon, s Surface, stops []interp.Sample, set Settings) (*Map, error) {
	if err := set.Validate(); err != nil {
		return nil, fmt.Errorf("zones: %w", err)
	}
	if len(s.Distance.Values) != len(s.Value.Values) || len(s.Value.Values) != s.Value.Len() {
		return nil, fmt.Errorf("zones: value and distance are not on one lattice")
	}
	if err := covered(field, s, set.Reach); err != nil {
		return nil, err
	}
	cut, err := cutLines(s, stops, set)
	if err != nil {
		return nil, err
	}
	grounds := [...]ground{newGround(field, geo.Area(field)), cut.treat, cut.found, cut.unscouted, cut.watch}
	var lines []orb.LineString
	for _, g := range grounds {
		lines = append(lines, planar.RingLines(g.polygons)...)
	}
	a, err := planar.Arrange(lines)
	if err != nil {
		return nil, err
	}
	var inside [len(grounds)][]bool
	for i, g := range grounds {
		inside[i] = a.Inside(g.index)
		if err := a.CheckInside(g.polygons, inside[i], g.area); err != nil {
			return nil, err
		}
	}
	classes, unscouted := classify(a.Faces, lying{inside[0], inside[1], inside[2], inside[3], inside[4]})
	judge{faces: a.Faces, classes: classes, minArea: set.MinArea}.apply(func(some []int) map[int]bool {
		return hotFaces(a, some, stops, set.Levels.TreatAt)
	})
	m := simplified(a.Dissolve(labels(classes)), field, s, stops, set)
	m.Unscouted = unscouted
	return m, nil
}

// simplified is the map of a coverage with simpler lines. While a stop would come
// to lie in milder ground than its own value asks for, the tolerance is halved,
// and in the end given up.
func simplified(c *planar.Coverage, field orb.MultiPolygon, s Surface, stops []interp.Sample, set Settings) *Map {
	tolerance := set.Simplify
	for range 6 {
		if m := newMap(c.Simplify(tolerance), field, s, stops); m.cautious(stops, set.Levels) {
			return m
		}
		tolerance /= 2
	}
	return newMap(c, field, s, stops)
}

// ground is polygons under the even-odd rule with their area in m².
type ground struct {
	polygons orb.MultiPolygon
	area     float64
	index    *geo.Index // of the polygons
}

func newGround(mp orb.MultiPolygon, area float64) ground { return ground{mp, area, geo.NewIndex(mp)} }

// cut holds the grounds whose level lines part the field. They overlap; the
// worst that a place lies in counts.
type cut struct {
	treat     ground
	found     ground // at or above the watch level by what the stops say
	unscouted ground // beyond reach of every stop
	// watch is as found, but takes ground of which the stops say nothing for ground
	// at the watch level; empty where there is none.
	watch ground
}

func cutLines(s Surface, stops []interp.Sample, set Settings) (cut, error) {
	values := s.cutValues(stops, set.Reach, set.Levels.WatchAt)
	grids, levels := [...]interp.Grid{values, s.Distance, values}, [...]float64{set.Levels.TreatAt, set.Reach, set.Levels.WatchAt}
	var above [len(grids)]ground
	shares.Of(len(grids), 1, func(from, to int) {
		for i := from; i < to; i++ {
			above[i] = ringsGround(contour.Rings(grids[i], levels[i]))
		}
	})
	treat := above[0]
	if set.Margin > 0 && len(treat.polygons) > 0 {
		grown, err := grow(treat.polygons, set.Margin)
		if err != nil {
			return cut{}, err
		}
		treat = grown
	}
	c := cut{treat: treat, unscouted: above[1], found: above[2], watch: newGround(nil, 0)}
	if s.hasUnknown(set.Reach) {
		c.watch = c.found
		c.found = ringsGround(contour.Rings(s.cutValues(stops, set.Reach, 0), set.Levels.WatchAt))
	}
	return c, nil
}

// ringsGround takes oriented rings as one polygon under the even-odd rule.
func ringsGround(rings []orb.Ring) ground {
	if len(rings) == 0 {
		return newGround(nil, 0)
	}
	return newGround(orb.MultiPolygon{orb.Polygon(rings)}, contour.Area(rings))
}

func grow(rings orb.MultiPolygon, margin float64) (ground, error) {
	valid, err := planar.Repair(rings)
	if err != nil {
		return ground{}, err
	}
	grown, err := planar.Grow(valid, margin)
	if err != nil {
		return ground{}, err
	}
	return newGround(grown, geo.Area(grown)), nil
}

// leastUnscouted is the least piece of ground beyond reach, m²: the reach of a stop is not
// known so finely. Judgement, no source.
const leastUnscouted = 1

// lying tells of each face of the field in which grounds it lies.
type lying struct{ field, treat, found, unscouted, watch []bool }

// beyondReach tells which faces of the field lie beyond reach of every stop, pieces of
// less than the least apart. Pieces go by the reach alone, whatever else the ground is, so
// that no level changes which they are.
func beyondReach(faces []planar.Face, in lying) []bool {
	j := judge{faces: faces, classes: make([]Class, len(faces))}
	for i := range faces {
		switch {
		case !in.field[i]:
		case in.unscouted[i]:
			j.classes[i] = Watch
		default:
			j.classes[i] = Clear
		}
	}
	beyond := make([]bool, len(faces))
	for _, p := range j.patches(func(c Class) bool { return c == Watch }) {
		for _, f := range p.faces {
			beyond[f] = p.area >= leastUnscouted
		}
	}
	return beyond
}

// classify gives each face the class of the ground it lies on; faces beyond the
// field have none. unscouted is the area in m² that is watch for want of a stop
// in reach alone, 0 where that is less than the least.
func classify(faces []planar.Face, in lying) (classes []Class, unscouted float64) {
	classes = make([]Class, len(faces))
	beyond := beyondReach(faces, in)
	for i, face := range faces {
		switch {
		case !in.field[i]:
		case in.treat[i]:
			classes[i] = Treat
		case in.found[i]:
			classes[i] = Watch
		case beyond[i]:
			classes[i] = Watch
			unscouted += face.Area
		case in.watch[i]:
			classes[i] = Watch
		default:
			classes[i] = Clear
		}
	}
	if unscouted < leastUnscouted {
		unscouted = 0
	}
	return classes, unscouted
}

func labels(classes []Class) []int {
	out := make([]int, len(classes))
	for i, c := range classes {
		out[i] = int(c)
	}
	return out
}

// covered checks that the surface has what it must at the nodes inside the
// field.
func covered(field orb.MultiPolygon, s Surface, reach float64) error {
	g := s.Value
	bound := geo.Bound(field)
	x1, y1 := g.Node(g.Cols-1, g.Rows-1)
	if len(field) == 0 || !(bound.Min[0] >= g.X0 && bound.Min[1] >= g.Y0 && bound.Max[0] <= x1 && bound.Max[1] <= y1) {
		return fmt.Errorf("zones: the field reaches beyond the surface")
	}
	for col, row := range geo.NodesInside(field, geo.Lattice(g.Lattice)) {
		if math.IsNaN(g.At(col, row)) && !(s.Distance.At(col, row) > reach) {
			return fmt.Errorf("zones: no value at node %d, %d inside the field", col, row)
		}
	}
	return nil
}
