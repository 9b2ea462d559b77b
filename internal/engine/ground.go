package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A ground is the fields that a visit is worked out on. Those of a season were compared
// with their stops when they came in.
type ground struct {
	boundary.Outlines
	file string // "" where they are a season's
}

func (w Setup) ground(from Source) (ground, error) {
	outlines, err := w.outlines(from)
	if err != nil {
		return ground{}, err
	}
	outlines.Fields, err = w.whose(outlines.Fields)
	return ground{outlines, from.Base()}, err
}

// Outlines reads a boundary; its lines carry the file's name. nameProperty names the
// fields, "" for what names them by itself; inner says what an outline inside another is.
func Outlines(from Source, nameProperty string, inner Inner) (boundary.Outlines, error) {
	c, err := geofile.DecodeSource(from, geofile.Limits{})
	if err != nil {
		return boundary.Outlines{}, ofCounts(from, err)
	}
	o, err := boundary.Read(c.Features, boundary.Settings{NameProperty: nameProperty, Inner: string(inner)})
	var ours boundary.WorkedOut
	switch {
	case err != nil && len(c.Features) == 0 && len(c.Notes) > 0: // such as a link alone
		return boundary.Outlines{}, fmt.Errorf("%s: holds no outline; %s: give the file that holds it", c.Name, strings.Join(c.Notes, "; "))
	case errors.As(err, &ours):
		return boundary.Outlines{}, hinted(fmt.Errorf("%s: %w", c.Name, err), "give the file of the field's outline, as the map was made with")
	case err != nil:
		return boundary.Outlines{}, ofCounts(from, fmt.Errorf("%s: %w", c.Name, err))
	}
	o.Notes = append(append([]string(nil), c.Notes...), o.Notes...)
	for _, lines := range [][]string{o.Notes, o.Warnings} {
		for i := range lines {
			lines[i] = c.Name + ": " + lines[i]
		}
	}
	return o, nil
}

// ofCounts says of a boundary that cannot be read whether it is a table of counts.
func ofCounts(from Source, err error) error {
	if !survey.HoldsCounts(from) {
		return err
	}
	return hinted(fmt.Errorf("%s: holds counts and no outline of a field", from.Base()), survey.SwapHint)
}

// groundOfSeason are fields that a season keeps.
func groundOfSeason(fields []geo.Field) ground {
	return ground{Outlines: boundary.Outlines{Fields: fields}}
}

// claim takes outlines for fields that were left out by their names, and that the stops show
// to be fields. Its warnings tell so.
func (w Setup) claim(g *ground, s *survey.Survey) (err error) {
	if len(g.NoField) == 0 {
		return nil
	}
	var stops []boundary.Counted
	for _, stop := range s.Stops {
		stops = append(stops, boundary.Counted{At: [2]float64{stop.Longitude, stop.Latitude}, Field: stop.Records[0].Field})
	}
	outlines, taken, why, err := g.Claim(stops)
	if err != nil || len(taken) == 0 {
		return err
	}
	g.Outlines = outlines
	for i, n := range taken {
		line := g.file + ": " + n.LeftOut()
		g.Warnings = slices.DeleteFunc(slices.Clone(g.Warnings), func(w string) bool { return w == line })
		g.Warnings = append(g.Warnings, g.file+": "+why[i])
	}
	g.Fields, err = w.whose(g.Fields)
	return err
}

// hold compares the outlines of a file with the stops of all visits.
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

// tellClosed tells of stops of a field outside what they stand in.
func (g ground) tellClosed(f *assess.Field) {
	for i, s := range f.Stops {
		if s.Outside > 0 {
			f.Stops[i].In = g.ClosedAt(s.Longitude, s.Latitude)
		}
	}
}

// shutAt is [boundary.Outlines.ShutAt] for who judges.
func (g ground) shutAt(longitude, latitude float64) (in string, hole, ok bool) {
	s, ok := g.ShutAt(longitude, latitude)
	return s.Name, s.Why == "", ok
}
