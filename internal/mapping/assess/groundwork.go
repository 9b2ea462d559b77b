package assess

import (
	"context"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// groundwork is what stops say of their field whatever the levels are. Who has it from a
// memory does not change it.
type groundwork struct {
	left    []interp.LeftOut // of each stop
	layout  layout.Layout
	trust   Trust // as yet without what the zone saves
	surface zones.Surface
}

// groundwork lays it, or recalls it; near is how far each stop reaches.
func (s site) groundwork(ctx context.Context, stops []Stop, near []float64, u Used, j job) (groundwork, error) {
	return recall.Of(j.set.Memory, s.stopsIn(recall.For("groundwork").Numbers(near...), stops, u), func() (g groundwork, err error) {
		samples := samplesOf(stops)
		var surface zones.Surface
		var filled errgroup.Group // beside what else the stops say
		filled.Go(func() (err error) {
			surface, err = s.surface(ctx, shared(stops, samples, u.Reach), u, j)
			reached(surface.Distance, stops, near, u.Reach)
			return err
		})
		g, err = s.leftOut(stops, samples, u)
		if unfilled := filled.Wait(); err == nil {
			err = unfilled
		}
		g.surface = surface
		return g, err
	})
}

// leftOut is the groundwork but for the surface: what stops that are left out say of it.
func (s site) leftOut(stops []Stop, samples []interp.Sample, u Used) (g groundwork, err error) {
	placed, places := atPlaces(samples)
	if g.left, err = u.IDW.LeaveOneOut(placed); err != nil {
		return g, err
	}
	planned := plannedSamples(stops)
	g.layout = s.layoutOf(planned)
	if len(planned) == len(stops) { // the same, left out by the same
		g.trust = trustOf(interp.NewScore(placed, g.left), placed, places)
	} else if g.trust, err = trustIn(planned, u.IDW); err != nil {
		return g, err
	}
	g.trust = g.trust.over(g.layout)
	return g, nil
}

// stopsIn adds to a key the field, its stops and by what these are interpolated.
func (s site) stopsIn(k *recall.Key, stops []Stop, u Used) *recall.Key {
	polygonsIn(k, s.xy).Numbers(u.IDW.Power, float64(u.IDW.Neighbors), u.IDW.Radius, u.Cell, u.Reach).Truths(u.IDW.Plain).Count(len(stops))
	for _, stop := range stops {
		k.Numbers(stop.XY[0], stop.XY[1], stop.Value, stop.Units).Truths(stop.Extra)
	}
	return k
}

// FieldIn adds a field to a key.
func FieldIn(k *recall.Key, f geo.Field) *recall.Key {
	return polygonsIn(k.Text(f.Name, f.Customer), f.Boundary)
}

func polygonsIn(k *recall.Key, all orb.MultiPolygon) *recall.Key {
	k.Count(len(all))
	for _, polygon := range all {
		k.Count(len(polygon))
		for _, ring := range polygon {
			k.Count(len(ring))
			for _, p := range ring {
				k.Numbers(p[0], p[1])
			}
		}
	}
	return k
}
