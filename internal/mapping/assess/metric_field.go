package assess

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// A MetricField is a field in its own metres with the surface that its zones were cut
// from, for those who lay several mornings on one another. Frame, boundary and
// lattice come from the field and the cell size alone, so they are the same for
// every morning.
type MetricField struct {
	Frame   geo.Frame
	XY      orb.MultiPolygon // the boundary in metres
	Surface zones.Surface
	Samples []interp.Sample // the field's stops, in their order
}

// Metric is the field with the surface of its map. A field without stops has none,
// nor has one whose surface was not kept: both are errors.
func (f *Field) Metric() (*MetricField, error) {
	if !f.Scouted() {
		return nil, fmt.Errorf("field %q: not scouted, so there is no surface", f.Name)
	}
	if f.Surface == nil {
		return nil, fmt.Errorf("field %q: its surface was not kept", f.Name)
	}
	return &MetricField{Frame: f.Frame, XY: f.XY, Surface: *f.Surface, Samples: samplesOf(f.Stops)}, nil
}
