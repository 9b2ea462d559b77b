package boundary

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
)

// deep is how far in metres inside an outline a stop surely lies in it: three times
// what a phone is off by under open sky.
const deep = 15

// Hold compares the outlines with the stops, as longitudes and latitudes in degrees. A field inside another
// without any stop is asked for, as it may be a pond; so is an outline that is no
// field, with more than one stop deep in it, and one that may be none by its name, or that has no
// name, with no more than one. A single one may be a poor fix.
func (o Outlines) Hold(stops [][2]float64) error {
	for _, n := range o.Asked {
		least, enough := 0., 1
		if n.Maybe {
			least, enough = deep, 2
		}
		in, err := countIn(n.Field, stops, least)
		if err != nil {
			return err
		}
		if in < enough && n.Maybe {
			return fmt.Errorf("outline %q lies on field %q, and may be no field by its name: is it a pond or the like (--inner hole, or its property natural=water), or a field of its own (--inner field)?",
				n.Field.Name, n.Around)
		}
		if in == 1 && n.nameless() {
			return fmt.Errorf("an outline without a name lies inside field %q, with one stop: is it a pond or other ground that is no field (--inner hole), or a field of its own (--inner field, or give it a name)?",
				n.Around)
		}
		if in < enough {
			return fmt.Errorf("outline %q lies inside field %q and has no stops: is it a pond or other ground that is no field (--inner hole), or a field of its own (--inner field)?",
				n.Field.Name, n.Around)
		}
	}
	for _, n := range o.NoField {
		in, err := countIn(n.Field, stops, deep)
		if err != nil {
			return err
		}
		if in > 1 {
			return fmt.Errorf("%d stops lie in %q, which %s: correct their positions; if it is a field, rename it, or name it in a column field of the counts", in, n.Name, n.Why)
		}
	}
	return nil
}

// nameless reports whether nobody gave the field a name: it is numbered, or a part of the one round it.
func (n Nested) nameless() bool { return n.Field.Written == "" || n.Field.Written == n.Around }

// countIn counts the stops in a field, so many metres inside its edge at least.
func countIn(f geo.Field, stops [][2]float64, least float64) (n int, err error) {
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return 0, err
	}
	xy, bound := frame.ForwardPolygons(f.Boundary), geo.Bound(f.Boundary)
	for _, s := range stops {
		if p := frame.Forward(s); bound.Contains(s) && geo.Contains(xy, p) && geo.DistanceToEdge(xy, p) >= least {
			n++
		}
	}
	return n, nil
}
