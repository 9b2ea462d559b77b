package change

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// An Overlay is a field cut along the zones of two visits. Its pieces tile the
// field.
type Overlay struct {
	Earlier, Later *zones.Map
	pieces         []piece
	arrangement    *planar.Arrangement
}

// piece is ground of one class before and one after. Patches are numbers of
// treat polygons, −1 where it is none.
type piece struct {
	from, to           zones.Class
	fromPatch, toPatch int
	treated            bool
	unseen             bool // by the later visit
	area               float64
}

// sums are held to this share of the field's area.
const areaTolerance = 1e-8

// Lay cuts a field, in metres, along the zones of two visits, and along the ground
// that was treated between them, valid; nil where none was. Of ground that the later visit did
// not see nothing is known but what its zones call for: treat ground is not gone there. Areas that do not add up,
// to the field and to each zone of either visit, are an error.
func Lay(field orb.MultiPolygon, earlier, later *zones.Map, treated, unseen orb.MultiPolygon) (*Overlay, error) {
	lines := planar.RingLines(field, treated, unseen)
	for _, m := range []*zones.Map{earlier, later} {
		// Every line between zones borders treat or clear.
		for _, c := range []zones.Class{zones.Treat, zones.Clear} {
			lines = append(lines, planar.RingLines(m.Zone(c).Polygons)...)
		}
	}
	a, err := planar.Arrange(lines)
	if err != nil {
		return nil, fmt.Errorf("change: %w", err)
	}
	o := &Overlay{Earlier: earlier, Later: later, arrangement: a}
	inField, inTreated, inUnseen := geo.NewIndex(field), geo.NewIndex(treated), geo.NewIndex(unseen)
	before, after := newClasses(earlier), newClasses(later)
	for _, f := range a.Faces {
		p := piece{area: f.Area, fromPatch: -1, toPatch: -1}
		if inField.Contains(f.Point) {
			p.from, p.fromPatch = before.at(f.Point)
			p.to, p.toPatch = after.at(f.Point)
			p.treated, p.unseen = inTreated.Contains(f.Point), inUnseen.Contains(f.Point)
		}
		o.pieces = append(o.pieces, p)
	}
	return o, o.check(geo.Area(field))
}

// classes are the zones of a map, worst first, to be asked for many places.
type classes []classIndex

type classIndex struct {
	class    zones.Class
	polygons *geo.PolygonIndex
}

func newClasses(m *zones.Map) (c classes) {
	for _, z := range m.Zones {
		c = append(c, classIndex{z.Class, geo.NewPolygonIndex(z.Polygons)})
	}
	return c
}

// at is the class of a place, and which of the treat polygons it lies in.
func (c classes) at(p orb.Point) (zones.Class, int) {
	for _, z := range c {
		if in := z.polygons.Containing(p); len(in) > 0 {
			if z.class == zones.Treat {
				return z.class, in[0]
			}
			return z.class, -1
		}
	}
	return zones.NoData, -1
}

func (o *Overlay) check(area float64) error {
	t := o.Table()
	for _, c := range zones.Classes() {
		for _, v := range []struct {
			what      string
			got, want float64
		}{{"before", t.From(c), o.Earlier.Zone(c).Area}, {"after", t.To(c), o.Later.Zone(c).Area}} {
			if !(math.Abs(v.got-v.want) <= areaTolerance*max(area, 1)) {
				return fmt.Errorf("change: pieces of %s ground %s make %.12g m² where the zone has %.12g m²", c, v.what, v.got, v.want)
			}
		}
	}
	if total := t.Total(); !(math.Abs(total-area) <= areaTolerance*max(area, 1)) {
		return fmt.Errorf("change: pieces make %.12g m² where the field has %.12g m²", total, area)
	}
	return nil
}

// A Table tells how much ground, in m², went from one class to another.
type Table [zones.Treat + 1][zones.Treat + 1]float64

// From is all ground that was of a class.
func (t Table) From(c zones.Class) (sum float64) {
	for _, area := range t[c] {
		sum += area
	}
	return sum
}

// To is all ground that came to be of a class.
func (t Table) To(c zones.Class) (sum float64) {
	for _, row := range t {
		sum += row[c]
	}
	return sum
}

// Total is all ground.
func (t Table) Total() (sum float64) {
	for c := range t {
		sum += t.From(zones.Class(c))
	}
	return sum
}

// Table adds up the pieces inside the field.
func (o *Overlay) Table() (t Table) {
	for _, p := range o.pieces {
		if p.from != zones.NoData || p.to != zones.NoData {
			t[p.from][p.to] += p.area
		}
	}
	return t
}

// overlaps are the areas that treat patches of the two visits share.
func (o *Overlay) overlaps() [][]float64 {
	out := make([][]float64, len(o.Earlier.Zone(zones.Treat).Polygons))
	for i := range out {
		out[i] = make([]float64, len(o.Later.Zone(zones.Treat).Polygons))
	}
	for _, p := range o.pieces {
		if p.fromPatch >= 0 && p.toPatch >= 0 {
			out[p.fromPatch][p.toPatch] += p.area
		}
	}
	return out
}

// unseen is how much of each treat patch of the earlier visit is none since, and was not seen by
// the later.
func (o *Overlay) unseen() []float64 {
	out := make([]float64, len(o.Earlier.Zone(zones.Treat).Polygons))
	for _, p := range o.pieces {
		if p.fromPatch >= 0 && p.toPatch < 0 && p.unseen {
			out[p.fromPatch] += p.area
		}
	}
	return out
}
