package assess

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// A Ground is a field in its own metres with the surface that its zones were cut
// from, for those who lay several mornings on one another. Frame, boundary and
// lattice come from the field and the cell size alone, so they are the same for
// every morning.
type Ground struct {
	Frame   geo.Frame
	XY      orb.MultiPolygon // the boundary in metres
	Surface zones.Surface
	Samples []interp.Sample // the field's stops, in their order
}

// Ground interpolates the field's surface again, with the settings that its map
// was made with. A field without stops has none: that is an error.
func (f *Field) Ground(ctx context.Context) (*Ground, error) {
	if !f.Scouted() {
		return nil, fmt.Errorf("field %q: not scouted, so there is no surface", f.Name)
	}
	s, err := newSite(f.Field)
	if err != nil {
		return nil, err
	}
	samples := samplesOf(f.Stops)
	surface, err := s.surface(ctx, samples, f.Settings, nil)
	if err != nil {
		return nil, fmt.Errorf("field %q: %w", f.Name, err)
	}
	return &Ground{Frame: s.frame, XY: s.xy, Surface: surface, Samples: samples}, nil
}
