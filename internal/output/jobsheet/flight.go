package jobsheet

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Flight is the way through the air with the obstacles, as features and as KML, where
// both stand over the ground at the height that was typed in; and notes on what is not
// in it.
func (s Sheet) Flight() (features []geo.Feature, d geofile.Document, notes []string, err error) {
	d = geofile.Document{Name: s.Units.Text("Flight"), Description: s.flightSays(), Styles: []geofile.Style{style("line", closed, blue), style("keep_off", closed, ink)}}
	var above *float64
	if h := s.Air.Height; h != nil {
		above = &h.Base
	}
	for _, j := range s.Result.Jobs {
		legs, said, err := s.Of(j).Result.Flight(s.Air)
		if err != nil {
			return nil, d, nil, err
		}
		obstacles, err := s.Of(j).Result.Obstacles()
		if err != nil {
			return nil, d, nil, err
		}
		if notes = append(notes, said...); len(said) > 0 {
			d.Description += " " + s.Units.Say("%s: for some turns no way round the keep-offs was found. They are not in it.", j.Field)
		}
		features = append(append(features, legs...), obstacles...)
		one := geofile.Folder{Name: j.Field, Placemarks: s.overGround(legs, "line", above)}
		if len(obstacles) > 0 {
			one.Folders = []geofile.Folder{{Name: s.Units.Text("Obstacles"), Placemarks: s.overGround(obstacles, "keep_off", above)}}
		}
		d.Folders = append(d.Folders, one)
	}
	return features, d, notes, nil
}

// overGround are the placemarks of a flight.
func (s Sheet) overGround(features []geo.Feature, style string, above *float64) (all []geofile.Placemark) {
	for _, f := range features {
		all = append(all, geofile.Placemark{Name: flightLabel(f, s.Units), Style: style, Geometry: f.Geometry, Data: f.Properties, Above: above})
	}
	return all
}

func flightLabel(f geo.Feature, u figures.Units) string {
	if name, ok := f.Properties.Get("name"); ok {
		return fmt.Sprint(name)
	}
	pass, _ := f.Properties.Get("pass")
	if kind, _ := f.Properties.Get("kind"); kind == "turn" {
		return u.Say("turn to pass %v", pass)
	}
	return u.Say("pass %v", pass)
}

// flightSays is what to know of a flight.
func (s Sheet) flightSays() string {
	u := s.Units
	parts := append(s.warnings(), u.Text("Lines come in the order in which they are flown. Turns lead round the keep-offs that were named."))
	if s.Air.Height == nil {
		parts = append(parts, u.Text("No height was typed in: lines lie on the ground."))
	} else {
		parts = append(parts, u.Say("Lines are %s above the ground, as typed in. Obstacles are drawn up to there: how high they are is not known.", u.Length(s.Air.Height.Base)))
	}
	return strings.Join(append(parts, u.Text("Masts, wires and trees that were not named are not in it."), cautionsIn(u)[0]), " ")
}

// airRows are what was typed in for a job from the air.
func (s Sheet) airRows(j *handoff.Job) (rows []row) {
	if h := s.Air.Height; h != nil {
		rows = append(rows, s.row("Height above ground", s.Units.Say("%s, as typed in", s.Units.Length(h.Base))))
	}
	d := s.Air.Drift
	if d == nil {
		return rows
	}
	text := s.Units.Say("%s, as typed in", s.Units.Length(d.Base))
	for _, k := range j.KeepOffs {
		if k.SetBack < d.Base {
			text += s.Units.Say("; %s is set back by less, %s", k.Name, s.Units.Length(k.SetBack))
		}
	}
	return append(rows, s.row("Drift distance", text))
}
