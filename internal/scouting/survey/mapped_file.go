//go:build !small

package survey

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// zonesOfAMap refuses the zones that map wrote, with or without the stops: each would be a
// row that nobody could read, in the middle of the field.
func zonesOfAMap(name string, features []geo.Feature) error {
	for _, f := range features {
		switch f.Geometry.(type) {
		case orb.Polygon, orb.MultiPolygon, orb.Collection:
		default:
			continue
		}
		if _, zone := f.Properties.Get("zone"); !zone {
			continue
		}
		if _, level := f.Properties.Get("threshold"); level {
			return &geofile.Error{File: name, Msg: "holds the zones of a map, not the counts", Hint: "give the table of counts itself, or stops.geojson of the folder that map wrote"}
		}
	}
	return nil
}

// ofMappedStops are the columns of stops as map writes them that tell the bounds of the value
// per unit, from 1; zero where the file is none of those.
func ofMappedStops(header []string) (at [2]int) {
	for _, name := range [...]string{colStop.String(), colCount.String(), colLeaves.String(), "value", "zone", "left_out"} {
		if !slices.Contains(header, name) {
			return at
		}
	}
	low, high := slices.Index(header, "low")+1, slices.Index(header, "high")+1
	if low == 0 || high == 0 {
		return at
	}
	return [2]int{low, high}
}
