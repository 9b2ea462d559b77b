package report

import (
	"fmt"
	"image/color"
	"iter"
	"slices"
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
// with the legend and what must be known in its description, in the language of the units.
// Placemarks are made as they are gone through.
func Document(r *assess.Result, u figures.Units) geofile.Document {
	d := geofile.Document{Name: Title(r, u), Description: legend(r, u)}
	for _, c := range zones.Classes() {
		d.Styles = append(d.Styles, style(c))
	}
	told := ownersOf(r)
	unread := slices.Collect(EachUnread(r))
	for _, f := range r.Fields {
		of := geofile.Folder{Name: f.Name, Each: zoneMarks(r, f, told, u)}
		switch {
		case f.NoneRead():
			of.Description = u.Text(NoneRead)
		case f.Scouted():
			of.Description = OwnDays(r, f, u.Text("Counted %s. "), u) + TrustLine(r.Of(f), f, u) + "."
		default:
			continue
		}
		d.Folders = append(d.Folders, of)
	}
	stops := geofile.Folder{Name: u.Text("Stops"), Description: u.Text("Where was counted, in the colour of the ground there."), Each: stopMarks(r, unread, u)}
	if len(unread) > 0 {
		d.Styles = append(d.Styles, unreadStyle())
		stops.Description += " " + u.Text(unreadSays)
	}
	d.Folders = append(d.Folders, stops)
	return d
}

// zoneMarks are the zones of a field, made as they are asked for.
func zoneMarks(r *assess.Result, f *assess.Field, told owners, u figures.Units) iter.Seq[geofile.Placemark] {
	return func(yield func(geofile.Placemark) bool) {
		for _, z := range append(zonesOf(r, f, told), noneRead(r.Of(f), f, told)...) {
			zone := text(z.Properties.Get("zone"))
			if !yield(geofile.Placemark{Name: shownAs(zone, u) + ", " + PropertyArea(z.Properties), Style: zone, Geometry: z.Geometry, Data: z.Properties}) {
				return
			}
		}
	}
}

// stopMarks are all stops, those that were not read last, made as they are asked for.
func stopMarks(r *assess.Result, unread []geo.Feature, u figures.Units) iter.Seq[geofile.Placemark] {
	return func(yield func(geofile.Placemark) bool) {
		for _, f := range r.Fields {
			of, levels := stopsOf(r, f), r.Of(f).Levels.Levels
			for i := range f.Stops {
				s := of.feature(&f.Stops[i])
				value, _ := s.Properties.Get("value")
				if !yield(geofile.Placemark{
					Name: Levelled(value.(float64), levels), Description: u.Say("Stop %s", text(s.Properties.Get("stop"))),
					Style: text(s.Properties.Get("zone")), Geometry: s.Geometry, Data: s.Properties,
				}) {
					return
				}
			}
		}
		for _, f := range unread {
			if !yield(unreadMark(f, u)) {
				return
			}
		}
	}
}

// shownAs is what people read first for a zone by its name in files, capitalized.
func shownAs(zone string, u figures.Units) string {
	for _, c := range zones.Classes() {
		if c.String() == zone {
			return Sentence(ShownZone(c, u))
		}
	}
	return Sentence(zone)
}

func text(v any, _ bool) string {
	if s, is := v.(string); is {
		return s
	}
	return fmt.Sprint(v)
}

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
func unreadMark(f geo.Feature, u figures.Units) geofile.Placemark {
	return geofile.Placemark{
		Name: "?", Description: u.Say("Stop %s, not read: %s", text(f.Properties.Get("stop")), text(f.Properties.Get("not_read"))),
		Style: unreadID, Geometry: f.Geometry, Data: f.Properties,
	}
}

// UnreadMarks are the stops that were not read as a folder of ?, and their style, for KML
// that shows something else; none where all were read.
func UnreadMarks(r *assess.Result, u figures.Units) (styles []geofile.Style, folders []geofile.Folder) {
	marks := geofile.Folder{Name: Sentence(u.Text("not read")), Description: u.Text(unreadSays)}
	for _, f := range UnreadFeatures(r) {
		marks.Placemarks = append(marks.Placemarks, unreadMark(f, u))
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
func legend(r *assess.Result, u figures.Units) string {
	if r.Several() {
		return legendOfSeveral(r, u)
	}
	lines := []string{
		legendLine(zones.Treat, u.Say("%s or more", levelWith(r.Levels.TreatAt, r.Statistic, u)), u),
		legendLine(zones.Watch, u.Say("%s or more, or nobody has been near", u.Level(r.Levels.WatchAt)), u),
		legendLine(zones.Clear, u.Text("less than that, with a stop near"), u),
		u.Say("Spray level: %s.", r.Levels.TreatSource),
		Sentence(u.Text(levelsCaution)) + ".",
	}
	return legendOfFields(r, lines, u)
}

// legendLine says what a colour is; nothing is hatched in KML.
func legendLine(c zones.Class, means string, u figures.Units) string {
	return fmt.Sprintf("%s: %s. %s.", Sentence(ShownZone(c, u)), u.Text(colours[c].name), Sentence(means))
}

// legendOfSeveral is a legend where each field has its own levels.
func legendOfSeveral(r *assess.Result, u figures.Units) string {
	lines := []string{
		legendLine(zones.Treat, u.Text("at or over the spray level of the field"), u),
		legendLine(zones.Watch, u.Text("at or over its watch level, or nobody has been near"), u),
		legendLine(zones.Clear, u.Text("less than that, with a stop near"), u),
	}
	for _, line := range append(LevelLines(r), Sentence(u.Text(levelsCaution))) {
		lines = append(lines, line+".")
	}
	return legendOfFields(r, lines, u)
}

func legendOfFields(r *assess.Result, lines []string, u figures.Units) string {
	for _, f := range r.Fields {
		if f.Scouted() {
			lines = append(lines, fmt.Sprintf("%s: %s.", f.Name, TrustLine(r.Of(f), f, u)))
			lines = append(lines, chanceLines(r.Of(f), f, u)...)
		} else if f.NoneRead() {
			lines = append(lines, u.Say("%s: %s, no zones.", f.Name, u.Text(NoneRead)))
		} else {
			lines = append(lines, u.Say("%s: not scouted, no zones.", f.Name))
		}
	}
	return strings.Join(append(lines, CautionsIn(u)...), "\n")
}
