package boundary

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// drawn is one outline of a file.
type drawn struct {
	name   string
	told   string           // its name as the file has it; "" for none
	closed string           // why it is no field; "" for one
	maybe  bool             // it is a field, and may be none by its name
	alone  bool             // it is no field, and lies in none
	lonlat orb.MultiPolygon // valid, degrees
	frame  geo.Frame
	xy     orb.MultiPolygon // metres
	area   float64          // m²
	holes  orb.MultiPolygon // each hole as it was drawn, degrees
	flaw   string           // what was wrong with it; "" for nothing
	bound  orb.Bound        // degrees, holes that reach over the shell included
	gone   bool             // all of its ground went to others

	customer, farm string // whose it is; "" where the file does not tell
}

func newDrawn(outline orb.MultiPolygon) (d drawn, err error) {
	d = drawn{bound: geo.Bound(outline)}
	if d.lonlat, d.flaw, err = hold(outline); err != nil {
		return d, err
	}
	for _, polygon := range outline {
		for _, hole := range polygon[1:] {
			if len(hole) > 0 {
				d.holes = append(d.holes, orb.Polygon{hole})
			}
		}
	}
	return d, d.measure()
}

// measure lays the outline out in metres.
func (d *drawn) measure() (err error) {
	if d.frame, err = geo.FrameOf(d.lonlat); err != nil {
		return err
	}
	d.xy = d.frame.ForwardPolygons(d.lonlat)
	d.area = geo.Area(d.xy)
	return nil
}

func (d *drawn) field() geo.Field {
	return geo.Field{Name: d.name, Written: d.told, Boundary: d.lonlat, Customer: d.customer, Farm: d.farm}
}

// parted takes the parts of one feature that lie inside another of it apart: drawn
// so, they would add nothing, so they are ponds or fields of their own.
func parted(outline orb.MultiPolygon) (main orb.MultiPolygon, inner []orb.MultiPolygon, err error) {
	if len(outline) < 2 || len(outline) > mostParts {
		return outline, nil, nil
	}
	frame, err := geo.FrameOf(outline)
	if err != nil {
		return nil, nil, err
	}
	xy := frame.ForwardPolygons(outline)
	if planar.Valid(xy) == nil {
		return outline, nil, nil
	}
	parts := make([]orb.MultiPolygon, len(xy))
	for i, p := range xy {
		if parts[i], err = planar.Ground(orb.MultiPolygon{p}); err != nil {
			return nil, nil, err
		}
	}
	for i := range parts {
		in, err := insideAny(parts, i)
		switch {
		case err != nil:
			return nil, nil, err
		case in:
			inner = append(inner, orb.MultiPolygon{outline[i]})
		default:
			main = append(main, outline[i])
		}
	}
	return main, inner, nil
}

// mostParts is how many parts of one feature are compared with one another.
const mostParts = 500

func insideAny(parts []orb.MultiPolygon, i int) (bool, error) {
	for j := range parts {
		if i == j || !geo.Bound(parts[j]).Intersects(geo.Bound(parts[i])) {
			continue
		}
		shared, err := both(parts[i], parts[j])
		if err != nil {
			return false, err
		}
		if inside(geo.Area(parts[i]), geo.Area(parts[j]), geo.Area(shared)) {
			return true, nil
		}
	}
	return false, nil
}

// whole is the share of an outline that lies in another from which on it lies
// inside it: the rest is how far hands are off. Judgement, no source.
const whole = 0.99

// inside reports whether an outline lies inside another, by their areas and that
// of the ground they share: two of nearly one size are the same outline drawn twice.
func inside(area, around, shared float64) bool {
	return area > 0 && shared >= whole*area && area < whole*around
}

// both is the ground that lies in a and in b.
func both(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	return planar.Overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && in[1] })
}

// widest is the mean width in metres of the widest piece of ground.
func widest(mp orb.MultiPolygon) (width float64) {
	for _, polygon := range mp {
		var rim float64
		for _, ring := range polygon {
			rim += length(ring)
		}
		if rim > 0 {
			width = max(width, 2*geo.Area(orb.MultiPolygon{polygon})/rim)
		}
	}
	return width
}

func length(ring orb.Ring) (sum float64) {
	for i := 1; i < len(ring); i++ {
		sum += math.Hypot(ring[i][0]-ring[i-1][0], ring[i][1]-ring[i-1][1])
	}
	return sum
}
