package handoff

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// withDays are the properties of a zone with its days as days: a program that the
// zones went through may have given them a time, as a GeoPackage's DATETIME has, or
// written them with strokes, as 2026/07/22.
func withDays(p geo.Properties, ground orb.MultiPolygon) geo.Properties {
	p = slices.Clone(p)
	for i, property := range p {
		switch text, is := property.Value.(string); property.Name {
		case "date", "look_again", "good_until":
			if is {
				p[i].Value = survey.LocalDay(dashed(text), ground.Bound().Center()[0])
			}
		}
	}
	return p
}

// dashed writes a day that begins a text as ISO 8601 does.
func dashed(text string) string {
	const form = "0000/00/00"
	if len(text) < len(form) || text[4] != '/' || text[7] != '/' || len(text) > len(form) && text[len(form)] != ' ' {
		return text
	}
	return text[:4] + "-" + text[5:7] + "-" + text[8:]
}
