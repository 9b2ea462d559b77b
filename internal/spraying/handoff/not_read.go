package handoff

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// notRead are the places, metres, of the field's stops that were not read: the map does
// not know what was counted there.
func (f *field) notRead(stops []geo.Feature, frame geo.Frame) (places []orb.Point) {
	for _, s := range stops {
		p, isPoint := s.Geometry.(orb.Point)
		if isPoint && word(s.Properties, "not_read") != "" && word(s.Properties, "field") == f.name {
			places = append(places, frame.Forward(p))
		}
	}
	return places
}
