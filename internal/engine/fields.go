package engine

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// A FieldsRequest asks what a boundary holds.
type FieldsRequest struct {
	Boundary     Source
	NameProperty string
	Inner        Inner
}

// FieldsOutcome is fields, and a file of them that is read as their boundary.
type FieldsOutcome struct {
	Fields []FieldFacts
	Notes  []string // on the boundary, those that are to be looked at last
	Files  []File
}

// FieldFacts are a field and its area in m².
type FieldFacts struct {
	geo.Field
	Area float64
}

// Fields reads a boundary.
func Fields(q FieldsRequest) (*FieldsOutcome, error) {
	g, err := Outlines(q.Boundary, q.NameProperty, q.Inner)
	if err != nil {
		return nil, err
	}
	out := &FieldsOutcome{Notes: slices.Concat(g.Notes, g.Warnings)}
	for _, f := range g.Fields {
		frame, err := geo.FrameOf(f.Boundary)
		if err != nil {
			return nil, fmt.Errorf("field %q: %w", f.Name, err)
		}
		out.Fields = append(out.Fields, FieldFacts{f, geo.Area(frame.ForwardPolygons(f.Boundary))})
	}
	out.Files, err = render([]rendering{{"field.geojson", collection(featuresOf(g.Fields))}})
	return out, err
}

// FieldFile is a field as a boundary of its own.
func FieldFile(f geo.Field) (File, error) {
	files, err := render([]rendering{{"field.geojson", collection(featuresOf([]geo.Field{f}))}})
	if err != nil {
		return File{}, err
	}
	return files[0], nil
}

// A DrawRequest is a field made where somebody stands: by its corners, or a circle by its
// centre and a place on its edge. Places are longitude and latitude.
type DrawRequest struct {
	Name         string
	Corners      [][2]float64
	Centre, Edge *[2]float64
}

// A DrawOutcome is the field that was made.
type DrawOutcome struct {
	FieldsOutcome
	Radius float64 // metres of a circle; 0 of other fields
}

// Draw makes a field. Edges that cross are mended as those of a file are, and it is said.
func Draw(q DrawRequest) (*DrawOutcome, error) {
	out := &DrawOutcome{}
	corners := q.Corners
	for _, p := range slices.Concat(corners, placesOf(q.Centre, q.Edge)) {
		if !(math.Abs(p[0]) <= 180 && math.Abs(p[1]) < 90) {
			return nil, fmt.Errorf("corner %v, %v: want longitude and latitude in degrees", p[0], p[1])
		}
	}
	switch {
	case q.Centre != nil && q.Edge != nil && len(corners) == 0:
		var err error
		if corners, out.Radius, err = circle(*q.Centre, *q.Edge); err != nil {
			return nil, err
		}
	case q.Centre != nil || q.Edge != nil:
		return nil, errors.New("a circle wants its centre and one place on its edge, and no corners")
	case len(corners) < 3:
		return nil, hinted(fmt.Errorf("%d corners make no field", len(corners)), "walk on and tap at least three")
	}
	boundary, err := drawn(q.Name, corners)
	if err != nil {
		return nil, err
	}
	made, err := Fields(FieldsRequest{Boundary: boundary})
	if err != nil {
		return nil, err
	}
	out.FieldsOutcome = *made
	return out, nil
}

func placesOf(all ...*[2]float64) (places [][2]float64) {
	for _, p := range all {
		if p != nil {
			places = append(places, *p)
		}
	}
	return places
}

// drawn is a boundary of one outline with a name.
func drawn(name string, corners [][2]float64) (Source, error) {
	ring := slices.Concat(corners, corners[:1])
	text, err := json.Marshal(map[string]any{
		"type": "Feature", "properties": map[string]string{"name": name},
		"geometry": map[string]any{"type": "Polygon", "coordinates": [][][2]float64{ring}},
	})
	return Source{Name: "field.geojson", Content: text}, err
}

// A circle is drawn by so many corners, which enclose as much ground as it does.
const (
	circleCorners             = 96
	leastRadius, mostRadius   = 5.0, 2000.0 // metres: our choice
	nearby, decimalsOfDegrees = 1e-4, 1e7
)

// circle is one round a centre through a place on its edge: corners in degrees, and the
// radius in metres.
func circle(centre, edge [2]float64) (corners [][2]float64, radius float64, err error) {
	box, err := drawn("", [][2]float64{
		{centre[0] - nearby, centre[1] - nearby}, {centre[0] + nearby, centre[1] - nearby}, {centre[0] + nearby, centre[1] + nearby}, {centre[0] - nearby, centre[1] + nearby}})
	if err != nil {
		return nil, 0, err
	}
	g, err := Outlines(box, "", "")
	if err != nil {
		return nil, 0, err
	}
	frame, err := geo.FrameOf(g.Fields[0].Boundary)
	if err != nil {
		return nil, 0, err
	}
	c, e := frame.Forward(centre), frame.Forward(edge)
	radius = math.Hypot(e[0]-c[0], e[1]-c[1])
	if !(radius >= leastRadius && radius <= mostRadius) {
		return nil, 0, hinted(fmt.Errorf("the edge is %.0f m from the centre: want %.0f to %.0f m", radius, leastRadius, mostRadius), "take the centre at the pivot point and the other place at the end of its track")
	}
	const turn = 2 * math.Pi / circleCorners
	reach := radius * math.Sqrt(turn/math.Sin(turn)) // of the corners
	for i := range circleCorners {
		sin, cos := math.Sincos(float64(i) * turn)
		p := frame.Inverse([2]float64{c[0] + reach*cos, c[1] + reach*sin})
		corners = append(corners, [2]float64{math.Round(p[0]*decimalsOfDegrees) / decimalsOfDegrees, math.Round(p[1]*decimalsOfDegrees) / decimalsOfDegrees})
	}
	return corners, radius, nil
}
