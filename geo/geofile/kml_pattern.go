//go:build !small

package geofile

import (
	"bytes"
	"encoding/xml"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// patterns fill in points within elements of a depth that differ in their values alone: a tree
// of the library's elements for each, gone through token by token, takes ten times as long.
type patterns struct {
	depth int
	known []pattern
}

// A pattern is a point as the library writes it, cut where its values stand once another is
// like it.
type pattern struct {
	of     Placemark // that came first
	again  bool
	pieces []string // the last two round the position; nil where it cannot be cut
}

const (
	// slot stands in the place of a value; no character is assigned to it.
	slot = "\uE000"
	// origin is the position that stands in the place of others.
	origin = "0,0"
	// mostPatterns is more than there are kinds of points in a folder.
	mostPatterns = 8
)

// fill writes a placemark on lines of its own, the first of which it begins; done is false,
// and nothing is written, where the library has to write it.
func (s *patterns) fill(to *bytes.Buffer, mark placed) (done bool, err error) {
	p := mark.styled()
	at, is := p.Geometry.(orb.Point)
	if !is || !p.Begin.IsZero() || !p.End.IsZero() {
		return false, nil
	}
	pieces, err := s.cut(p)
	if pieces == nil || err != nil {
		return false, err
	}
	shape, bad := writable(at)
	if bad != nil {
		return false, mark.located(bad)
	}
	fillIn(to, pieces, p, shape.(orb.Point))
	return true, nil
}

// cut is the pattern of a point that is like one before, nil where there is none.
func (s *patterns) cut(p Placemark) (pieces []string, err error) {
	for i := range s.known {
		like := &s.known[i]
		if !like.fits(p) {
			continue
		}
		if !like.again {
			like.again = true
			like.pieces, err = s.newPieces(p)
		}
		return like.pieces, err
	}
	if len(s.known) < mostPatterns {
		s.known = append(s.known, pattern{of: p})
	}
	return nil, nil
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
	element, bad := placemark(model)
	if bad != nil {
		return nil, bad
	}
	text := bytes.NewBufferString("\n")
	e := xml.NewEncoder(text)
	e.Indent(strings.Repeat(indent, s.depth), indent)
	if err := e.Encode(element); err != nil {
		return nil, err
	}
	pieces := strings.Split(text.String(), slot)
	before, after, _ := strings.Cut(pieces[len(pieces)-1], origin)
	if len(pieces) != values+1 {
		return nil, nil
	}
	return append(pieces[:values], before, after), nil
}

// fillIn writes the pieces with the values of a placemark between them, in the order in which
// [placemark] has them.
func fillIn(to *bytes.Buffer, pieces []string, p Placemark, at orb.Point) {
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
