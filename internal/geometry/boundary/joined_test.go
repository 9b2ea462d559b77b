package boundary_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// way is a line in metres, as degrees.
func way(t *testing.T, xy ...orb.Point) orb.LineString {
	var line orb.LineString
	for _, p := range xy {
		line = append(line, plane(t).Inverse(p))
	}
	return line
}

// A walk in parts is one outline where the ends of its parts meet, in whichever order and
// direction they come.
func TestPartsOfAWalkAreJoined(t *testing.T) {
	south, east := way(t, orb.Point{0, 0}, orb.Point{400, 0}), way(t, orb.Point{400, 0}, orb.Point{400, 400})
	round := way(t, orb.Point{400, 410}, orb.Point{0, 400}, orb.Point{0, 5})
	back := way(t, orb.Point{0, 5}, orb.Point{0, 400}, orb.Point{400, 410})
	pause := way(t, orb.Point{400, 402}, orb.Point{401, 404}, orb.Point{399, 404}, orb.Point{400, 403}) // stands still
	square := orb.LineString(patch(t, 600, 0, 700, 100)[0])
	beside := orb.LineString(patch(t, 400, 0, 500, 100)[0]) // begins where another part ends
	for name, c := range map[string]struct {
		geometry orb.Geometry
		areas    map[string]float64
	}{
		"in order":          {orb.MultiLineString{south, east, round}, map[string]float64{"field": 162000}},
		"in another":        {orb.MultiLineString{round, south, east}, map[string]float64{"field": 162000}},
		"one backward":      {orb.MultiLineString{south, back, east}, map[string]float64{"field": 162000}},
		"a collection":      {orb.Collection{south, east, round}, map[string]float64{"field": 162000}},
		"with an empty one": {orb.MultiLineString{south, {}, east, round}, map[string]float64{"field": 162000}},
		"with a pause":      {orb.MultiLineString{south, east, pause, round}, map[string]float64{"field": 162000}},
		"beside a whole":    {orb.MultiLineString{square, south, east, round}, map[string]float64{"field": 172000}},
		"a whole at an end": {orb.MultiLineString{south, beside, east, round}, map[string]float64{"field": 172000}},
	} {
		t.Run(name, func(t *testing.T) {
			fields, _, err := boundary.Fields([]geo.Feature{feature(c.geometry)}, boundary.Settings{})
			require.NoError(t, err)
			for field, want := range c.areas {
				assert.InDelta(t, want, areas(t, fields)[field], 15, "%v", areas(t, fields))
			}
			assert.Len(t, fields, len(c.areas))
		})
	}
}

// What does not meet, to the gap that an outline may have, is said with its width.
func TestGapsAreSaid(t *testing.T) {
	open := func(wide float64) orb.LineString {
		return way(t, orb.Point{0, 0}, orb.Point{400, 0}, orb.Point{400, 400}, orb.Point{0, 400}, orb.Point{0, wide})
	}
	_, err := boundary.Read([]geo.Feature{feature(open(42))}, boundary.Settings{})
	assert.EqualError(t, err, "no closed outline, found 1 × open line; its ends are 42.0 m apart, and at most 15 m are closed; end the line where it began")
	_, err = boundary.Read([]geo.Feature{feature(open(42)), feature(open(15.04)), feature(open(130)), feature(open(131)), feature(open(132))}, boundary.Settings{})
	assert.EqualError(t, err, "no closed outline, found 5 × open line; their ends are 42.0 m, 15.1 m, 130 m, 2 more apart, and at most 15 m are closed; end the line where it began")
	parts := orb.MultiLineString{way(t, orb.Point{0, 0}, orb.Point{400, 0}), way(t, orb.Point{400, 16}, orb.Point{400, 400}, orb.Point{0, 400}, orb.Point{0, 0})}
	_, err = boundary.Read([]geo.Feature{feature(parts)}, boundary.Settings{})
	assert.ErrorContains(t, err, "its ends are 16.0 m apart")

	for wide, note := range map[float64][]string{0: nil, 0.9: nil, 8.2: {"the ends of a line are 8.2 m apart: closed with a straight line, as up to 15 m are"}} {
		o, err := boundary.Read([]geo.Feature{feature(open(wide))}, boundary.Settings{})
		require.NoError(t, err)
		assert.Equal(t, note, o.Notes)
	}
	o, err := boundary.Read([]geo.Feature{feature(patch(t, 0, 0, 400, 400)), feature(open(42))}, boundary.Settings{})
	require.NoError(t, err)
	assert.Equal(t, []string{"NOT taken off the field, nor one itself, as it bounds no ground: 1 × open line; its ends are 42.0 m apart, and at most 15 m are closed"}, o.Notes)
}

// Names that are numbers have no exponent.
func TestNamesThatAreNumbers(t *testing.T) {
	for want, value := range map[string]any{"12345678": 12345678.0, "12.5": 12.5, "12345678901234567890": "12345678901234567890", "9223372036854775807": int64(9223372036854775807)} {
		fields, _, err := boundary.Fields([]geo.Feature{feature(box(-101.6, 35.9), geo.Property{Name: "name", Value: value})}, boundary.Settings{})
		require.NoError(t, err)
		assert.Equal(t, want, fields[0].Name)
	}
}

// Whose a field is, by the usual properties, whatever their case; holes and parts that
// become fields of their own keep it.
func TestWhoseAFieldIs(t *testing.T) {
	for _, c := range []struct {
		props          []geo.Property
		customer, farm string
	}{
		{nil, "", ""},
		{[]geo.Property{{Name: "Grower", Value: " Invented\ncustomer "}, {Name: "FARM_NAME", Value: "Invented farm"}}, "Invented customer", "Invented farm"},
		{[]geo.Property{{Name: "client", Value: "second"}, {Name: "customer", Value: "first"}, {Name: "farm", Value: nil}}, "first", ""},
		{[]geo.Property{{Name: "customer", Value: ""}, {Name: "client", Value: int64(12)}}, "12", ""},
	} {
		fields, _, err := boundary.Fields([]geo.Feature{feature(box(-101.6, 35.9), c.props...)}, boundary.Settings{})
		require.NoError(t, err)
		assert.Equal(t, []string{c.customer, c.farm}, []string{fields[0].Customer, fields[0].Farm})
	}
}
