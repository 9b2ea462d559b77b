package spray

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/planar"
)

// Zone is what is sprayed from, in metres.
type Zone struct {
	Treat    orb.MultiPolygon
	Field    orb.MultiPolygon // holes are ponds and the like: never sprayed
	KeepOffs []KeepOff
	Margin   Margin
}

// Ground is where spray may and shall fall, in metres.
type Ground struct {
	Spray   orb.MultiPolygon // treat ground with its margin, in the field, off all keep-offs
	Field   orb.MultiPolygon
	Closed  orb.MultiPolygon // keep-offs with their set-backs, and holes of the field
	KeptOff []KeptOff
	Treat   float64 // m², before the margin
	Grown   float64 // m², with the margin and before the keep-offs
}

// KeptOff tells what a keep-off took out.
type KeptOff struct {
	Name    string
	SetBack float64
	Area    float64 // m² of the grown ground that lie within the set-back
	// Nearest is how far the spray ground stays from it, m; +Inf where nothing
	// is sprayed.
	Nearest float64
}

// NewGround grows treat ground by its margin within the field and then cuts out
// the keep-offs, last of all, so that no margin reaches into one.
func NewGround(z Zone) (*Ground, error) {
	if m := z.Margin.Total(); !(m >= 0) || m > maxMargin {
		return nil, fmt.Errorf("spray: a margin of %.4g m: want 0 to %d m", m, maxMargin)
	}
	grown, err := planar.Grow(z.Treat, z.Margin.Total())
	if err != nil {
		return nil, err
	}
	g := &Ground{Field: z.Field, Treat: geo.Area(z.Treat)}
	if grown, err = both(grown, z.Field); err != nil {
		return nil, err
	}
	g.Grown = geo.Area(grown)
	closed := []orb.MultiPolygon{holes(z.Field)}
	for _, k := range z.KeepOffs {
		near, err := k.Ground()
		if err != nil {
			return nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
		}
		lost, err := both(grown, near)
		if err != nil {
			return nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
		}
		g.KeptOff = append(g.KeptOff, KeptOff{Name: k.Name, SetBack: k.SetBack, Area: geo.Area(lost)})
		closed = append(closed, near)
	}
	if g.Closed, err = Together(closed); err != nil {
		return nil, err
	}
	if g.Spray, err = less(grown, g.Closed); err != nil {
		return nil, err
	}
	for i, k := range z.KeepOffs {
		g.KeptOff[i].Nearest = Distance(k.Geometry, g.Spray)
	}
	return g, nil
}

const maxMargin = 500

// holes are the holes of polygons as ground of their own.
func holes(mp orb.MultiPolygon) (out orb.MultiPolygon) {
	for _, polygon := range mp {
		for _, ring := range polygon[min(1, len(polygon)):] {
			out = append(out, orb.Polygon{ring})
		}
	}
	return geo.Wind(out)
}
