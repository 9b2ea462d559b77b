package season

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// On are the names of fields with ground of a treatment, by corners of one in the other.
func (r Record) On(fields []geo.Field) (names []string) {
	for _, f := range fields {
		if cornerIn(f.Boundary, r.Ground) || cornerIn(r.Ground, f.Boundary) {
			names = append(names, f.Name)
		}
	}
	return names
}

// cornerIn reports whether some corner of a ground lies in another.
func cornerIn(ground, of orb.MultiPolygon) bool {
	for _, polygon := range of {
		for _, ring := range polygon {
			for _, p := range ring {
				if geo.Contains(ground, p) {
					return true
				}
			}
		}
	}
	return false
}
