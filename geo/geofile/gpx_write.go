package geofile

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"

	"github.com/paulmach/orb"
)

// A Route is what a GPX file holds: points to visit in their order, and outlines
// to see where one is. Geometries of the points are points; styles and data are
// left out.
type Route struct {
	Name        string
	Description string
	Points      []Placemark
	Ways        []Way       // further routes, each with the waypoints of its own
	Outlines    []Placemark // polygons and multipolygons; each ring becomes a track
}

// A Way is points to visit in their order, and what they are called together.
type Way struct {
	Name        string
	Description string
	Points      []Placemark
}

// WriteGPX writes GPX 1.1: a waypoint for each point and a route through them
// under the same names, since many receivers limit the points of a route; seven
// decimals. What is no point, or no polygon, is an error.
func WriteGPX(w io.Writer, r Route) error {
	file := gpxFile{Version: "1.1", Creator: "geocoris", Namespace: "http://www.topografix.com/GPX/1/1"}
	file.Metadata = gpxHead{r.Name, r.Description}
	for _, way := range append([]Way{{Name: r.Name, Points: r.Points}}, r.Ways...) {
		if err := file.add(way); err != nil {
			return err
		}
	}
	for _, o := range r.Outlines {
		tracks, err := gpxTracks(o)
		if err != nil {
			return err
		}
		file.Tracks = append(file.Tracks, tracks...)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(file); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

// add puts a way into the file, as waypoints and as a route.
func (file *gpxFile) add(way Way) error {
	route := gpxRoute{Name: way.Name, Description: way.Description}
	for _, p := range way.Points {
		at, ok := p.Geometry.(orb.Point)
		if !ok {
			return &Error{Msg: fmt.Sprintf("%s: a %T is no point to visit", p.Name, p.Geometry)}
		}
		if err := checkPosition(at); err != nil {
			return err
		}
		point := gpxPointAt(at)
		point.Name, point.Description, point.Symbol = p.Name, p.Description, "Waypoint"
		file.Waypoints = append(file.Waypoints, point)
		point.Symbol = ""
		route.Points = append(route.Points, point)
	}
	if len(route.Points) > 0 {
		file.Routes = append(file.Routes, route)
	}
	return nil
}

// Elements stand in the order that the schema asks for.
type gpxFile struct {
	XMLName   xml.Name   `xml:"gpx"`
	Namespace string     `xml:"xmlns,attr"`
	Version   string     `xml:"version,attr"`
	Creator   string     `xml:"creator,attr"`
	Metadata  gpxHead    `xml:"metadata"`
	Waypoints []gpxPoint `xml:"wpt"`
	Routes    []gpxRoute `xml:"rte"`
	Tracks    []gpxTrack `xml:"trk"`
}

type gpxHead struct {
	Name        string `xml:"name,omitempty"`
	Description string `xml:"desc,omitempty"`
}

type gpxPoint struct {
	Latitude    string `xml:"lat,attr"`
	Longitude   string `xml:"lon,attr"`
	Name        string `xml:"name,omitempty"`
	Description string `xml:"desc,omitempty"`
	Symbol      string `xml:"sym,omitempty"`
}

type gpxRoute struct {
	Name        string     `xml:"name,omitempty"`
	Description string     `xml:"desc,omitempty"`
	Points      []gpxPoint `xml:"rtept"`
}

type gpxTrack struct {
	Name   string     `xml:"name,omitempty"`
	Points []gpxPoint `xml:"trkseg>trkpt"`
}

// gpxPointAt writes a position without exponents. Longitude 180 is −180 there.
func gpxPointAt(p orb.Point) gpxPoint {
	lon := strconv.FormatFloat(p[0], 'f', 7, 64)
	if lon == "180.0000000" {
		lon = "-180.0000000"
	}
	return gpxPoint{Latitude: strconv.FormatFloat(p[1], 'f', 7, 64), Longitude: lon}
}

func gpxTracks(o Placemark) (tracks []gpxTrack, err error) {
	var polygons orb.MultiPolygon
	switch g := o.Geometry.(type) {
	case orb.Polygon:
		polygons = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		polygons = g
	default:
		return nil, &Error{Msg: fmt.Sprintf("%s: a %T is no outline", o.Name, g)}
	}
	for _, polygon := range polygons {
		if err := checkPolygon(polygon); err != nil {
			return nil, err
		}
		for _, ring := range polygon {
			track := gpxTrack{Name: o.Name}
			for _, p := range ring {
				track.Points = append(track.Points, gpxPointAt(p))
			}
			tracks = append(tracks, track)
		}
	}
	return tracks, nil
}
