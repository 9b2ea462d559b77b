package handoff

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// KeepOff is what one file names as ground never to be sprayed, or never to be
// stopped on.
type KeepOff struct {
	File     string // its name, for messages
	Features []geo.Feature
	Notes    []string // what the reader passed over
	SetBack  float64  // m
	// NoSetBack tells that none was given: points and lines are refused then, as
	// they have no ground of their own.
	NoSetBack bool
}

// A KeepOffError is a file of keep-offs that would not keep off what it names. The
// message says file, place and how to fix it.
type KeepOffError struct{ msg string }

func (e *KeepOffError) Error() string { return e.msg }

func (k KeepOff) refused(format string, args ...any) error {
	return &KeepOffError{k.File + ": " + fmt.Sprintf(format, args...)}
}

// Closed is the ground of a field in degrees that keep-offs close, set-backs
// included, with ground up to a kilometre beyond the field; and notes to be read
// with it. It is refused where [Run] refuses it, with a *[KeepOffError].
func Closed(field geo.Field, files []KeepOff) (closed orb.MultiPolygon, notes []string, err error) {
	s, err := newSite(field.Name, field.Boundary)
	if err != nil {
		return nil, nil, err
	}
	kept, notes, err := keepOffs(files, []site{s})
	if err != nil {
		return nil, nil, err
	}
	var grounds []orb.MultiPolygon
	for _, k := range kept[0] {
		ground, err := k.Ground()
		if err != nil {
			return nil, nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
		}
		grounds = append(grounds, ground)
	}
	if len(grounds) == 0 {
		return nil, notes, nil
	}
	all, err := spray.Together(grounds)
	return s.frame.InversePolygons(all), notes, err
}

// keepOffs gives each field the keep-offs in its reach, in metres of its frame.
// Nothing is left out without a note; a feature without a place and a file of
// which nothing lies in reach of any field are errors.
func keepOffs(files []KeepOff, fields []site) (kept [][]spray.KeepOff, notes []string, err error) {
	kept = make([][]spray.KeepOff, len(fields))
	var lesser []string
	for _, file := range files {
		for _, note := range file.Notes {
			lesser = append(lesser, file.File+": "+note)
		}
		if len(file.Features) == 0 {
			return nil, nil, file.refused("%s", strings.Join(append([]string{"holds nothing to keep off"}, file.Notes...), "; "))
		}
		var far []away
		var closed []string
		near := false
		for i, f := range file.Features {
			parts, isClosed, err := file.parts(i, f)
			if err != nil {
				return nil, nil, err
			}
			if isClosed {
				closed = append(closed, file.label(i))
			}
			hits, beyond := sorted(parts, fields, file.reach())
			for n, hit := range hits {
				if len(hit) > 0 {
					near = true
					kept[n] = append(kept[n], spray.KeepOff{Name: file.name(i), Geometry: hit, SetBack: file.SetBack})
				}
			}
			if len(beyond) > 0 {
				far = append(far, away{name: file.label(i), parts: beyond})
			}
		}
		if len(closed) > 0 {
			lesser = append(lesser, fmt.Sprintf("%s: lines that close keep off the ground inside them too: %s", file.File, listed(closed)))
		}
		switch {
		case !near:
			return nil, nil, file.allFar(far, fields)
		case len(far) > 0:
			notes = append(notes, file.someFar(far, fields))
		}
	}
	return kept, append(notes, lesser...), nil
}

// sorted gives every part, degrees, to the fields in whose reach it lies, in
// metres; beyond are those in reach of none.
func sorted(parts []orb.Geometry, fields []site, reach float64) (hits []orb.Collection, beyond []orb.Geometry) {
	hits = make([]orb.Collection, len(fields))
	for _, part := range parts {
		found := false
		for n, s := range fields {
			if g, ok := s.within(part, reach); ok {
				hits[n], found = append(hits[n], g), true
			}
		}
		if !found {
			beyond = append(beyond, part)
		}
	}
	return hits, beyond
}

// parts are the points, lines and polygons of a feature. A closed line stands for
// the ground inside it too, as an outline of a field would; closed tells of one.
func (k KeepOff) parts(i int, f geo.Feature) (parts []orb.Geometry, closed bool, err error) {
	for _, part := range simple(f.Geometry) {
		_, isPoint := part.(orb.Point)
		line, isLine := part.(orb.LineString)
		ground := enclosed(line)
		if k.NoSetBack && (isPoint || isLine && len(ground) == 0) {
			return nil, false, k.refused("feature %s is a %s, which has no ground of its own: give its set-back, such as --keep-off %s=50m", k.where(i), strings.ToLower(part.GeoJSONType()), k.File)
		}
		if len(ground) > 0 {
			closed = true
			for _, polygon := range ground {
				parts = append(parts, polygon)
			}
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return nil, false, k.refused("feature %s has no place, so nothing would be kept off: give it one, or take it out of the file", k.where(i))
	}
	return parts, closed, nil
}

// simple takes a geometry to its points, lines and polygons; parts without
// vertices are left out.
func simple(g orb.Geometry) (out []orb.Geometry) {
	switch g := g.(type) {
	case orb.Point:
		out = append(out, g)
	case orb.Ring:
		return simple(orb.Polygon{g})
	case orb.Bound:
		out = append(out, g.ToPolygon())
	case orb.MultiPoint:
		for _, p := range g {
			out = append(out, p)
		}
	case orb.MultiLineString:
		for _, line := range g {
			out = append(out, simple(line)...)
		}
	case orb.MultiPolygon:
		for _, polygon := range g {
			out = append(out, simple(polygon)...)
		}
	case orb.Collection:
		for _, part := range g {
			out = append(out, simple(part)...)
		}
	case orb.LineString:
		if len(g) == 1 {
			return []orb.Geometry{g[0]}
		}
		if len(g) > 1 {
			out = append(out, g)
		}
	case orb.Polygon:
		if len(g) > 0 && len(g[0]) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// enclosed is the ground inside a line that closes, by the rule for outlines of
// fields; nil inside any other.
func enclosed(line orb.LineString) orb.MultiPolygon {
	if len(line) == 0 {
		return nil
	}
	fields, _, err := boundary.Fields([]geo.Feature{{Geometry: line}}, boundary.Settings{})
	if err != nil || len(fields) == 0 {
		return nil
	}
	return fields[0].Boundary
}

// name stands for a feature where its file is known.
func (k KeepOff) name(i int) string {
	if name := word(k.Features[i].Properties, "name"); name != "" {
		return name
	}
	if day := recordedDay(k.Features[i]); day != "" {
		return GroundSprayedOn + day
	}
	file := strings.TrimSuffix(k.File, filepath.Ext(k.File))
	if len(k.Features) == 1 {
		return file
	}
	return fmt.Sprintf("%s %d", file, i+1)
}

// where tells a feature by number, name and line.
func (k KeepOff) where(i int) string {
	text := fmt.Sprint(i + 1)
	if name := word(k.Features[i].Properties, "name"); name != "" {
		text += fmt.Sprintf(" (%q)", name)
	}
	if line := k.Features[i].Line; line > 0 {
		text += fmt.Sprintf(" in line %d", line)
	}
	return text
}

// label is a feature's name, else its number.
func (k KeepOff) label(i int) string {
	if name := word(k.Features[i].Properties, "name"); name != "" {
		return fmt.Sprintf("%q", name)
	}
	return fmt.Sprintf("feature %d", i+1)
}
