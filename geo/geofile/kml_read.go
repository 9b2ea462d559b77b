package geofile

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// decodeKML reads KML of any version and namespace: placemarks, wherever they
// stand, with points, lines, rings, polygons and collections of them. Names,
// descriptions, when (of a TimeStamp), begin (of a TimeSpan) and extended data
// become properties. Links to other files are noted and not followed.
func decodeKML(data []byte, limits Limits) (Collection, error) {
	k, err := readKML(data, limits, 0)
	if err != nil {
		return Collection{}, err
	}
	for _, href := range k.links {
		k.notes = append(k.notes, fmt.Sprintf("the link to %s was not followed", href))
	}
	return k.collection(), nil
}

func (k *kmlReader) collection() Collection {
	if k.heights > 0 {
		k.notes = append(k.notes, fmt.Sprintf("heights passed over at %d positions", k.heights))
	}
	if k.bare > 0 {
		k.notes = append(k.notes, fmt.Sprintf("%d placemarks have no geometry that can be read", k.bare))
	}
	return Collection{Features: k.features, Notes: k.notes}
}

// kmlReader walks through the elements of one file.
type kmlReader struct {
	*xml.Decoder
	limits   Limits
	features []geo.Feature
	links    []string // of network links
	notes    []string
	vertices int
	heights  int
	bare     int // placemarks without geometry
}

// readKML reads one file; vertices are those read before it.
func readKML(data []byte, limits Limits, vertices int) (*kmlReader, error) {
	k, err := newXMLReader(data, limits)
	if err != nil {
		return nil, err
	}
	k.vertices = vertices
	if err := k.walk(); err != nil {
		return nil, k.located(err, "save it anew as KML")
	}
	return k, nil
}

func newXMLReader(data []byte, limits Limits) (*kmlReader, error) {
	text, err := toUTF8(data)
	if err != nil {
		return nil, err
	}
	k := &kmlReader{Decoder: xml.NewDecoder(bytes.NewReader(text)), limits: limits}
	k.CharsetReader = charsetReader
	k.Entity = xml.HTMLEntity
	return k, nil
}

// located names the line that the reader has come to.
func (k *kmlReader) located(err error, hint string) error {
	var e *Error
	if !errors.As(err, &e) {
		e = &Error{Msg: plain(err), Hint: hint}
	}
	if e.Line == 0 {
		e.Line, _ = k.InputPos()
	}
	return e
}

// refuseDoctype keeps out declarations, which may define entities.
func (k *kmlReader) refuseDoctype(t xml.Token) error {
	if d, ok := t.(xml.Directive); ok && bytes.HasPrefix(bytes.ToUpper(bytes.TrimSpace(d)), []byte("DOCTYPE")) {
		return &Error{Msg: "declares a document type, which no such file needs", Hint: "take the DOCTYPE out"}
	}
	return nil
}

// plain takes the decoder's own line number out of its messages.
func plain(err error) string {
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		return err.Error()
	}
	if syntax.Msg == "unexpected EOF" {
		return breaksOff
	}
	return syntax.Msg
}

func (k *kmlReader) walk() error {
	depth, root := 0, false
	for {
		token, err := k.Token()
		switch {
		case errors.Is(err, io.EOF):
			if !root {
				return &Error{Msg: "holds no kml element"}
			}
			return nil
		case err != nil:
			return err
		}
		if err := k.refuseDoctype(token); err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.CharData:
			if depth == 0 && len(bytes.TrimSpace(t)) > 0 {
				return &Error{Msg: "there is text outside of its elements"}
			}
		case xml.StartElement:
			if depth++; depth > k.limits.Depth {
				return &Error{Msg: fmt.Sprintf("elements nested deeper than %d", k.limits.Depth)}
			}
			if depth == 1 {
				if err := checkRoot(t.Name.Local, root); err != nil {
					return err
				}
				root = true
			}
			taken, err := k.take(t)
			if err != nil {
				return err
			}
			if taken {
				depth--
			}
		case xml.EndElement:
			depth--
		}
	}
}

// checkRoot wants one element at the top, of those that may stand there; the
// schema asks for kml alone.
func checkRoot(name string, second bool) error {
	if second {
		return &Error{Msg: fmt.Sprintf("there is a second <%s> after the end", name)}
	}
	switch name {
	case "kml", "Document", "Folder", "Placemark":
		return nil
	}
	return &Error{Msg: fmt.Sprintf("is no KML: it begins with <%s>", name), Hint: giveFormats}
}

