//go:build !small

package geofile

import (
	"bytes"
	"encoding/xml"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// patterns write placemarks within elements of a depth. Points that differ in their values
// alone are written by the library once, and then filled in: a tree of elements for each,
// gone through token by token, takes many times as long.
type patterns struct {
	depth int
	known []pattern
}

// A pattern is a placemark of a point as the library writes it, cut where its values stand.
type pattern struct {
	of     Placemark // has the values that others may have in their place
	pieces []string  // the last two round the position; nil where it cannot be cut
}

const (
	// slot stands in the place of a value; no character is assigned to it.
	slot = "\uE000"
	// origin is the position that stands in the place of others.
	origin = "0,0"
	// mostPatterns is more than there are kinds of points in a folder.
	mostPatterns = 8
)

// write writes a placemark on lines of its own, the first of which it begins.
func (s *patterns) write(to *bytes.Buffer, mark placed) error {
	p := mark.styled()
	if at, is := p.Geometry.(orb.Point); is {
		shape, err := writable(at)
		if err != nil {
			return mark.located(err)
		}
		pieces, other := s.cut(p)
		if other != nil {
			return other
		}
		if pieces != nil {
			fill(to, pieces, p, shape.(orb.Point))
			return nil
		}
	}
	return s.inFull(to, mark)
}

// inFull is write by the library alone.
func (s *patterns) inFull(to *bytes.Buffer, mark placed) error {
	to.WriteByte('\n')
	e := xml.NewEncoder(to)
	e.Indent(strings.Repeat(indent, s.depth), indent)
	if err := mark.MarshalXML(e, xml.StartElement{}); err != nil {
		return err
	}
	return e.Close()
}

// cut is the pattern of a point, nil where there is none.
func (s *patterns) cut(p Placemark) ([]string, error) {
	if !p.Begin.IsZero() || !p.End.IsZero() {
		return nil, nil
	}
	for i := range s.known {
		if s.known[i].fits(p) {
			return s.known[i].pieces, nil
		}
	}
	if len(s.known) == mostPatterns {
		return nil, nil
	}
	pieces, err := s.newPieces(p)
	s.known = append(s.known, pattern{p, pieces})
	return pieces, err
}

// fits reports whether a placemark differs in values alone.
func (f *pattern) fits(p Placemark) bool {
	if p.Hidden != f.of.Hidden || (p.Description == "") != (f.of.Description == "") ||
		(p.Style == "") != (f.of.Style == "") || len(p.Data) != len(f.of.Data) {
		return false
	}
	for i, d := range p.Data {
		if d.Name != f.of.Data[i].Name {
			return false
		}
	}
	return true
}

// newPieces are nil where what is no value holds what stands for one.
func (s *patterns) newPieces(p Placemark) ([]string, error) {
	model, values := Placemark{Name: slot, Hidden: p.Hidden, Geometry: orb.Point{}}, 1
	if p.Description != "" {
		model.Description, values = slot, values+1
	}
	if p.Style != "" {
		model.Style, values = slot, values+1
	}
	for _, d := range p.Data {
		model.Data, values = append(model.Data, geo.Property{Name: d.Name, Value: slot}), values+1
	}
	var text bytes.Buffer
	if err := s.inFull(&text, placed{mark: model, known: map[string]bool{slot: true}}); err != nil {
		return nil, err
	}
	pieces := strings.Split(text.String(), slot)
	before, after, _ := strings.Cut(pieces[len(pieces)-1], origin)
	if len(pieces) != values+1 {
		return nil, nil
	}
	return append(pieces[:values], before, after), nil
}

// fill writes the pieces with the values of a placemark between them, in the order in which
// [placemark] has them.
func fill(to *bytes.Buffer, pieces []string, p Placemark, at orb.Point) {
	next := func() {
		to.WriteString(pieces[0])
		pieces = pieces[1:]
	}
	next()
	escape(to, p.Name)
	if p.Description != "" {
		next()
		escape(to, forViewers(p.Description))
	}
	if p.Style != "" {
		next()
		escape(to, p.Style)
	}
	for _, d := range p.Data {
		next()
		escape(to, valueText(d.Value))
	}
	next()
	writePosition(to, at)
	next()
}

// escape writes text as [xml.Encoder] does between elements: line ends stay.
func escape(to *bytes.Buffer, text string) {
	if needsNoEscape(text) {
		to.WriteString(text)
		return
	}
	for i, line := range strings.Split(text, "\n") {
		if i > 0 {
			to.WriteByte('\n')
		}
		_ = xml.EscapeText(to, []byte(line)) // a buffer takes all
	}
}

// needsNoEscape says so of what most values are.
func needsNoEscape(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '"' || c == '\'' || c == '&' || c == '<' || c == '>' {
			return false
		}
	}
	return true
}
