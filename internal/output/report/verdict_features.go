package report

import (
	"iter"
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
	return slices.Collect(EachWith(slices.Values(features), VerdictsOn(all)))
}

// An Addition gives a feature further properties; what it was given stays as it was.
type Addition func(geo.Feature) geo.Feature

// EachWith are features with additions, in their order.
func EachWith(features iter.Seq[geo.Feature], all ...Addition) iter.Seq[geo.Feature] {
	return func(yield func(geo.Feature) bool) {
		for f := range features {
			for _, add := range all {
				f = add(f)
			}
			if !yield(f) {
				return
			}
		}
	}
}

// VerdictsOn adds what [WithVerdicts] does.
func VerdictsOn(all []verdict.Verdict) Addition {
	of := byField(all)
	return func(f geo.Feature) geo.Feature {
		if v := of[text(f.Properties.Get("field"))]; v != nil {
			f.Properties = append(slices.Clone(f.Properties), verdictProperties(*v)...)
		}
		return f
	}
}

// byField are verdicts by the fields that they are of.
func byField(all []verdict.Verdict) map[string]*verdict.Verdict {
	of := make(map[string]*verdict.Verdict, len(all))
	for i := range all {
		if of[all[i].Field] == nil {
			of[all[i].Field] = &all[i]
		}
	}
	return of
}

func verdictProperties(v verdict.Verdict) geo.Properties {
	p := geo.Properties{
		{Name: "verdict", Value: v.Kind.String()}, {Name: "good_until", Value: v.GoodUntil},
		{Name: "advice", Value: VerdictHeading(v, figures.Both)}, {Name: "look_again", Value: v.On},
	}
	if v.Instead != verdict.None {
		p = append(p, geo.Property{Name: "if_not_today", Value: v.Instead.String()})
	}
	if wholeDue(v) {
		p = append(p, geo.Property{Name: "whole_due", Value: true})
	}
	if rows := unreadRows(v.Unread); len(rows) > 0 {
		p = append(p, geo.Property{Name: "not_read", Value: lacking(rows)})
	}
	return p
}

// KeptOn adds to the features of each field the properties of its outline that go with it.
func KeptOn(kept map[string]geo.Properties) Addition {
	return func(f geo.Feature) geo.Feature {
		f.Properties = append(slices.Clone(f.Properties), kept[text(f.Properties.Get("field"))]...)
		return f
	}
}

// DocumentWithVerdicts adds each field's verdict, and the day until which the map
// is good, to the description of its folder, in front of what is there.
func DocumentWithVerdicts(d geofile.Document, all []verdict.Verdict, u figures.Units) geofile.Document {
	d.Folders = slices.Clone(d.Folders)
	of := byField(all)
	for i, folder := range d.Folders {
		v := of[folder.Name]
		if v == nil {
			continue
		}
		delete(of, folder.Name) // what else has a name like it is no field
		d.Folders[i].Placemarks = nil
		d.Folders[i].Each = unsprayed(folder.All(), *v, u)
		d.Folders[i].Description = sentenced(PlainAnswer(*v, u), Sentence(Used(*v, u))+".", PlainGoodUntil(*v, u), folder.Description)
	}
	return d
}

// unsprayed names treat ground by what the stops say there and by the answer, where that is
// not to spray it: a balloon that says "Spray" is all that some people see.
func unsprayed(placemarks iter.Seq[geofile.Placemark], v verdict.Verdict, u figures.Units) iter.Seq[geofile.Placemark] {
	if v.Kind == verdict.SpotSpray || v.Kind == verdict.TreatWhole {
		return placemarks
	}
	return func(yield func(geofile.Placemark) bool) {
		for p := range placemarks {
			if p.Style == zones.Treat.String() {
				p.Name = u.Say("At or over the spray level, %s: %s", PropertyArea(p.Data), ShortAnswer(v.Kind, u))
			}
			if !yield(p) {
				return
			}
		}
	}
}
