package report

import (
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// WithVerdicts adds verdict, good_until, advice (the verdict's heading) and
// look_again (the day of the next look) to the properties of each field's features, and
// not_read (which counts could not be read) where there are any; if_not_today (what to do
// where more stops are to be walked today and cannot be) where that is so; and whole_due,
// true, where the red ground is to be sprayed though by the rule the whole field is due.
// The features it was given stay as they were.
func WithVerdicts(features []geo.Feature, all []verdict.Verdict) []geo.Feature {
	out := slices.Clone(features)
	for i, f := range out {
		name := text(f.Properties.Get("field"))
		for _, v := range all {
			if v.Field == name {
				out[i].Properties = append(slices.Clone(f.Properties),
					geo.Property{Name: "verdict", Value: v.Kind.String()}, geo.Property{Name: "good_until", Value: v.GoodUntil},
					geo.Property{Name: "advice", Value: VerdictHeading(v, figures.Both)}, geo.Property{Name: "look_again", Value: v.On})
				if v.Instead != verdict.None {
					out[i].Properties = append(out[i].Properties, geo.Property{Name: "if_not_today", Value: v.Instead.String()})
				}
				if wholeDue(v) {
					out[i].Properties = append(out[i].Properties, geo.Property{Name: "whole_due", Value: true})
				}
				if rows := unreadRows(v.Unread); len(rows) > 0 {
					out[i].Properties = append(out[i].Properties, geo.Property{Name: "not_read", Value: lacking(rows)})
				}
			}
		}
	}
	return out
}

// WithKept adds to the features of each field the properties of its outline that go with
// it. The features it was given stay as they were.
func WithKept(features []geo.Feature, kept map[string]geo.Properties) []geo.Feature {
	out := slices.Clone(features)
	for i, f := range out {
		out[i].Properties = append(slices.Clone(f.Properties), kept[text(f.Properties.Get("field"))]...)
	}
	return out
}

// DocumentWithVerdicts adds each field's verdict, and the day until which the map
// is good, to the description of its folder, in front of what is there.
func DocumentWithVerdicts(d geofile.Document, all []verdict.Verdict, u figures.Units) geofile.Document {
	d.Folders = slices.Clone(d.Folders)
	for _, v := range all {
		for i, folder := range d.Folders {
			if folder.Name != v.Field || len(folder.Placemarks) == 0 {
				continue
			}
			d.Folders[i].Placemarks = unsprayed(folder.Placemarks, v, u)
			d.Folders[i].Description = sentenced(PlainAnswer(v, u), Sentence(used(v, u))+".", PlainGoodUntil(v, u), folder.Description)
			break
		}
	}
	return d
}

// unsprayed names treat ground by what the stops say there and by the answer, where that is
// not to spray it: a balloon that says "Spray" is all that some people see.
func unsprayed(placemarks []geofile.Placemark, v verdict.Verdict, u figures.Units) []geofile.Placemark {
	if v.Kind == verdict.SpotSpray || v.Kind == verdict.TreatWhole {
		return placemarks
	}
	out := slices.Clone(placemarks)
	for i, p := range out {
		if p.Style == zones.Treat.String() {
			out[i].Name = u.Say("At or over the spray level, %s: %s", PropertyArea(p.Data), ShortAnswer(v.Kind, u))
		}
	}
	return out
}