// take reads the elements that matter whole, end tag included.
func (k *kmlReader) take(t xml.StartElement) (taken bool, err error) {
	switch t.Name.Local {
	case "Placemark":
		return true, k.placemark(t)
	case "NetworkLink":
		return true, k.networkLink()
	}
	return false, nil
}

func (k *kmlReader) networkLink() error {
	return k.eachChild(k.limits.Depth, func(c xml.StartElement) error {
		if c.Name.Local != "Link" && c.Name.Local != "Url" {
			return k.Skip()
		}
		return k.eachChild(k.limits.Depth, func(h xml.StartElement) error {
			if h.Name.Local != "href" {
				return k.Skip()
			}
			href, err := k.text()
			k.links = append(k.links, strings.TrimSpace(href))
			return err
		})
	})
}

// eachChild calls read for the start of each child element, which it must read
// to its end.
func (k *kmlReader) eachChild(depth int, read func(xml.StartElement) error) error {
	if depth <= 0 {
		return &Error{Msg: fmt.Sprintf("elements nested deeper than %d", k.limits.Depth)}
	}
	for {
		token, err := k.Token()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			if err := read(t); err != nil {
				return err
			}
		case xml.EndElement:
			return nil
		}
	}
}

// text reads an element's text to its end, elements inside passed over.
func (k *kmlReader) text() (string, error) {
	var b strings.Builder
	for {
		token, err := k.Token()
		if err != nil {
			return "", err
		}
		switch t := token.(type) {
		case xml.CharData:
			b.Write(t)
		case xml.StartElement:
			if err := k.Skip(); err != nil {
				return "", err
			}
		case xml.EndElement:
			return b.String(), nil
		}
	}
}

func (k *kmlReader) placemark(start xml.StartElement) error {
	f := geo.Feature{ID: attribute(start, "id")}
	f.Line, _ = k.InputPos()
	if len(k.features) >= k.limits.Features {
		return &Error{Msg: fmt.Sprintf("more than %d placemarks", k.limits.Features)}
	}
	err := k.eachChild(k.limits.Depth, func(c xml.StartElement) error {
		switch c.Name.Local {
		case "name", "description":
			text, err := k.text()
			f.Properties = append(f.Properties, geo.Property{Name: c.Name.Local, Value: strings.TrimSpace(text)})
			return err
		case "TimeStamp", "TimeSpan":
			return k.times(&f.Properties)
		case "ExtendedData":
			return k.extendedData(&f.Properties)
		}
		g, known, err := k.geometry(c, k.limits.Depth)
		if known && err == nil && f.Geometry != nil {
			err = &Error{Msg: "a Placemark with two geometries", Hint: "put them into one MultiGeometry"}
		}
		if known {
			f.Geometry = g
		}
		return err
	})
	if f.Geometry == nil {
		k.bare++
	}
	k.features = append(k.features, f)
	var e *Error
	if errors.As(err, &e) && e.Feature == 0 {
		e.Feature = len(k.features)
	}
	return err
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// extendedData reads Data with a value and SchemaData with SimpleData. Values
// stay text: KML does not say of what kind they are without its schema.
func (k *kmlReader) extendedData(props *geo.Properties) error {
	return k.eachChild(k.limits.Depth, func(c xml.StartElement) error {
		switch c.Name.Local {
		case "Data":
			name := attribute(c, "name")
			return k.eachChild(k.limits.Depth, func(v xml.StartElement) error {
				if v.Name.Local != "value" {
					return k.Skip()
				}
				return k.property(name, props)
			})
		case "SchemaData":
			return k.eachChild(k.limits.Depth, func(v xml.StartElement) error {
				if v.Name.Local != "SimpleData" {
					return k.Skip()
				}
				return k.property(attribute(v, "name"), props)
			})
		}
		return k.Skip()
	})
}

// times reads when a placemark was, or since when it is.
func (k *kmlReader) times(props *geo.Properties) error {
	return k.eachChild(k.limits.Depth, func(c xml.StartElement) error {
		if c.Name.Local != "when" && c.Name.Local != "begin" {
			return k.Skip()
		}
		return k.property(c.Name.Local, props)
	})
}

func (k *kmlReader) property(name string, props *geo.Properties) error {
	text, err := k.text()
	*props = append(*props, geo.Property{Name: name, Value: strings.TrimSpace(text)})
	return err
}
