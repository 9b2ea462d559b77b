package geofile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
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
// feature to a line. Geometries are points, lines, polygons, multipolygons and
// collections; one that a reader would refuse is an error, and so is a property
// that is not a finite number, a text, a truth value or nil.
func WriteGeoJSON(w io.Writer, fc FeatureCollection) error {
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection"`)
	if err := writeBound(&b, fc.Features); err != nil {
		return err
	}
	for _, p := range fc.Foreign {
		b.WriteByte(',')
		if err := writeMember(&b, p); err != nil {
			return err
		}
	}
	b.WriteString(",\"features\":[")
	for i, f := range fc.Features {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
		if err := writeFeature(&b, f); err != nil {
			return &Error{File: "GeoJSON", Feature: i + 1, Msg: err.Error()}
		}
	}
	b.WriteString("\n]}\n")
	_, err := w.Write(b.Bytes())
	return err
}

func writeBound(b *bytes.Buffer, features []geo.Feature) error {
	bound, any := orb.Bound{}, false
	for i, f := range features {
		if f.Geometry == nil {
			continue
		}
		if err := checkGeometry(f.Geometry); err != nil {
			err.File, err.Feature = "GeoJSON", i+1
			return err
		}
		if !any {
			bound, any = f.Geometry.Bound(), true
		}
		bound = bound.Union(f.Geometry.Bound())
	}
	if any {
		b.WriteString(`,"bbox":[`)
		writePosition(b, bound.Min)
		b.WriteByte(',')
		writePosition(b, bound.Max)
		b.WriteByte(']')
	}
	return nil
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
	name, err := marshal(p.Name)
	if err != nil {
		return err
	}
	value, err := marshal(p.Value)
	if err != nil {
		return fmt.Errorf("property %q: %w", p.Name, err)
	}
	b.Write(name)
	b.WriteByte(':')
	b.Write(value)
	return nil
}

// marshal writes text as it is, not made safe for HTML.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

func writeGeometry(b *bytes.Buffer, g orb.Geometry) {
	switch g := g.(type) {
	case nil:
		b.WriteString("null")
	case orb.Point:
		b.WriteString(`{"type":"Point","coordinates":[`)
		writePosition(b, g)
		b.WriteString("]}")
	case orb.LineString:
		b.WriteString(`{"type":"LineString","coordinates":`)
		writeLine(b, g)
		b.WriteByte('}')
	case orb.Polygon:
		b.WriteString(`{"type":"Polygon","coordinates":`)
		writePolygon(b, geo.Wind(orb.MultiPolygon{g})[0])
		b.WriteByte('}')
	case orb.MultiPolygon:
		b.WriteString(`{"type":"MultiPolygon","coordinates":[`)
		for i, p := range geo.Wind(g) {
			separate(b, i)
			writePolygon(b, p)
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

func writePolygon(b *bytes.Buffer, p orb.Polygon) {
	b.WriteByte('[')
	for i, r := range p {
		separate(b, i)
		writeLine(b, orb.LineString(r))
	}
	b.WriteByte(']')
}

func writeLine(b *bytes.Buffer, line orb.LineString) {
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
	b.Write(strconv.AppendFloat(b.AvailableBuffer(), rounded(p[0]), 'f', -1, 64))
	b.WriteByte(',')
	b.Write(strconv.AppendFloat(b.AvailableBuffer(), rounded(p[1]), 'f', -1, 64))
}

// rounded is the number nearest to seven decimals, whose shortest form has no
// more; never −0.
func rounded(v float64) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}
