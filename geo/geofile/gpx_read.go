package geofile

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

func looksLikeGPX(head []byte) bool {
	return bytes.HasPrefix(head, []byte("<")) && bytes.Contains(head, []byte("<gpx"))
}

// decodeGPX reads GPX 1.0 and 1.1: waypoints as points, each track as a line, or as
// several where it has segments, and each route as a line. Child elements and those of extensions become
// properties by their names without prefix.
func decodeGPX(data []byte, limits Limits) (Collection, error) {
	k, err := newXMLReader(data, limits)
	if err != nil {
		return Collection{}, err
	}
	g := gpxReader{kmlReader: k}
	if err := g.walkGPX(); err != nil {
		return Collection{}, k.located(err, "save it anew as GPX")
	}
	return k.collection(), nil
}

// gpxReader walks through one file; reading text and children is as in KML.
type gpxReader struct {
	*kmlReader
	timed func(line orb.LineString, times []string) // hears each segment of a track; nil for nobody
}

func (g gpxReader) walkGPX() error {
	for {
		token, err := g.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if err := g.refuseDoctype(token); err != nil {
			return err
		}
		t, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch t.Name.Local {
		case "gpx":
		case "wpt":
			err = g.waypoint(t)
		case "trk", "rte":
			err = g.track(t.Name.Local)
		default:
			err = g.Skip()
		}
		if err != nil {
			return err
		}
		if len(g.features) > g.limits.Features {
			return &Error{Msg: fmt.Sprintf("more than %d features", g.limits.Features)}
		}
	}
}

func (g gpxReader) waypoint(t xml.StartElement) error {
	f := geo.Feature{}
	f.Line, _ = g.InputPos()
	p, err := g.position(t)
	if err != nil {
		return err
	}
	f.Geometry = p
	err = g.properties(&f.Properties, g.limits.Depth)
	g.features = append(g.features, f)
	return err
}

func (g gpxReader) position(t xml.StartElement) (orb.Point, error) {
	var p orb.Point
	for axis, name := range []string{"lon", "lat"} {
		text := strings.TrimSpace(attribute(t, name))
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return p, &Error{Msg: fmt.Sprintf("%s %q is no number", name, text), Feature: len(g.features) + 1, Hint: "write degrees with a decimal point, such as 35.9"}
		}
		p[axis] = v
	}
	if g.vertices++; g.vertices > g.limits.Vertices {
		return p, &Error{Msg: fmt.Sprintf("more than %d positions", g.limits.Vertices)}
	}
	if err := checkPosition(p); err != nil {
		err.Feature = len(g.features) + 1
		return p, err
	}
	return p, nil
}

// properties reads child elements; those that hold elements themselves, as
// extensions do, are looked into.
func (g gpxReader) properties(props *geo.Properties, depth int) error {
	return g.eachChild(depth, func(c xml.StartElement) error {
		return g.element(c.Name.Local, props, depth-1)
	})
}

func (g gpxReader) element(name string, props *geo.Properties, depth int) error {
	if depth <= 0 {
		return &Error{Msg: fmt.Sprintf("elements nested deeper than %d", g.limits.Depth)}
	}
	var text strings.Builder
	leaf := true
	for {
		token, err := g.Token()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.CharData:
			text.Write(t)
		case xml.StartElement:
			leaf = false
			if err := g.element(t.Name.Local, props, depth-1); err != nil {
				return err
			}
		case xml.EndElement:
			if leaf && name != "extensions" {
				*props = append(*props, geo.Property{Name: name, Value: strings.TrimSpace(text.String())})
			}
			return nil
		}
	}
}

// track reads a track, whose segments with positions are its lines, or a route.
func (g gpxReader) track(kind string) error {
	f := geo.Feature{}
	f.Line, _ = g.InputPos()
	var lines []orb.LineString
	var route orb.LineString
	err := g.eachChild(g.limits.Depth, func(c xml.StartElement) error {
		switch c.Name.Local {
		case "trkseg":
			line, err := g.segment()
			if len(line) > 0 {
				lines = append(lines, line)
			}
			return err
		case "rtept":
			p, err := g.position(c)
			route = append(route, p)
			if err != nil {
				return err
			}
			return g.Skip()
		}
		return g.element(c.Name.Local, &f.Properties, g.limits.Depth-1)
	})
	switch {
	case kind == "rte":
		f.Geometry = route
	case len(lines) > 1:
		f.Geometry = orb.MultiLineString(lines)
	case len(lines) == 1:
		f.Geometry = lines[0]
	default:
		f.Geometry = orb.LineString(nil)
	}
	g.features = append(g.features, f)
	return err
}

func (g gpxReader) segment() (orb.LineString, error) {
	var line orb.LineString
	var times []string
	err := g.eachChild(g.limits.Depth, func(c xml.StartElement) error {
		if c.Name.Local != "trkpt" {
			return g.Skip()
		}
		p, err := g.position(c)
		if err != nil {
			return err
		}
		line = append(line, p)
		if g.timed == nil {
			return g.Skip()
		}
		at, err := g.moment()
		times = append(times, at)
		return err
	})
	if g.timed != nil && err == nil {
		g.timed(line, times)
	}
	return line, err
}
