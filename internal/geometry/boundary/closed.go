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

// ClosedAt is what is no field at a place, in degrees: an outline by its name and what
// it is, or the hole of a field; "" where the file says of nothing that it is none.
func (o Outlines) ClosedAt(longitude, latitude float64) string {
	p := orb.Point{longitude, latitude}
	for _, n := range o.NoField {
		if geo.Contains(n.Boundary, p) {
			return fmt.Sprintf("%q, which %s", n.Name, n.Why)
		}
	}
	for _, h := range o.holes {
		if geo.Contains(h.lonlat, p) {
			return fmt.Sprintf("a hole of %q, such as a pond", h.of)
		}
	}
	return ""
}
