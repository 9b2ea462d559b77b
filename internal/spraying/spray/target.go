package spray

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	flat "github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// Zone is what is sprayed from, in metres.
type Zone struct {
	Treat    orb.MultiPolygon
	Field    orb.MultiPolygon // holes are ponds and the like: never sprayed
	KeepOffs []KeepOff
	// Neighbours are other fields, apart from this one: never sprayed from here.
	Neighbours []Neighbour
	Closed     []Neighbour // ground that is no field, apart from this one: never sprayed
	Margin     Margin
}

// Target is where spray may and shall fall, in metres.
type Target struct {
	Spray   orb.MultiPolygon // treat ground with its margin, in the field, off all keep-offs
	Field   orb.MultiPolygon
	Closed  orb.MultiPolygon // keep-offs with their set-backs, and all that is barred
	Barred  orb.MultiPolygon // holes of the field, gaps between its parts, other fields
	Named   orb.MultiPolygon // keep-offs with their set-backs alone
	Kept    orb.MultiPolygon // Closed without other fields, which have jobs of their own
	KeptOff []KeptOff
	Bars    []Bar   // what Barred consists of
	Treat   float64 // m², before the margin
	Grown   float64 // m², with the margin and before the keep-offs
	others  orb.MultiPolygon
}

// KeptOff tells what a keep-off took out.
type KeptOff struct {
	Name    string
	SetBack float64
	Area    float64 // m² of the grown ground that lie within the set-back
	// Nearest is how far the spray ground stays from it, m; +Inf where nothing
	// is sprayed.
	Nearest float64
	from    orb.Geometry
}

// NewTarget grows treat ground by its margin within the field and then cuts out
// the keep-offs, last of all, so that no margin reaches into one.
func NewTarget(z Zone) (*Target, error) {
	if m := z.Margin.Total(); !(m >= 0) || m > maxMargin {
		return nil, fmt.Errorf("spray: a margin of %.4g m: want 0 to %d m", m, maxMargin)
	}
	grown, err := planar.Grow(z.Treat, z.Margin.Total())
	if err != nil {
		return nil, err
	}
	g := &Target{Field: z.Field, Treat: geo.Area(z.Treat)}
	if grown, err = Both(grown, z.Field); err != nil {
		return nil, err
	}
	g.Grown = geo.Area(grown)
	if err := g.bar(z); err != nil {
		return nil, err
	}
	closed := []orb.MultiPolygon{g.Barred}
	for _, k := range z.KeepOffs {
		near, err := k.Ground()
		if err != nil {
			return nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
		}
		lost, err := Both(grown, near)
		if err != nil {
			return nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
		}
		g.KeptOff = append(g.KeptOff, KeptOff{Name: k.Name, SetBack: k.SetBack, Area: geo.Area(lost)})
		closed = append(closed, near)
	}
	if g.Closed, err = Together(closed); err != nil {
		return nil, err
	}
	if named := closed[1:]; len(named) > 0 {
		if g.Named, err = Together(named); err != nil {
			return nil, err
		}
	}
	g.Kept = g.Closed
	if len(g.others) > 0 {
		if g.Kept, err = Less(g.Closed, g.others); err != nil {
			return nil, err
		}
		g.Kept = withoutHairlines(g.Kept)
	}
	if g.Spray, err = Less(grown, g.Closed); err != nil {
		return nil, err
	}
	for i, k := range z.KeepOffs {
		g.KeptOff[i].from = k.Geometry
	}
	g.measure()
	return g, nil
}

// hairline is how thin in metres what is left between two borders may be that are the same
// but for rounding: no file can hold it.
const hairline = 0.05

// withoutHairlines leaves out what is thinner than that, rings round a field among it.
func withoutHairlines(ground orb.MultiPolygon) orb.MultiPolygon {
	return slices.DeleteFunc(planar.WithoutSpikes(ground, hairline), func(p orb.Polygon) bool {
		rim := 0.0
		for _, line := range planar.RingLines(orb.MultiPolygon{p}) {
			rim += flat.Length(line)
		}
		return 2*geo.Area(orb.MultiPolygon{p}) < hairline*rim
	})
}

// measure fills in how near the spray ground comes to what is kept off.
func (g *Target) measure() {
	g.KeptOff, g.Bars = slices.Clone(g.KeptOff), slices.Clone(g.Bars)
	near := newNearGround(g.Spray)
	for i, k := range g.KeptOff {
		g.KeptOff[i].Nearest = near.distance(k.from)
	}
	for i, b := range g.Bars {
		g.Bars[i].Nearest = near.distance(b.ground)
	}
}

// bar fills in the barred ground.
func (g *Target) bar(z Zone) (err error) {
	if g.Bars, err = bars(z); err != nil || len(g.Bars) == 0 {
		return err
	}
	var all, fields []orb.MultiPolygon
	for _, b := range g.Bars {
		all = append(all, b.ground)
		if b.Kind == OtherField {
			fields = append(fields, b.ground)
		}
	}
	if g.Barred, err = Together(all); err != nil || len(fields) == 0 {
		return err
	}
	g.others, err = Together(fields)
	return err
}

const maxMargin = 500
