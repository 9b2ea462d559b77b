package geofile

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

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
	text, note := lettersOf(text)
	g := newGeoJSON(text, limits)
	g.note(note)
	if looksLikeSequence(text) {
		return g.sequence()
	}
	root, err := readJSON(text, limits)
	if err != nil {
		return Collection{}, err
	}
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
	return &geoJSON{text: text, lines: lineCounter{text: text}, limits: limits}
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
		return g.at(root, 0, &Error{Msg: "is JSON but no GeoJSON: it does not begin with an object", Hint: giveFormats})
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
	case "Topology":
		return g.at(root, 0, &Error{Msg: "is TopoJSON, which is not read", Hint: giveFormats})
	default:
		if kind == "" && !o.has("type", "coordinates", "geometry") {
			return g.at(root, 0, &Error{Msg: "is JSON but no GeoJSON: " + o.members(), Hint: giveFormats})
		}
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
	if err == nil && inner.system != nil {
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
	r, err := systemNamed(name)
	if err != nil {
		return err
	}
	g.system = r.system
	g.note(fmt.Sprintf("read in %s, which its old member crs names", name))
	g.note(r.note)
	return nil
}

// note keeps a line once, as each record of a sequence may name its system.
func (g *geoJSON) note(line string) {
	if line != "" && !slices.Contains(g.notes, line) {
		g.notes = append(g.notes, line)
	}
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

// number keeps whole numbers whole: those of more digits than a machine's number has are
// names, and stay as they are written.
func number(n json.Number) any {
	if i, err := n.Int64(); err == nil {
		return i
	}
	if isWhole(n.String()) {
		return n.String()
	}
	if f, err := n.Float64(); err == nil {
		return f
	}
	return n.String()
}
