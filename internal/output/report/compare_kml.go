package report

import (
	"fmt"
	"image/color"
	"strings"
	"time"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// Colours of change, from the same set as the zones' (Okabe & Ito 2008): ground that
// stayed to be treated looks as it does on the map.
var changeColours = map[change.Kind]color.NRGBA{
	change.New:     {0xCC, 0x79, 0xA7, 0xFF}, // reddish purple
	change.Grown:   {0xE6, 0x9F, 0x00, 0xFF}, // orange
	change.Held:    Colour(zones.Treat),
	change.NotSeen: {0x00, 0x00, 0x00, 0xFF}, // black
	change.Shrunk:  {0x00, 0x72, 0xB2, 0xFF}, // blue
	change.Gone:    {0x00, 0x9E, 0x73, 0xFF}, // bluish green
}

// ChangeDocument is the season as KML: for each field the zones of every visit,
// from its day to the next one's, and the change between visits, over the days
// from one to the other; at the end, where there is one, the forecast. Names and
// descriptions are in the language of the units.
func ChangeDocument(r *compare.Result, u figures.Units) geofile.Document {
	d := geofile.Document{Name: u.Say("Change: %s", CompareTitle(r, u)), Description: changeLegend(r, u)}
	for _, c := range zones.Classes() {
		d.Styles = append(d.Styles, style(c))
	}
	for _, k := range change.Kinds() {
		fill := changeColours[k]
		fill.A = fillAlpha
		d.Styles = append(d.Styles, geofile.Style{
			ID: changeStyle(k.String()), Fill: fill, Line: color.NRGBA{A: 0xFF}, Width: lineWidth, Icon: changeColours[k], Scale: iconScale,
		})
	}
	unread := false
	for _, f := range r.Fields {
		d.Folders = append(d.Folders, zonesFolder(f, u), changeFolder(r, f, u))
		if marks := unreadFolder(r, f, u); len(marks.Placemarks) > 0 {
			d.Folders, unread = append(d.Folders, marks), true
		}
		if f.Forecast != nil {
			d.Folders = append(d.Folders, forecastFolder(r, f, u))
		}
	}
	if unread {
		d.Styles = append(d.Styles, unreadStyle())
	}
	return d
}

// instant is the start of a day; the zero time for a text that is none.
func instant(date string) time.Time {
	t, _ := time.Parse(time.DateOnly, date)
	return t
}

// ends is when a visit's map gives way to the next; the last holds until somebody goes
// again.
func ends(f *compare.Field, visit int) time.Time {
	if visit+1 < len(f.Visits) {
		return instant(f.Visits[visit+1].Date)
	}
	return time.Time{}
}

// unreadFolder are the stops of all visits that were not read.
func unreadFolder(r *compare.Result, f *compare.Field, u figures.Units) geofile.Folder {
	folder := geofile.Folder{Name: u.Say("%s: not read", f.Name), Description: u.Text(unreadSays)}
	for i, v := range f.Visits {
		for _, stop := range unreadOf(v.Assess, r.Pest) {
			mark := unreadMark(stop, u)
			mark.Begin, mark.End = instant(v.Date), ends(f, i)
			folder.Placemarks = append(folder.Placemarks, mark)
		}
	}
	return folder
}

func zonesFolder(f *compare.Field, u figures.Units) geofile.Folder {
	folder := geofile.Folder{Name: u.Say("%s: spray, watch, clear", f.Name)}
	for i, v := range f.Visits {
		end := ends(f, i)
		for _, z := range v.Assess.Map.Zones {
			if ground := v.Assess.LonLat()[z.Class]; len(ground) > 0 {
				folder.Placemarks = append(folder.Placemarks, geofile.Placemark{
					Name: fmt.Sprintf("%s, %s, %s", Sentence(ShownZone(z.Class, u)), figures.Metric.Area(z.Area), u.Day(v.Date)), Style: z.Class.String(),
					Geometry: ground, Begin: instant(v.Date), End: end,
				})
			}
		}
	}
	return folder
}

func changeFolder(r *compare.Result, f *compare.Field, u figures.Units) geofile.Folder {
	folder := geofile.Folder{Name: u.Say("%s: change", f.Name)}
	one := *r
	one.Fields = []*compare.Field{f}
	for _, feature := range ChangeFeatures(&one) {
		from, to := text(feature.Properties.Get("from")), text(feature.Properties.Get("to"))
		kind := text(feature.Properties.Get("change"))
		name := u.Say("%s, %s, %s to %s", Sentence(groundNamed(kind, u)), PropertyArea(feature.Properties), u.Day(from), u.Day(to))
		if on := text(feature.Properties.Get("treated_on")); on != "" {
			name += u.Say(", sprayed on %s", joinedIn(u, saidDays(strings.Split(on, ", "), u)))
		}
		folder.Placemarks = append(folder.Placemarks, geofile.Placemark{
			Name: name, Style: changeStyle(kind),
			Geometry: feature.Geometry, Data: feature.Properties, Begin: instant(from), End: instant(to),
		})
	}
	return folder
}

// changeStyle is the style of a kind of change by its name in files; an XML name has no blanks.
func changeStyle(kind string) string { return strings.ReplaceAll(kind, " ", "-") }

// groundNamed is what people read for a kind of change by its name in files.
func groundNamed(kind string, u figures.Units) string {
	for _, k := range change.Kinds() {
		if k.String() == kind {
			return GroundWordIn(k, u)
		}
	}
	return kind
}

// saidDays are ISO days as people say them.
func saidDays(iso []string, u figures.Units) (said []string) {
	for _, day := range iso {
		said = append(said, u.Day(day))
	}
	return said
}

func forecastFolder(r *compare.Result, f *compare.Field, u figures.Units) geofile.Folder {
	folder := geofile.Folder{Name: u.Say("%s: FORECAST", f.Name), Description: u.Say("Forecast for %s, not a count: as if all grows alike, nothing moves and nothing more is sprayed.", u.Day(f.Forecast.Date))}
	one := *r
	one.Fields = []*compare.Field{f}
	for _, feature := range ForecastFeatures(&one) {
		zone := text(feature.Properties.Get("zone"))
		folder.Placemarks = append(folder.Placemarks, geofile.Placemark{
			Name: u.Say("Forecast: %s, %s, %s", strings.ToLower(shownAs(zone, u)), PropertyArea(feature.Properties), u.Day(f.Forecast.Date)), Style: zone,
			Geometry: feature.Geometry, Data: feature.Properties, Begin: instant(f.Forecast.Date),
		})
	}
	return folder
}

func compareTitle(r *compare.Result) string {
	pest := r.Pest
	if pest == "" {
		pest = "pest not named"
	}
	first, last := "", ""
	for _, f := range r.Fields {
		if d := f.Visits[0].Date; first == "" || d < first {
			first = d
		}
		last = max(last, f.Visits[len(f.Visits)-1].Date)
	}
	return fmt.Sprintf("%s, %s to %s", pest, first, last)
}

func changeLegend(r *compare.Result, u figures.Units) string {
	lines := textsIn(u,
		"Purple: new. Spray ground now, in a patch that touches no former one.",
		"Orange: grown. Spray ground now, in a patch that goes on.",
		"Red: held. Spray ground at both visits.",
		"Black: not looked at again. Spray ground at the visit before; no stop of this visit was near it.",
		"Blue: shrunk. No longer spray ground, in a patch that goes on.",
		"Green: gone. No longer spray ground, in a patch that is no more.",
	)
	for _, l := range treatLines(r, u) {
		lines = append(lines, l+".")
	}
	lines = append(lines, Sentence(u.Text(levelsCaution))+".")
	for _, f := range r.Fields {
		for _, s := range f.Steps {
			if text := sentenced(append(changed(r, f, s, u), unreadIn(u, f.Visits[s.From], f.Visits[s.To]))...); text != "" {
				lines = append(lines, u.Say("%s, %s to %s. %s", f.Name, u.Day(f.Visits[s.From].Date), u.Day(f.Visits[s.To].Date), text))
			}
		}
		for _, t := range f.Treatments {
			if text := sentenced(effectIn(f, t, u), missed(t, u)); text != "" {
				lines = append(lines, f.Name+". "+text)
			}
		}
		if text := goBack(f, u); text != "" {
			lines = append(lines, f.Name+". "+text)
		}
	}
	return strings.Join(append(lines, CautionsIn(u)...), "\n")
}
