package report

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

const (
	fillAlpha = 0x99 // lets the ground show through
	lineWidth = 2    // pixels
	iconScale = 0.6
)

// Document is the map as KML: a folder of zones for each field and one of stops,
// with the legend and what must be known in its description.
func Document(r *assess.Result) geofile.Document {
	d := geofile.Document{Name: Title(r, figures.Both), Description: legend(r)}
	for _, c := range zones.Classes() {
		d.Styles = append(d.Styles, style(c))
	}
	byField := map[string][]geofile.Placemark{}
	for _, f := range append(ZoneFeatures(r), NoneReadFeatures(r)...) {
		zone, field := text(f.Properties.Get("zone")), text(f.Properties.Get("field"))
		byField[field] = append(byField[field], geofile.Placemark{
			Name: shownAs(zone) + ", " + PropertyArea(f.Properties), Style: zone, Geometry: f.Geometry, Data: f.Properties,
		})
	}
	stops := geofile.Folder{Name: "Stops", Description: "Where was counted, in the colour of the ground there."}
	levels := map[string]zones.Levels{}
	for _, f := range r.Fields {
		levels[f.Name] = r.Of(f).Levels.Levels
	}
	for _, f := range StopFeatures(r) {
		value, _ := f.Properties.Get("value")
		stops.Placemarks = append(stops.Placemarks, geofile.Placemark{
			Name: Levelled(value.(float64), levels[text(f.Properties.Get("field"))]), Description: "stop " + text(f.Properties.Get("stop")),
			Style: text(f.Properties.Get("zone")), Geometry: f.Geometry, Data: f.Properties,
		})
	}
	for i, f := range UnreadFeatures(r) {
		if i == 0 {
			d.Styles = append(d.Styles, unreadStyle())
			stops.Description += " " + unreadSays
		}
		stops.Placemarks = append(stops.Placemarks, unreadMark(f))
	}
	for _, f := range r.Fields {
		if f.NoneRead() {
			d.Folders = append(d.Folders, geofile.Folder{Name: f.Name, Description: NoneRead, Placemarks: byField[f.Name]})
		}
		if f.Scouted() {
			d.Folders = append(d.Folders, geofile.Folder{Name: f.Name, Description: OwnDays(r, f, "Counted %s. ", figures.Both) + Sentence(PlainTrusted(f.Trust)) + ".", Placemarks: byField[f.Name]})
		}
	}
	d.Folders = append(d.Folders, stops)
	return d
}

// shownAs is what people read first for a zone by its name in files, capitalized.
func shownAs(zone string) string {
	for _, c := range zones.Classes() {
		if c.String() == zone {
			return Sentence(ShownZone(c))
		}
	}
	return Sentence(zone)
}

func text(v any, _ bool) string { return fmt.Sprint(v) }

func style(c zones.Class) geofile.Style {
	fill := colours[c].rgb
	fill.A = fillAlpha
	return geofile.Style{
		ID: c.String(), Fill: fill, Line: color.NRGBA{A: 0xFF}, Width: lineWidth,
		Icon: colours[c].rgb, Scale: iconScale,
	}
}

const unreadID = "unread"

const unreadSays = "Stops marked ? were not read, so the map does not know what was counted there."

// unreadMark is a stop of [UnreadFeatures].
func unreadMark(f geo.Feature) geofile.Placemark {
	return geofile.Placemark{
		Name: "?", Description: "stop " + text(f.Properties.Get("stop")) + ", not read: " + text(f.Properties.Get("not_read")),
		Style: unreadID, Geometry: f.Geometry, Data: f.Properties,
	}
}

// UnreadMarks are the stops that were not read as a folder of ?, and their style, for KML
// that shows something else; none where all were read.
func UnreadMarks(r *assess.Result) (styles []geofile.Style, folders []geofile.Folder) {
	marks := geofile.Folder{Name: "Not read", Description: unreadSays}
	for _, f := range UnreadFeatures(r) {
		marks.Placemarks = append(marks.Placemarks, unreadMark(f))
	}
	if len(marks.Placemarks) == 0 {
		return nil, nil
	}
	return []geofile.Style{unreadStyle()}, []geofile.Folder{marks}
}

// unreadStyle is white, as of no zone.
func unreadStyle() geofile.Style {
	white := color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
	return geofile.Style{ID: unreadID, Fill: white, Line: color.NRGBA{A: 0xFF}, Width: lineWidth, Icon: white, Scale: iconScale}
}

// title names pest and day.
func title(r *assess.Result) string { return titled(r, dates(r)) }

func titled(r *assess.Result, days string) string {
	parts := []string{pestName(r)}
	if days != "" {
		parts = append(parts, days)
	}
	return strings.Join(parts, ", ")
}

func pestName(r *assess.Result) string {
	if r.Survey.Pest == "" {
		return "pest not named"
	}
	return r.Survey.Pest
}

// legend is one line for each zone and each field's trust, then the cautions.
func legend(r *assess.Result) string {
	if r.Several() {
		return legendOfSeveral(r)
	}
	lines := []string{
		legendLine(zones.Treat, levelWith(r.Levels.TreatAt, r.Statistic, figures.Both)+" or more"),
		legendLine(zones.Watch, figures.Short(r.Levels.WatchAt)+" or more, or nobody has been near"),
		legendLine(zones.Clear, "less than that"),
		fmt.Sprintf("Spray level: %s; %s.", r.Levels.TreatSource, levelsCaution),
	}
	return legendOfFields(r, lines)
}

// legendLine says what a colour is; nothing is hatched in KML.
func legendLine(c zones.Class, means string) string {
	return fmt.Sprintf("%s: %s. %s.", Sentence(ShownZone(c)), colours[c].name, Sentence(means))
}

// legendOfSeveral is a legend where each field has its own levels.
func legendOfSeveral(r *assess.Result) string {
	lines := []string{
		legendLine(zones.Treat, "at or over the spray level of the field"),
		legendLine(zones.Watch, "at or over its watch level, or nobody has been near"),
		legendLine(zones.Clear, "less than that"),
	}
	for _, line := range append(LevelLines(r), levelsCaution) {
		lines = append(lines, line+".")
	}
	return legendOfFields(r, lines)
}

func legendOfFields(r *assess.Result, lines []string) string {
	for _, f := range r.Fields {
		if f.Scouted() {
			lines = append(lines, fmt.Sprintf("%s: %s.", f.Name, TrustLine(r.Of(f), f, figures.Both)))
			lines = append(lines, chanceLines(r.Of(f), f)...)
		} else if f.NoneRead() {
			lines = append(lines, fmt.Sprintf("%s: %s, no zones.", f.Name, NoneRead))
		} else {
			lines = append(lines, fmt.Sprintf("%s: not scouted, no zones.", f.Name))
		}
	}
	return strings.Join(append(lines, Cautions()...), "\n")
}
