package geofile

import (
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo"
)

// decodeGeoJSON reads RFC 7946, and what its forerunner of 2008 allowed besides:
// a feature or geometry by itself, a crs member naming WGS 84 or a UTM zone on
// it; also texts one to a line or in a sequence (RFC 8142). A third number of a
// position is passed over.
func decodeGeoJSON(data []byte, limits Limits) (Collection, error) {
	text, err := toUTF8(data)
	if err != nil {
		return Collection{}, err
	}
	if looksLikeSequence(text) {
		return decodeSequence(text, limits)
	}
	root, err := readJSON(text, limits)
	if err != nil {
		return Collection{}, err
	}
	g := newGeoJSON(text, limits)
	if err := g.collect(root); err != nil {
		return Collection{}, err
	}
	return Collection{Features: g.features, Notes: g.summary()}, nil
}

func (g *geoJSON) summary() []string {
	if g.heights > 0 {
		g.notes = append(g.notes, fmt.Sprintf("heights passed over at %d positions", g.heights))
	}
	if g.bare > 0 {
		g.notes = append(g.notes, fmt.Sprintf("%d features have no geometry", g.bare))
	}
	return g.notes
}

func newGeoJSON(text []byte, limits Limits) *geoJSON {
	g := &geoJSON{text: text, lines: lineCounter{text: text}, limits: limits}
	if !utf8.Valid(text) {
		g.notes = append(g.notes, "is not in UTF-8: letters that cannot be read stand as \uFFFD")
	}
	return g
}

func tooManyFeatures(l Limits) *Error {
	return &Error{Msg: fmt.Sprintf("more than %d features", l.Features)}
}

// geoJSON turns JSON values into features.
type geoJSON struct {
	text     []byte
	lines    lineCounter
	limits   Limits
	features []geo.Feature
	notes    []string
	system   system
	vertices int
	heights  int
	bare     int // features without geometry
}

// at names the line of a value in an error.
func (g *geoJSON) at(n node, feature int, err error) error {
	var e *Error
	if !errors.As(err, &e) {
		e = &Error{Msg: err.Error()}
	}
	if e.Line == 0 {
		e.Line = lineAt(g.text, n.from)
	}
	if e.Feature == 0 {
		e.Feature = feature
	}
	return e
}

func (g *geoJSON) collect(root node) error {
	o, ok := root.value.(object)
	if !ok {
		return g.at(root, 0, &Error{Msg: "is no GeoJSON: it does not begin with an object"})
	}
	if err := g.checkCRS(o); err != nil {
		return g.at(root, 0, err)
	}
	switch kind := o.text("type"); kind {
	case "FeatureCollection":
		list, _ := o.get("features")
		items, ok := list.value.([]node)
		if !ok {
			return g.at(root, 0, &Error{Msg: "a FeatureCollection without a list of features"})
		}
		if len(items) > g.limits.Features {
			return tooManyFeatures(g.limits)
		}
		for i, item := range items {
			if err := g.feature(item); err != nil {
				return g.at(item, i+1, err)
			}
		}
		return nil
	case "Feature":
		return g.atOr(root, g.feature(root))
	default:
		geometry, err := g.shape(o)
		g.features = append(g.features, geo.Feature{Geometry: geometry, Line: g.lines.at(root.from)})
		return g.atOr(root, err)
	}
}

func (g *geoJSON) atOr(n node, err error) error {
	if err == nil {
		return nil
	}
	return g.at(n, 1, err)
}

// checkInnerCRS lets pass the crs member of a feature or geometry only where it
// changes nothing.
func (g *geoJSON) checkInnerCRS(o object) error {
	n, found := o.get("crs")
	if !found || n.value == nil || g.system != nil {
		return nil
	}
	inner, err := systemNamed(crsName(n))
	if err == nil && inner != nil {
		err = &Error{Msg: fmt.Sprintf("a crs member of its own, %s", crsName(n)), Hint: "name the system once, at the top of the file"}
	}
	return err
}

// crsName is what a crs member names.
func crsName(n node) string {
	crs, _ := n.value.(object)
	p, _ := crs.get("properties")
	props, _ := p.value.(object)
	for _, name := range []string{props.text("name"), props.text("href")} {
		if name != "" {
			return name
		}
	}
	return "a system without a name"
}

// checkCRS reads the old crs member: what it names is taken to degrees, or
// refused.
func (g *geoJSON) checkCRS(o object) error {
	n, found := o.get("crs")
	if !found || n.value == nil {
		return nil
	}
	name := crsName(n)
	var err error
	if g.system, err = systemNamed(name); err == nil {
		g.notes = append(g.notes, fmt.Sprintf("read in %s, which its old member crs names", name))
	}
	return err
}

func (g *geoJSON) feature(n node) error {
	o, ok := n.value.(object)
	if !ok || o.text("type") != "Feature" {
		return &Error{Msg: "is no feature: want an object of type Feature"}
	}
	f := geo.Feature{Line: g.lines.at(n.from)}
	switch id, _ := o.get("id"); v := id.value.(type) {
	case nil:
	case string:
		f.ID = v
	case json.Number:
		f.ID = v.String()
	default:
		return &Error{Msg: "its id is neither text nor a number"}
	}
	if err := g.checkInnerCRS(o); err != nil {
		return err
	}
	if p, ok := o.get("properties"); ok {
		props, ok := p.value.(object)
		if !ok && p.value != nil {
			return &Error{Msg: "its properties are no object"}
		}
		f.Properties = g.properties(props)
	}
	if geometry, ok := o.get("geometry"); ok && geometry.value != nil {
		shape, ok := geometry.value.(object)
		if !ok {
			return &Error{Msg: "its geometry is no object"}
		}
		var err error
		if f.Geometry, err = g.shape(shape); err != nil {
			return g.at(geometry, 0, err)
		}
	} else {
		g.bare++
	}
	g.features = append(g.features, f)
	return nil
}

func (g *geoJSON) properties(o object) geo.Properties {
	var props geo.Properties
	for _, m := range o {
		var v any
		switch value := m.value.value.(type) {
		case json.Number:
			v = number(value)
		case object, []node, numbers:
			v = string(g.text[m.value.from:m.value.to])
		default:
			v = value
		}
		props = append(props, geo.Property{Name: m.key, Value: v})
	}
	return props
}

// number keeps whole numbers whole.
func number(n json.Number) any {
	if i, err := n.Int64(); err == nil {
		return i
	}
	if f, err := n.Float64(); err == nil {
		return f
	}
	return n.String()
}
