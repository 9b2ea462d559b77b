package jobsheet

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Document is the hand-off as KML: a folder for each kind of thing.
func (s Sheet) Document() geofile.Document {
	d := geofile.Document{Name: "Spray hand-off", Styles: []geofile.Style{
		style("ground", treat, treatHatch), style("swath", color.NRGBA{}, ink),
		style("keep_off", closed, ink), style("left", color.NRGBA{0xCC, 0x79, 0xA7, 0xFF}, ink), style("line", color.NRGBA{}, blue),
	}}
	for _, line := range s.verdicts() {
		d.Description += line + "\n"
	}
	d.Description += s.switchPlaces() + "\n"
	for _, c := range cautions {
		d.Description += c + "\n"
	}
	d.Folders = []geofile.Folder{
		folder("Spray ground", "ground", s.Result.Ground()),
		folder("Swaths", "swath", s.Result.Swaths()),
		folder("Passes", "line", s.Result.Passes()),
		folder("Boom on and off", "line", s.Result.Switches()),
		folder("Closed ground", "keep_off", s.Result.KeptOff()),
		folder("Left unsprayed", "left", s.Result.Left()),
	}
	return d
}

// warnings are those of all jobs, with their fields.
func (s Sheet) warnings() (out []string) {
	for _, j := range s.Result.Jobs {
		if line := s.warning(j); line != "" {
			out = append(out, j.Field+": "+line)
		}
	}
	return out
}

// verdicts are what the map advised of all jobs, with their fields: the warning where
// there is one, which tells it too.
func (s Sheet) verdicts() (out []string) {
	for _, j := range s.Result.Jobs {
		line := s.warning(j)
		if line == "" {
			line = verdict(j)
		}
		out = append(out, j.Field+": "+line)
	}
	return out
}

// switchPlaces says what the places of on and off are.
func (s Sheet) switchPlaces() string {
	set := s.Result.Settings.Spray
	if set.Lead() == 0 {
		return "Boom on and off: places are where the spray begins and ends; no lag was given."
	}
	return fmt.Sprintf("Boom on and off: places are where the switch is to be thrown. That is %s before the spray begins or ends, for %s s of lag at %s. Where the machine looks ahead itself, set its lag to 0 or plan without --lag.",
		s.Units.Length(set.Lead()), figures.Short(set.Lag), s.Units.Speed(set.Speed))
}

func style(id string, fill, line color.NRGBA) geofile.Style {
	if fill.A > 0 {
		fill.A = 0x99 // lets the ground show through
	}
	return geofile.Style{ID: id, Fill: fill, Line: line, Width: 2, Icon: line, Scale: 0.5}
}

func folder(name, style string, features []geo.Feature) geofile.Folder {
	f := geofile.Folder{Name: name}
	for _, feature := range features {
		f.Placemarks = append(f.Placemarks, geofile.Placemark{Name: label(feature), Style: style, Geometry: feature.Geometry, Data: feature.Properties})
	}
	return f
}

// label is a short name of a feature.
func label(f geo.Feature) string {
	pass, isPass := f.Properties.Get("pass")
	if on, ok := f.Properties.Get("on"); ok {
		return fmt.Sprintf("%v %s", pass, map[any]string{true: "on", false: "off"}[on])
	}
	if isPass {
		if pass == int64(0) {
			return "A–B"
		}
		return fmt.Sprintf("pass %v", pass)
	}
	kind, _ := f.Properties.Get("kind")
	return fmt.Sprintf("%v, %s", kind, report.PropertyArea(f.Properties))
}

// Route is the ends of all runs in driving order, for receivers: P1-ON, P1-OFF …,
// and the outlines of the spray ground as tracks. Places are those of
// [handoff.Result.Switches]: where the switch is to be thrown.
func (s Sheet) Route() geofile.Route {
	r := geofile.Route{Name: "Spray passes", Description: strings.Join(append(s.warnings(), s.switchPlaces(), cautions[0]), " ")}
	for f, j := range s.Result.Jobs {
		prefix := ""
		if len(s.Result.Jobs) > 1 {
			prefix = fmt.Sprintf("F%d-", f+1)
		}
		for _, pass := range j.Plan.Passes {
			for i, sw := range pass.Switches {
				name := fmt.Sprintf("%sP%d", prefix, pass.Number)
				if len(pass.Switches) > 2 {
					name += string(rune('A' + i/2%26))
				}
				name += map[bool]string{true: "-ON", false: "-OFF"}[sw.On]
				r.Points = append(r.Points, geofile.Placemark{Name: name, Description: j.Field, Geometry: j.Frame.Inverse(sw.Thrown)})
			}
		}
	}
	for _, f := range s.Result.Ground() {
		field, _ := f.Properties.Get("field")
		r.Outlines = append(r.Outlines, geofile.Placemark{Name: fmt.Sprintf("spray ground %v", field), Geometry: f.Geometry})
	}
	return r
}

// Layers are the tables of a GeoPackage; those without rows are left out.
func (s Sheet) Layers() (out []geofile.Layer) {
	r := s.Result
	for _, l := range []geofile.Layer{
		{Name: "ground", Features: r.Ground()}, {Name: "swaths", Features: r.Swaths()}, {Name: "passes", Features: r.Passes()},
		{Name: "switches", Features: r.Switches()}, {Name: "keep_off", Features: r.KeptOff()}, {Name: "left_out", Features: r.Left()},
		{Name: "fields", Features: r.Boundaries()},
	} {
		if len(l.Features) > 0 {
			l.Date = r.Days.Counted
			out = append(out, l)
		}
	}
	return out
}
