package boundary

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// hole is a hole of a field as it was drawn.
type hole struct {
	of     string
	lonlat orb.MultiPolygon
}

// A Shut is what is no field: an outline by its name and why, which goes on from the name,
// or, where why is "", a hole of the field of that name.
type Shut struct{ Name, Why string }

// ShutAt is what is no field at a place, in degrees; ok is false where the file says of
// nothing that it is none.
func (o Outlines) ShutAt(longitude, latitude float64) (s Shut, ok bool) {
	p := orb.Point{longitude, latitude}
	for _, n := range o.NoField {
		if geo.Contains(n.Boundary, p) {
			return Shut{n.Name, n.Why}, true
		}
	}
	for _, h := range o.holes {
		if geo.Contains(h.lonlat, p) {
			return Shut{Name: h.of}, true
		}
	}
	return Shut{}, false
}

// ClosedAt is [Outlines.ShutAt] in words; "" for nothing.
func (o Outlines) ClosedAt(longitude, latitude float64) string {
	switch s, ok := o.ShutAt(longitude, latitude); {
	case !ok:
		return ""
	case s.Why == "":
		return fmt.Sprintf("a hole of %q, such as a pond", s.Name)
	default:
		return fmt.Sprintf("%q, which %s", s.Name, s.Why)
	}
}
