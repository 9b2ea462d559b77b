package handoff

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Rows is how the rows of a crop run, for all fields or for some: by a direction, or by
// features. Of these a line says it by its ends, and any other one by its property rows.
type Rows struct {
	Heading  *float64 // degrees clockwise from north; nil where features tell
	File     string   // of the features, for messages
	Features []geo.Feature
}

// Tell reports whether some feature tells how rows run.
func (r Rows) Tell() bool {
	for _, f := range r.Features {
		_, known := RowsOf(f.Properties)
		switch f.Geometry.(type) {
		case orb.LineString, orb.MultiLineString:
			known = true
		}
		if known {
			return true
		}
	}
	return false
}

// RowsOf is the property rows of a feature, degrees clockwise from north in [0, 180), as a
// number or a text such as "12°"; ok is false where it has none that can be read.
func RowsOf(p geo.Properties) (degrees float64, ok bool) {
	degrees, err := ParseRows(word(p, "rows"))
	return degrees, err == nil
}

// ParseRows reads a direction such as 12, 12.5° or 192 deg, which is the same as 12.
func ParseRows(text string) (float64, error) {
	number := strings.TrimSpace(text)
	for _, unit := range []string{"°", "deg", "degrees"} {
		number = strings.TrimSpace(strings.TrimSuffix(number, unit))
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || !(math.Abs(v) <= 360) {
		return 0, fmt.Errorf("%q is no direction of rows: want degrees clockwise from north, such as 12°", text)
	}
	return math.Mod(v+360, 180), nil
}

// rows are those of a field: as they were given, else as its zones have them; nil where
// nothing tells.
func (s Settings) rows(f *field, here site) (*float64, error) {
	if s.Rows.Heading != nil {
		return s.Rows.Heading, nil
	}
	if at, err := s.Rows.in(here); at != nil || err != nil {
		return at, err
	}
	if v, ok := RowsOf(f.first); ok {
		return &v, nil
	}
	return nil, nil
}

// rowsReach is how far, m, a line of a row may lie from the field that it is of.
const rowsReach = 1000

// named are the rows with the names of fields as these are written. A name that can be two of
// them, which differ in case alone, is an error; one that is none of them stays.
func (r Rows) named(fields []*field) (Rows, error) {
	var all []string
	for _, f := range fields {
		all = append(all, f.name)
	}
	names, features := survey.NewNames(all), slices.Clone(r.Features)
	for i := range features {
		at, err := names.Find(word(features[i].Properties, "field"))
		if err != nil {
			return r, fmt.Errorf("%s: feature %d: field %w", r.File, i+1, err)
		}
		if at < 0 {
			continue
		}
		features[i].Properties = slices.Clone(features[i].Properties)
		for j, p := range features[i].Properties {
			if p.Name == "field" {
				features[i].Properties[j].Value = all[at]
			}
		}
	}
	r.Features = features
	return r, nil
}

// in is what the features say of a field: those that name it, else a line without a name
// that is near.
func (r Rows) in(here site) (*float64, error) {
	var best *float64
	nearest := float64(rowsReach)
	for i, one := range r.Features {
		name := word(one.Properties, "field")
		if name != "" && name != here.name {
			continue
		}
		heading, d, err := here.row(one)
		switch {
		case err != nil:
			return nil, fmt.Errorf("%s: feature %d: %w", r.File, i+1, err)
		case heading != nil && name != "":
			return heading, nil
		case heading != nil && d < nearest:
			best, nearest = heading, d
		}
	}
	return best, nil
}

// shortestRow is the length, m, below which a line has no direction to go by: a phone's
// fix may be off by 5 m.
const shortestRow = 20

// row is the direction that a feature tells, nil where it tells none, and how far it lies
// from the field, m.
func (s site) row(f geo.Feature) (*float64, float64, error) {
	line, isLine := f.Geometry.(orb.LineString)
	if many, is := f.Geometry.(orb.MultiLineString); is && len(many) == 1 {
		line, isLine = many[0], true
	}
	if !isLine || len(line) < 2 {
		if v, ok := RowsOf(f.Properties); ok {
			return &v, 0, nil
		}
		return nil, 0, nil
	}
	if s.offMap(line) {
		return nil, math.Inf(1), nil
	}
	a, b := s.frame.Forward(line[0]), s.frame.Forward(line[len(line)-1])
	if l := math.Hypot(b[0]-a[0], b[1]-a[1]); l < shortestRow {
		return nil, 0, fmt.Errorf("the ends of the line lie %.3g m apart, which gives no direction of rows: want %d m or more", l, shortestRow)
	}
	heading := math.Mod(math.Atan2(b[0]-a[0], b[1]-a[1])*180/math.Pi+360, 180)
	return &heading, min(geo.DistanceToEdge(s.ground, a), geo.DistanceToEdge(s.ground, b), s.inside(a), s.inside(b)), nil
}

// inside is 0 of a place within the field, else far.
func (s site) inside(p orb.Point) float64 {
	if geo.Contains(s.ground, p) {
		return 0
	}
	return math.Inf(1)
}
