package handoff_test

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Passes go along the rows as they were given: in degrees, by a line, by what plan or the
// boundary says of the field; and by no line of another field.
func TestPassesGoAlongTheRows(t *testing.T) {
	north := orb.LineString{{-101.597, 35.901}, {-101.597, 35.903}}
	east := orb.LineString{{-101.599, 35.902}, {-101.596, 35.902}}
	line := func(l orb.Geometry, of string) geo.Feature {
		f := geo.Feature{Geometry: l}
		if of != "" {
			f.Properties = geo.Properties{{Name: "field", Value: of}}
		}
		return f
	}
	of := func(f geo.Feature, rows any) geo.Feature {
		f.Properties = append(f.Properties, geo.Property{Name: "rows", Value: rows})
		return f
	}
	stop := line(orb.Point{-101.597, 35.901}, "A")
	for _, c := range []struct {
		name  string
		rows  handoff.Rows
		zones any // the property rows of the zones
		want  float64
		by    spray.By
	}{
		{"nothing", handoff.Rows{}, nil, 90, spray.LongestEdge}, // 541 m east, 444 m north
		{"degrees", handoff.Rows{Heading: new(float64)}, 15.0, 0, spray.Rows},
		{"the field", handoff.Rows{}, 15.0, 15, spray.Rows},
		{"the field, as text", handoff.Rows{}, "12.5°", 12.5, spray.Rows},
		{"the field, unreadable", handoff.Rows{}, "north", 90, spray.LongestEdge},
		{"a line", handoff.Rows{Features: []geo.Feature{line(north, "")}}, 15.0, 0, spray.Rows},
		{"a line of one part", handoff.Rows{Features: []geo.Feature{line(orb.MultiLineString{north}, "")}}, nil, 0, spray.Rows},
		{"the line of the field", handoff.Rows{Features: []geo.Feature{line(north, ""), line(east, "A")}}, nil, 90, spray.Rows},
		{"the line of the field, in other letters", handoff.Rows{Features: []geo.Feature{line(north, ""), line(east, " a")}}, nil, 90, spray.Rows},
		{"a line of another field", handoff.Rows{Features: []geo.Feature{line(north, "B")}}, 15.0, 15, spray.Rows},
		{"a line far away", handoff.Rows{Features: []geo.Feature{line(orb.LineString{{-101.5, 35.9}, {-101.5, 35.91}}, "")}}, 15.0, 15, spray.Rows},
		{"stops of plan", handoff.Rows{Features: []geo.Feature{of(stop, 168.0)}}, 15.0, 168, spray.Rows},
		{"stops of plan without rows", handoff.Rows{Features: []geo.Feature{stop}}, 15.0, 15, spray.Rows},
	} {
		field := zones()
		if c.zones != nil {
			for i := range field {
				field[i] = of(field[i], c.zones)
			}
		}
		set := settings()
		set.Spray.Heading, set.Rows = nil, c.rows
		r, err := handoff.Run(field, set)
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.want, r.Jobs[0].Plan.Heading, 0.1, c.name)
		assert.Equal(t, c.by, r.Jobs[0].Plan.By, c.name)
	}
	set := settings()
	set.Rows = handoff.Rows{File: "rows.kml", Features: []geo.Feature{line(orb.LineString{{-101.597, 35.901}, {-101.597, 35.90105}}, "")}}
	_, err := handoff.Run(zones(), set)
	assert.ErrorContains(t, err, "rows.kml: feature 1: the ends of the line lie 5.55 m apart")
}

// Two fields may differ in case alone: each goes by its own rows, and rows that may be of
// both are refused.
func TestRowsAreOfTheFieldThatIsWritten(t *testing.T) {
	called := func(name string) (all []geo.Feature) {
		for _, f := range zones() {
			f.Properties = slices.Clone(f.Properties)
			f.Properties[slices.IndexFunc(f.Properties, func(p geo.Property) bool { return p.Name == "field" })].Value = name
			all = append(all, f)
		}
		return all
	}
	rowsOf := func(name string, degrees float64) geo.Feature {
		return geo.Feature{Geometry: orb.Point{-101.597, 35.901}, Properties: geo.Properties{{Name: "field", Value: name}, {Name: "rows", Value: degrees}}}
	}
	run := func(features ...geo.Feature) (*handoff.Result, error) {
		set := settings()
		set.Spray.Heading, set.Rows = nil, handoff.Rows{File: "rows.csv", Features: features}
		return handoff.Run(slices.Concat(called("Home"), called("HOME"), called("Cre\u0301te")), set)
	}
	r, err := run(rowsOf("HOME", 10), rowsOf("Home", 20), rowsOf(" CR\u00c9TE", 30))
	require.NoError(t, err)
	for _, j := range r.Jobs {
		assert.InDelta(t, map[string]float64{"Home": 20, "HOME": 10, "Cre\u0301te": 30}[j.Field], j.Plan.Heading, 1e-9, j.Field)
	}
	_, err = run(rowsOf("home", 10))
	assert.EqualError(t, err, `--rows: rows.csv: feature 1: field "home" can be "Home", "HOME": write it as the one that is meant`)
}

func TestDirectionsOfRows(t *testing.T) {
	for text, want := range map[string]float64{"12": 12, "12°": 12, " 12.5 ° ": 12.5, "192 deg": 12, "-10": 170, "180": 0, "360°": 0, "0": 0} {
		got, err := handoff.ParseRows(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, text := range []string{"", "north", "361", "-361", "NaN", "Inf", "12m", "1e9"} {
		_, err := handoff.ParseRows(text)
		assert.Error(t, err, text)
	}
}
