package handoff

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spray"
)

// farthestBoom is how far from its own spray ground a boom could reach at the most, m:
// the widest swath and the longest run that settings allow.
const farthestBoom = 1100

// neighbours are the other fields in reach of one, in metres of its frame, those after
// it without its ground; and the m² that it shares with those before it. Shared ground
// belongs to the field that comes first in the zones: it is sprayed once.
func neighbours(fields []*field, sites []site, at int) (out []spray.Neighbour, shared float64, err error) {
	here := sites[at]
	whole, err := fields[at].metres(here.frame)
	if err != nil {
		return nil, 0, err
	}
	own := whole
	for i, f := range fields {
		if i == at || !here.near(sites[i]) {
			continue
		}
		ground, err := f.metres(here.frame)
		if err != nil {
			return nil, 0, err
		}
		if i < at {
			own, err = spray.Less(own, ground)
		} else {
			ground, err = spray.Less(ground, whole)
		}
		if err != nil {
			return nil, 0, err
		}
		if len(ground) > 0 {
			out = append(out, spray.Neighbour{Name: f.name, Ground: ground})
		}
	}
	return out, geo.Area(whole) - geo.Area(own), nil
}

// near reports whether another field may lie in reach: by its middle, and how far it
// spreads from there at the most.
func (s site) near(other site) bool {
	if s.offMap(other.frame.Centre()) {
		return false
	}
	b := geo.Bound(other.ground)
	spread := b.Max[0] - b.Min[0] + b.Max[1] - b.Min[1]
	return geo.Bound(s.ground).Pad(farthestBoom + spread).Contains(s.frame.Forward(other.frame.Centre()))
}

// metres is all ground of the field in a frame.
func (f *field) metres(frame geo.Frame) (orb.MultiPolygon, error) {
	var grounds []orb.MultiPolygon
	for _, zone := range [...]string{"treat", "watch", "clear"} {
		if len(f.zones[zone]) > 0 {
			ground, err := laid(f.zones[zone], frame)
			if err != nil {
				return nil, err
			}
			grounds = append(grounds, ground)
		}
	}
	whole, err := spray.Together(grounds)
	if err != nil {
		return nil, fmt.Errorf("the zones of %s do not fit together: %w", f.name, err)
	}
	return whole, nil
}
