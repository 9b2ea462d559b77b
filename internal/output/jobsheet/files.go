package jobsheet

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Document is the hand-off as KML: a folder for each kind of thing.
func (s Sheet) Document() geofile.Document {
	u := s.Units
	d := geofile.Document{Name: u.Text("Spray hand-off"), Styles: []geofile.Style{
		style("ground", treat, treatHatch), style("swath", color.NRGBA{}, ink),
		style("keep_off", closed, ink), style("left", color.NRGBA{0xCC, 0x79, 0xA7, 0xFF}, ink), style("line", color.NRGBA{}, blue),
	}}
	for _, line := range s.verdicts() {
		d.Description += line + "\n"
	}
	d.Description += s.switchPlaces() + "\n"
	for _, c := range cautionsIn(u) {
		d.Description += c + "\n"
	}
	if len(s.Result.Jobs) == 1 {
		d.Folders = s.kinds()
		return d
	}
	return inFolders(d, s.Result.Jobs, func(j *handoff.Job) geofile.Folder {
		return geofile.Folder{Name: j.Field, Folders: s.Of(j).kinds()}
	})
}

// kinds are a folder for each kind of thing that there is.
func (s Sheet) kinds() (all []geofile.Folder) {
	u := s.Units
	for _, f := range []geofile.Folder{
		folder(u.Text("Spray ground"), "ground", s.Result.Ground(), u),
		folder(u.Text("Swaths"), "swath", s.Result.Swaths(), u),
		folder(u.Text("A–B lines"), "line", s.Result.ABLines(), u),
		folder(u.Text("Passes"), "line", s.Result.Passes(), u),
		folder(u.Text("Boom on and off"), "line", s.Result.Switches(), u),
		folder(u.Text("Closed ground"), "keep_off", s.Result.KeptOff(), u),
		folder(u.Text("Left unsprayed"), "left", s.Result.Left(), u),
	} {
		if len(f.Placemarks) > 0 {
			all = append(all, f)
		}
	}
	return all
}

// Of is the sheet of one of the jobs alone.
func (s Sheet) Of(j *handoff.Job) Sheet {
	one := *s.Result
	one.Jobs = []*handoff.Job{j}
	s.Result = &one
	return s
}

// inFolders puts a folder of each job into the document, those of a grower together.
func inFolders(d geofile.Document, jobs []*handoff.Job, of func(*handoff.Job) geofile.Folder) geofile.Document {
	at := map[string]int{}
	for _, j := range jobs {
		one := of(j)
		if len(one.Folders)+len(one.Placemarks) == 0 {
			continue
		}
		if j.Customer == "" {
			d.Folders = append(d.Folders, one)
			continue
		}
		k, known := at[j.Customer]
		if !known {
			k = len(d.Folders)
			at[j.Customer], d.Folders = k, append(d.Folders, geofile.Folder{Name: j.Customer})
		}
		d.Folders[k].Folders = append(d.Folders[k].Folders, one)
	}
	return d
}

// Plain is ground of one kind as KML with nothing but polygons, one placemark for each,
// for programs that take no more; ok is false where there is none. The name is in English.
func (s Sheet) Plain(name string, ground func(*handoff.Result) []geo.Feature) (d geofile.Document, ok bool) {
	name = s.Units.Text(name)
	d = geofile.Document{Name: name, Description: strings.Join(s.warnings(), " ")}
	pieces := func(j *handoff.Job) (out []geofile.Placemark) {
		for _, f := range ground(s.Of(j).Result) {
			mp, _ := f.Geometry.(orb.MultiPolygon)
			for i, polygon := range mp {
				out = append(out, geofile.Placemark{Name: fmt.Sprintf("%s, %s %d", j.Field, name, i+1), Geometry: polygon, Data: f.Properties})
			}
		}
		return out
	}
	if len(s.Result.Jobs) == 1 {
		d.Placemarks = pieces(s.Result.Jobs[0])
		return d, len(d.Placemarks) > 0
	}
	d = inFolders(d, s.Result.Jobs, func(j *handoff.Job) geofile.Folder { return geofile.Folder{Name: j.Field, Placemarks: pieces(j)} })
	return d, len(d.Folders) > 0
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
			line = s.verdict(j)
		}
		out = append(out, j.Field+": "+line)
	}
	return out
}

// switchPlaces says what the places of on and off are.
func (s Sheet) switchPlaces() string {
	u, set := s.Units, s.Result.Settings.Spray
	if set.Lead() == 0 {
		return u.Text("Boom on and off: places are where the spray begins and ends; no lag was given.")
	}
	return u.Say("Boom on and off: places are where the switch is to be thrown. That is %s before the spray begins or ends, for %s s of lag at %s. Where the machine looks ahead itself, set its lag to 0 or plan without --lag.",
		u.Length(set.Lead()), u.Short(set.Lag), u.Speed(set.Speed))
}

