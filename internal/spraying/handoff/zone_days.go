package handoff

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// withDays are the properties of a zone with its days as days: a program that the
// zones went through may have given them a time, as a GeoPackage's DATETIME has.
func withDays(p geo.Properties, ground orb.MultiPolygon) geo.Properties {
	p = slices.Clone(p)
	for i, property := range p {
		switch text, is := property.Value.(string); property.Name {
		case "date", "look_again", "good_until":
			if is {
				p[i].Value = survey.LocalDay(text, ground.Bound().Center()[0])
			}
		}
	}
	return p
}
