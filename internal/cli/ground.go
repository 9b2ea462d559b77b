package cli

import (
	"errors"
	"fmt"
	"path/filepath"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/boundary"
	"github.com/geocoris/geocoris/internal/survey"
)

// readFields reads the boundary; its lines carry the file's name.
func readFields(o mapOptions) (boundary.Outlines, error) {
	return readOutlines(o.Field, boundary.Settings{NameProperty: o.NameProperty, Inner: string(o.Inner)})
}

func readOutlines(path string, set boundary.Settings) (boundary.Outlines, error) {
	c, err := geofile.Read(path, geofile.Limits{})
	if err != nil {
		return boundary.Outlines{}, err
	}
	o, err := boundary.Read(c.Features, set)
	if err != nil {
		return boundary.Outlines{}, fmt.Errorf("%s: %w", c.Name, err)
	}
	o.Notes = append(append([]string(nil), c.Notes...), o.Notes...)
	for _, lines := range [][]string{o.Notes, o.Warnings} {
		for i := range lines {
			lines[i] = c.Name + ": " + lines[i]
		}
	}
	return o, nil
}

// holdFields holds the outlines of a file against the stops of all visits.
func holdFields(path string, o boundary.Outlines, visits ...*survey.Survey) error {
	var stops [][2]float64
	for _, v := range visits {
		for _, s := range v.Stops {
			stops = append(stops, [2]float64{s.Longitude, s.Latitude})
		}
	}
	if err := o.Hold(stops); err != nil {
		return fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return nil
}

// innerKind is what an outline inside another one is; "" is to be asked.
type innerKind string

func (k *innerKind) Set(text string) error {
	if text != boundary.InnerHole && text != boundary.InnerField {
		return errors.New("want hole or field")
	}
	*k = innerKind(text)
	return nil
}

func (k *innerKind) String() string { return string(*k) }

func (k *innerKind) Type() string { return "kind" }

// UnmarshalText takes a text of a settings file.
func (k *innerKind) UnmarshalText(text []byte) error { return k.Set(string(text)) }

const innerUsage = "an outline inside another is a `hole` (a pond, a yard) or a field; asked for where no name or stop tells"
