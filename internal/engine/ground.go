package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A ground is the fields that a visit is worked out on. Those of a season were held
// against their stops when they came in.
type ground struct {
	boundary.Outlines
	file string // "" where they are a season's
}

// ground reads a boundary; its lines carry the file's name.
func (w Setup) ground(from Source) (ground, error) {
	return groundOf(from, boundary.Settings{NameProperty: w.Settings.NameProperty, Inner: string(w.Settings.Inner)})
}

func groundOf(from Source, set boundary.Settings) (g ground, err error) {
	c, err := geofile.DecodeSource(from, geofile.Limits{})
	if err != nil {
		return g, err
	}
	g.file = c.Name
	if g.Outlines, err = boundary.Read(c.Features, set); err != nil {
		return g, fmt.Errorf("%s: %w", c.Name, err)
	}
	g.Notes = append(append([]string(nil), c.Notes...), g.Notes...)
	for _, lines := range [][]string{g.Notes, g.Warnings} {
		for i := range lines {
			lines[i] = c.Name + ": " + lines[i]
		}
	}
	return g, nil
}

// groundOfSeason are fields that a season keeps.
func groundOfSeason(fields []geo.Field) ground {
	return ground{Outlines: boundary.Outlines{Fields: fields}}
}

// hold holds the outlines of a file against the stops of all visits.
func (g ground) hold(visits ...*survey.Survey) error {
	if g.file == "" {
		return nil
	}
	var stops [][2]float64
	for _, v := range visits {
		for _, s := range v.Stops {
			stops = append(stops, [2]float64{s.Longitude, s.Latitude})
		}
	}
	if err := g.Hold(stops); err != nil {
		return fmt.Errorf("%s: %w", g.file, err)
	}
	return nil
}

// tellClosed tells of stops outside what they stand in.
func (g ground) tellClosed(r *assess.Result) {
	for _, f := range r.Fields {
		for i, s := range f.Stops {
			if s.Outside > 0 {
				f.Stops[i].In = g.ClosedAt(s.Longitude, s.Latitude)
			}
		}
	}
}
