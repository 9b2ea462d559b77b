package change

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// A Coverage tells how treated ground lies on the ground that called for it, in
// m² within the field.
type Coverage struct {
	Treated  float64 // treated ground in the field
	Hit      float64 // treat zone that was treated
	Missed   float64 // treat zone that was not
	Needless float64 // treated outside the treat zone
}

// Cover lays treated ground, valid and in metres, on the treat zone of a visit.
func Cover(field orb.MultiPolygon, m *zones.Map, treated orb.MultiPolygon) (Coverage, error) {
	treat := m.Zone(zones.Treat)
	a, err := planar.Arrange(planar.RingLines(field, treat.Polygons, treated))
	if err != nil {
		return Coverage{}, fmt.Errorf("change: treated ground: %w", err)
	}
	inField, inTreat, inTreated := geo.NewIndex(field), geo.NewIndex(treat.Polygons), geo.NewIndex(treated)
	if err := a.Check(field, inField, geo.Area(field)); err != nil {
		return Coverage{}, fmt.Errorf("change: treated ground: %w", err)
	}
	var c Coverage
	for _, f := range a.Faces {
		if !inField.Contains(f.Point) {
			continue
		}
		called, done := inTreat.Contains(f.Point), inTreated.Contains(f.Point)
		switch {
		case called && done:
			c.Hit += f.Area
		case called:
			c.Missed += f.Area
		case done:
			c.Needless += f.Area
		}
	}
	c.Treated = c.Hit + c.Needless
	return c, nil
}