func style(id string, fill, line color.NRGBA) geofile.Style {
	if fill.A > 0 {
		fill.A = 0x99 // lets the ground show through
	}
	return geofile.Style{ID: id, Fill: fill, Line: line, Width: 2, Icon: line, Scale: 0.5}
}

func folder(name, style string, features []geo.Feature, u figures.Units) geofile.Folder {
	f := geofile.Folder{Name: name}
	for _, feature := range features {
		f.Placemarks = append(f.Placemarks, geofile.Placemark{Name: label(feature, u), Style: style, Geometry: feature.Geometry, Data: feature.Properties})
	}
	return f
}

// label is a short name of a feature.
func label(f geo.Feature, u figures.Units) string {
	pass, isPass := f.Properties.Get("pass")
	if on, ok := f.Properties.Get("on"); ok {
		if on == true {
			return u.Say("%v on", pass)
		}
		return u.Say("%v off", pass)
	}
	if isPass {
		return u.Say("pass %v", pass)
	}
	kind, _ := f.Properties.Get("kind")
	if kind == "ab_line" {
		return "A–B"
	}
	return fmt.Sprintf("%s, %s", kindIn(kind, u), report.PropertyArea(f.Properties))
}

// kindIn names a kind of ground as people read it.
func kindIn(kind any, u figures.Units) string {
	switch kind {
	case "ground":
		return u.Text("spray ground")
	case "swath":
		return u.Text("swath")
	case "keep_off":
		return u.Text("closed ground")
	case "left":
		return u.Text("left unsprayed")
	}
	return fmt.Sprint(kind)
}

// Route is the ends of all runs in driving order, for receivers: P1-ON, P1-OFF …, a route
// for each block, which is a part of a field; the A–B line of each field as a route of its
// own; and the outlines of the spray ground as tracks. Places are those of
// [handoff.Result.Switches]: where the switch is to be thrown.
func (s Sheet) Route() geofile.Route {
	u := s.Units
	r := geofile.Route{Name: u.Text("Spray passes"), Description: strings.Join(append(s.warnings(), s.switchPlaces(), cautionsIn(u)[0]), " ")}
	for f, j := range s.Result.Jobs {
		prefix := ""
		if len(s.Result.Jobs) > 1 {
			prefix = fmt.Sprintf("F%d-", f+1)
		}
		r.Ways = append(r.Ways, blocks(j, prefix, u)...)
		r.Ways = append(r.Ways, geofile.Way{Name: u.Say("A-B line, %s", j.Field), Points: []geofile.Placemark{
			{Name: prefix + "A", Description: j.Field, Geometry: j.Frame.Inverse(j.Plan.A)}, {Name: prefix + "B", Description: j.Field, Geometry: j.Frame.Inverse(j.Plan.B)},
		}})
	}
	for _, f := range s.Result.Ground() {
		field, _ := f.Properties.Get("field")
		r.Outlines = append(r.Outlines, geofile.Placemark{Name: u.Say("spray ground %v", field), Geometry: f.Geometry})
	}
	return r
}

// blocks are the passes of each part of a field as a way.
func blocks(j *handoff.Job, prefix string, u figures.Units) (ways []geofile.Way) {
	for _, pass := range j.Plan.Passes {
		if len(ways) == 0 || pass.Part != j.Plan.Passes[pass.Number-2].Part {
			ways = append(ways, geofile.Way{Name: u.Say("Passes, %s", j.Field)})
		}
		last := &ways[len(ways)-1]
		for i, sw := range pass.Switches {
			name := fmt.Sprintf("%sP%d", prefix, pass.Number)
			if len(pass.Switches) > 2 {
				name += string(rune('A' + i/2%26))
			}
			name += map[bool]string{true: "-ON", false: "-OFF"}[sw.On]
			last.Points = append(last.Points, geofile.Placemark{Name: name, Description: j.Field, Geometry: j.Frame.Inverse(sw.Thrown)})
		}
	}
	if len(ways) > 1 {
		for i := range ways {
			ways[i].Name = u.Say("%s, block %d", ways[i].Name, i+1)
		}
	}
	return ways
}

// Layers are the tables of a GeoPackage, that of the rates first; those without rows are
// left out.
func (s Sheet) Layers() (out []geofile.Layer, err error) {
	r := s.Result
	rates, err := r.Rates(s.Mix)
	if err != nil {
		return nil, err
	}
	for _, l := range []geofile.Layer{
		{Name: s.Mix.RateName(), Features: rates},
		{Name: "ground", Features: r.Ground()}, {Name: "swaths", Features: r.Swaths()}, {Name: "passes", Features: r.Passes()}, {Name: "ab_lines", Features: r.ABLines()},
		{Name: "switches", Features: r.Switches()}, {Name: "keep_off", Features: r.KeptOff()}, {Name: "left_out", Features: r.Left()},
		{Name: "boundary", Features: r.Boundaries()},
	} {
		if len(l.Features) > 0 {
			l.Date = r.Days.Counted
			out = append(out, l)
		}
	}
	return out, nil
}
