//go:build !small

package engine

import (
	"bytes"
	"encoding/json"
	"errors"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A SeasonShower is a season that shows other programs what was kept of it.
type SeasonShower interface {
	Page(layer string, w season.Window) (season.Page, error)
	Feature(layer string, id int64) (f geo.Feature, ok bool, err error)
	Extent(layer string) (*season.Extent, error)
}

// A SeasonLayer is a layer of a season by its name.
type SeasonLayer struct{ Name, Title, What string }

// SeasonLayers are the layers that a season shows.
func SeasonLayers() []SeasonLayer {
	return []SeasonLayer{
		{"fields", "Fields", "Boundaries of the fields, with what is known of them."},
		{"stops", "Stops", "Stops of all visits as they were when added."},
		{"zones", "Zones", "Treat, watch and clear ground of all visits as it was when added; its day is the property date."},
		{"verdicts", "Verdicts", "Fields with what was advised when a visit was added. The label, local rules and a person decide."},
		{"treatments", "Treatments", "Ground that was recorded as treated."},
	}
}

// A SeasonWindow is what of a layer is asked for.
type SeasonWindow = season.Window

// A FeaturesRequest asks for features of a layer.
type FeaturesRequest struct {
	Layer string
	SeasonWindow
}

// A FeaturesOutcome is a page of features as GeoJSON (RFC 7946), which says how many there
// are on it and in all. Last is the number to go on after; 0 where none are left.
type FeaturesOutcome struct {
	GeoJSON []byte
	Last    int64
}

// SeasonFeatures gives features of a season as they were kept.
func SeasonFeatures(s SeasonShower, q FeaturesRequest) (out FeaturesOutcome, err error) {
	p, err := s.Page(q.Layer, q.SeasonWindow)
	if err != nil {
		return out, err
	}
	counts := geo.Properties{{Name: "numberMatched", Value: int64(p.Matched)}, {Name: "numberReturned", Value: int64(len(p.Features))}}
	var b bytes.Buffer
	if err := geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: p.Features, Foreign: counts}); err != nil {
		return out, err
	}
	out.GeoJSON = b.Bytes()
	if p.More && len(p.Features) > 0 {
		out.Last, err = numberOf(p.Features[len(p.Features)-1])
	}
	return out, err
}

func numberOf(f geo.Feature) (id int64, err error) {
	err = json.Unmarshal([]byte(f.ID), &id)
	return id, err
}

// ErrNoFeature is a feature that a layer does not have.
var ErrNoFeature = errors.New("there is no such feature")

// SeasonFeature gives one feature as GeoJSON.
func SeasonFeature(s SeasonShower, layer string, id int64) ([]byte, error) {
	f, ok, err := s.Feature(layer, id)
	switch {
	case err != nil:
		return nil, err
	case !ok:
		return nil, ErrNoFeature
	}
	var b bytes.Buffer
	if err := geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: []geo.Feature{f}}); err != nil {
		return nil, err
	}
	var all struct{ Features []json.RawMessage }
	if err := json.Unmarshal(b.Bytes(), &all); err != nil {
		return nil, err
	}
	return all.Features[0], nil
}
