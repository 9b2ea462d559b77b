package call

import (
	"context"

	"github.com/geocoris/geocoris/internal/engine"
)

// fieldFacts are a field for a page to draw.
type fieldFacts struct {
	Name     string     `json:"name"`
	Area     float64    `json:"area_ha"`
	Boundary geometry   `json:"boundary"`
	Bounds   [4]float64 `json:"bounds"` // west, south, east, north
}

// geometry is one of GeoJSON.
type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

type fieldsFacts struct {
	Fields []fieldFacts `json:"fields"`
	Notes  []string     `json:"notes"`
	Radius float64      `json:"radius_m,omitempty"`
}

func fieldsOf(o engine.FieldsOutcome) fieldsFacts {
	out := fieldsFacts{Fields: []fieldFacts{}, Notes: some(o.Notes)}
	for _, f := range o.Fields {
		b := f.Boundary.Bound()
		out.Fields = append(out.Fields, fieldFacts{
			Name: f.Name, Area: rounded(f.Area/squareMetres, 1e4), Boundary: geometry{"MultiPolygon", f.Boundary},
			Bounds: [4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]},
		})
	}
	return out
}

func fields(_ context.Context, r request) (any, []engine.File, error) {
	var o struct {
		NameProperty string       `json:"name-property"`
		Inner        engine.Inner `json:"inner"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	from, err := r.one(Boundary)
	if err != nil {
		return nil, nil, err
	}
	made, err := engine.Fields(engine.FieldsRequest{Boundary: from, NameProperty: o.NameProperty, Inner: o.Inner})
	if err != nil {
		return nil, nil, err
	}
	return fieldsOf(*made), made.Files, nil
}

func draw(_ context.Context, r request) (any, []engine.File, error) {
	var o struct {
		Name    string       `json:"name"`
		Corners [][2]float64 `json:"corners"`
		Centre  *[2]float64  `json:"centre"`
		Edge    *[2]float64  `json:"edge"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	made, err := engine.Draw(engine.DrawRequest{Name: o.Name, Corners: o.Corners, Centre: o.Centre, Edge: o.Edge})
	if err != nil {
		return nil, nil, err
	}
	facts := fieldsOf(made.FieldsOutcome)
	facts.Radius = rounded(made.Radius, 10)
	return facts, made.Files, nil
}
