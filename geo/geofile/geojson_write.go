package geofile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// decimals of a degree that are written: 1e-7° is 11 mm on the ground.
const decimals = 7

// A FeatureCollection is what a GeoJSON file holds. Foreign members stand beside
// the features; a reader may drop them.
type FeatureCollection struct {
	Features []geo.Feature
	Foreign  geo.Properties
}

// WriteGeoJSON writes RFC 7946: seven decimals, outer rings counter-clockwise
// and holes clockwise whichever way they came, a bounding box, no crs, one
// feature to a line. Geometries are the seven of GeoJSON; one that a reader
// would refuse is an error, and so is a property that is not a finite number, a
// text, a truth value or nil, a name that stands twice, or a foreign member with
// a name that GeoJSON keeps for itself. Holes and parts narrower than the last
// decimal are dropped. Nothing is cut at the antimeridian: what crosses it is an
// error.
func WriteGeoJSON(w io.Writer, fc FeatureCollection) error {
	var b bytes.Buffer
	if err := WriteFeatures(&b, slices.Values(fc.Features), fc.Foreign); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// WriteFeatures writes the same of features that are made as they are asked for, which is
// done twice, since the box round all of them stands first; w holds a part of them after
// an error.
func WriteFeatures(w io.Writer, features iter.Seq[geo.Feature], foreign geo.Properties) error {
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection"`)
	bound, any, err := boundOf(features)
	if err != nil {
		return err
	}
	if err := checkNames(foreign, reserved[:]); err != nil {
		return &Error{File: "GeoJSON", Msg: err.Error()}
	}
	if any {
		writeBound(&b, bound)
	}
	for _, p := range foreign {
		b.WriteByte(',')
		if err := writeMember(&b, p); err != nil {
			return err
		}
	}
	b.WriteString(",\"features\":[")
	if err := eachFeature(w, &b, features); err != nil {
		return err
	}
	b.WriteString("\n]}\n")
	_, err = w.Write(b.Bytes())
	return err
}

// WriteFeatureSequence writes a GeoJSON text sequence (RFC 8142 with RFC 7464): each
// feature, as [WriteGeoJSON] writes it, after a record separator and before a line feed.
// Sequences one after the other are one sequence. w holds a part of it after an error.
func WriteFeatureSequence(w io.Writer, features iter.Seq[geo.Feature]) error {
	var b bytes.Buffer
	n := 0
	for f := range features {
		n++
		f, err := writableFeature(f, n)
		if err != nil {
			return err
		}
		b.Reset()
		b.WriteByte(recordSeparator)
		if err := writeFeature(&b, f); err != nil {
			return &Error{File: "GeoJSON", Feature: n, Msg: err.Error()}
		}
		b.WriteByte('\n')
		if _, err := w.Write(b.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// eachFeature writes what b holds and features, of which b keeps the last few.
func eachFeature(w io.Writer, b *bytes.Buffer, features iter.Seq[geo.Feature]) (err error) {
	const atOnce = 64 << 10
	n := 0
	for f := range features {
		if n > 0 {
			b.WriteByte(',')
		}
		n++
		b.WriteByte('\n')
		if f, err = writableFeature(f, n); err != nil {
			return err
		}
		if err := writeFeature(b, f); err != nil {
			return &Error{File: "GeoJSON", Feature: n, Msg: err.Error()}
		}
		if b.Len() < atOnce {
			continue
		}
		if _, err := w.Write(b.Bytes()); err != nil {
			return err
		}
		b.Reset()
	}
	return nil
}

// reserved are names with a meaning in a FeatureCollection, or none that they may
// have there (RFC 7946 §4, §7.1).
var reserved = [...]string{"type", "features", "bbox", "crs", "coordinates", "geometries", "geometry", "properties"}

// checkNames refuses a name that stands twice, which RFC 7493 forbids and many
// readers resolve in silence, and those that are taken.
func checkNames(props geo.Properties, taken []string) error {
	for _, p := range props {
		if slices.Contains(taken, p.Name) {
			return fmt.Errorf("the name %q is one of GeoJSON's own", p.Name)
		}
	}
	if len(props) <= few && distinct(props) {
		return nil
	}
	names := make([]string, len(props))
	for i, p := range props {
		names[i] = p.Name
	}
	slices.Sort(names)
	for i := 1; i < len(names); i++ {
		if names[i] == names[i-1] {
			return fmt.Errorf("the name %q stands twice", names[i])
		}
	}
	return nil
}

// few names are compared with one another, which takes no memory.
const few = 32

func distinct(props geo.Properties) bool {
	for i, p := range props {
		for _, q := range props[:i] {
			if p.Name == q.Name {
				return false
			}
		}
	}
	return true
}

// writableFeature is a copy of the feature of a number, from 1, that has passed the gate.
func writableFeature(f geo.Feature, number int) (geo.Feature, error) {
	if err := checkNames(f.Properties, nil); err != nil {
		return f, &Error{File: "GeoJSON", Feature: number, Msg: err.Error()}
	}
	if f.Geometry == nil {
		return f, nil
	}
	shape, err := writable(f.Geometry)
	if err != nil {
		err.File, err.Feature = "GeoJSON", number
		return f, err
	}
	f.Geometry = shape
	return f, nil
}

// boundOf is the box round all features; any is false where none has a geometry.
func boundOf(features iter.Seq[geo.Feature]) (bound orb.Bound, any bool, err error) {
	n := 0
	for f := range features {
		n++
		if f, err = writableFeature(f, n); err != nil {
			return bound, any, err
		}
		if f.Geometry == nil {
			continue
		}
		if !any {
			bound, any = f.Geometry.Bound(), true
		}
		bound = bound.Union(f.Geometry.Bound())
	}
	return bound, any, nil
}

func writeBound(b *bytes.Buffer, bound orb.Bound) {
	b.WriteString(`,"bbox":[`)
	writePosition(b, bound.Min)
	b.WriteByte(',')
	writePosition(b, bound.Max)
	b.WriteByte(']')
}

func writeFeature(b *bytes.Buffer, f geo.Feature) error {
	b.WriteString(`{"type":"Feature"`)
	if f.ID != "" {
		b.WriteByte(',')
		if err := writeMember(b, geo.Property{Name: "id", Value: f.ID}); err != nil {
			return err
		}
	}
	b.WriteString(`,"properties":{`)
	for i, p := range f.Properties {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := writeMember(b, p); err != nil {
			return err
		}
	}
	b.WriteString(`},"geometry":`)
	writeGeometry(b, f.Geometry)
	b.WriteByte('}')
	return nil
}

func writeMember(b *bytes.Buffer, p geo.Property) error {
	if err := writeValue(b, p.Name); err != nil {
		return err
	}
	b.WriteByte(':')
	if err := writeValue(b, p.Value); err != nil {
		return fmt.Errorf("property %q: %w", p.Name, err)
	}
	return nil
}

// writeValue writes text as it is, not made safe for HTML.
func writeValue(b *bytes.Buffer, v any) error {
	if writePlain(b, v) {
		return nil
	}
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	if err == nil {
		b.Truncate(b.Len() - len("\n"))
	}
	return err
}

// writePlain writes what most values are, as [json.Encoder] does; done is false, and nothing
// is written, where the value is another.
func writePlain(b *bytes.Buffer, v any) (done bool) {
	switch v := v.(type) {
	case string:
		for i := range len(v) {
			if c := v[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
				return false
			}
		}
		b.WriteByte('"')
		b.WriteString(v)
		b.WriteByte('"')
		return true
	case float64:
		if size := math.Abs(v); size != 0 && !(1e-6 <= size && size < 1e21) { // has an exponent, or is none
			return false
		}
		b.Write(strconv.AppendFloat(b.AvailableBuffer(), v, 'f', -1, 64))
		return true
	}
	return false
}

func writeGeometry(b *bytes.Buffer, g orb.Geometry) {
	switch g := g.(type) {
	case nil:
		b.WriteString("null")
	case orb.Point:
		b.WriteString(`{"type":"Point","coordinates":[`)
		writePosition(b, g)
		b.WriteString("]}")
	case orb.MultiPoint:
		b.WriteString(`{"type":"MultiPoint","coordinates":`)
		writeLine(b, g)
		b.WriteByte('}')
	case orb.LineString:
		b.WriteString(`{"type":"LineString","coordinates":`)
		writeLine(b, g)
		b.WriteByte('}')
	case orb.MultiLineString:
		b.WriteString(`{"type":"MultiLineString","coordinates":`)
		writeLines(b, g)
		b.WriteByte('}')
	case orb.Polygon:
		b.WriteString(`{"type":"Polygon","coordinates":`)
		writeLines(b, g)
		b.WriteByte('}')
	case orb.MultiPolygon:
		b.WriteString(`{"type":"MultiPolygon","coordinates":[`)
		for i, p := range g {
			separate(b, i)
			writeLines(b, p)
		}
		b.WriteString("]}")
	case orb.Collection:
		b.WriteString(`{"type":"GeometryCollection","geometries":[`)
		for i, part := range g {
			separate(b, i)
			writeGeometry(b, part)
		}
		b.WriteString("]}")
	}
}

func writeLines[L ~[]orb.Point](b *bytes.Buffer, lines []L) {
	b.WriteByte('[')
	for i, line := range lines {
		separate(b, i)
		writeLine(b, line)
	}
	b.WriteByte(']')
}

func writeLine[L ~[]orb.Point](b *bytes.Buffer, line L) {
	b.WriteByte('[')
	for i, p := range line {
		separate(b, i)
		b.WriteByte('[')
		writePosition(b, p)
		b.WriteByte(']')
	}
	b.WriteByte(']')
}

func separate(b *bytes.Buffer, i int) {
	if i > 0 {
		b.WriteByte(',')
	}
}

func writePosition(b *bytes.Buffer, p orb.Point) {
	b.Write(strconv.AppendFloat(b.AvailableBuffer(), p[0], 'f', -1, 64))
	b.WriteByte(',')
	b.Write(strconv.AppendFloat(b.AvailableBuffer(), p[1], 'f', -1, 64))
}

// rounded is the number nearest to seven decimals, whose shortest form has no
// more; never −0.
func rounded(v float64) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}
