package jobsheet_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// The sheet says whether the passes go along the rows or across them.
func TestTheSheetTellsOfTheRows(t *testing.T) {
	at := func(degrees float64) *float64 { return &degrees }
	for _, c := range []struct {
		heading, rows *float64
		fewest        bool
		row, warns    string
	}{
		{nil, nil, false, "at 90.0° (along the longest edge; how the rows run is not known)", ""},
		{nil, at(12), false, "at 12.0° (along the rows)", ""},
		{at(12), nil, false, "at 12.0° (asked)", ""},
		{at(0), at(10), false, "at 0.0° (asked; along the rows)", ""},
		{at(0), at(11), false, "at 0.0° (asked; 11° off the rows)", "The passes run 11° off the rows."},
		{at(0), at(79), false, "at 0.0° (asked; 79° off the rows)", "The passes run 79° off the rows."},
		{at(0), at(80), false, "at 0.0° (asked; ACROSS THE ROWS)", "The passes run across the rows."},
		{nil, at(90), true, "(fewest passes; ACROSS THE ROWS)", "The passes run across the rows."},
		{nil, nil, true, "(fewest passes; how the rows run is not known)", ""},
	} {
		s := sheet(t, func(set *handoff.Settings) {
			set.Spray.Heading, set.Rows.Heading, set.Spray.FewestPasses = c.heading, c.rows, c.fewest
		})
		text := screen(t, s)
		assert.Contains(t, text, c.row)
		if c.warns == "" {
			assert.NotContains(t, text, "The passes run")
		} else {
			assert.Contains(t, text, "  "+c.warns)
		}
	}
}

// What was typed in for a job from the air is on the sheet, and nothing of it where
// nothing was.
func TestTheSheetTellsOfTheAir(t *testing.T) {
	hives := keepOffs(20)
	s := sheet(t, func(set *handoff.Settings) { set.KeepOffs = hives })
	for _, word := range []string{"Height above ground", "Drift distance"} {
		assert.NotContains(t, screen(t, s), word)
	}
	s.Air = handoff.Air{Height: &spray.Quantity{Value: 3, Unit: "m", Base: 3}, Drift: &spray.Quantity{Value: 60, Unit: "m", Base: 60}}
	assert.Regexp(t, `Height above ground: +3 m \(9.84 ft\), as typed in`, screen(t, s))
	assert.Regexp(t, `Drift distance: +60 m \(197 ft\), as typed in; hives is set back by less, 20 m`, screen(t, s))
	es := spanish(s)
	_, flight, _, err := es.Flight()
	require.NoError(t, err)
	assert.Contains(t, flight.Description, "Las líneas van a 3 m")
	assert.Contains(t, flight.Description, "La etiqueta es la ley.")
	assert.NotContains(t, flight.Description, "Masts")
	assert.Equal(t, "Vuelo", flight.Name)
	require.Len(t, flight.Folders, 1)
	require.Len(t, flight.Folders[0].Folders, 1)
	assert.Equal(t, "Obstáculos", flight.Folders[0].Folders[0].Name)
	for _, p := range flight.Folders[0].Placemarks {
		assert.Regexp(t, `^(pasada|vuelta a la pasada) \d+$`, p.Name)
	}
	assert.Equal(t, "hives", flight.Folders[0].Folders[0].Placemarks[0].Name, "as it was named")
	kept, ok := es.Plain("closed ground", (*handoff.Result).KeptOff)
	require.True(t, ok)
	assert.Equal(t, "terreno vedado", kept.Name)
	assert.Equal(t, "North <& ł>, terreno vedado 1", kept.Placemarks[0].Name)
	var ways []string
	for _, way := range es.Route().Ways {
		ways = append(ways, way.Name)
	}
	assert.Equal(t, []string{"Pasadas, North <& ł>", "Línea A–B, North <& ł>"}, ways)
	s = sheet(t, func(set *handoff.Settings) { set.KeepOffs = keepOffs(60) })
	s.Air = handoff.Air{Drift: &spray.Quantity{Value: 60, Unit: "m", Base: 60}}
	assert.NotContains(t, screen(t, s), "by less", "at equality")
}

// Turns that no way was found for are told of where the flight is looked at, too.
func TestAFlightSaysWhatIsNotInIt(t *testing.T) {
	ring := func(west, south, east, north float64) orb.Ring {
		return orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{east, north}}.ToRing()
	}
	for _, c := range []struct {
		moat    orb.Polygon
		blocked bool
	}{
		{orb.Polygon{ring(-101.5985, 35.901, -101.5955, 35.903)}, false},
		{orb.Polygon{ring(-101.5985, 35.901, -101.5955, 35.903), ring(-101.598, 35.9013, -101.596, 35.9027)}, true},
	} {
		s := sheet(t, func(set *handoff.Settings) {
			set.KeepOffs = []handoff.KeepOff{{File: "moat.geojson", SetBack: 1, Features: []geo.Feature{{Geometry: c.moat}}}}
			set.WholeField = true
		})
		_, d, notes, err := s.Flight()
		require.NoError(t, err)
		assert.Equal(t, c.blocked, len(notes) > 0)
		assert.Equal(t, c.blocked, strings.Contains(d.Description, "North <& ł>: for some turns no way round the keep-offs was found. They are not in it."), d.Description)
		_, d, _, err = spanish(s).Flight()
		require.NoError(t, err)
		assert.Equal(t, c.blocked, strings.Contains(d.Description, "North <& ł>: para algunas vueltas no se encontró"), d.Description)
	}
}

// keepOffs are invented hives in the field.
func keepOffs(setBack float64) []handoff.KeepOff {
	hives := geo.Feature{Geometry: orb.Point{-101.599, 35.902}, Properties: geo.Properties{{Name: "name", Value: "hives"}}}
	return []handoff.KeepOff{{File: "hives.geojson", SetBack: setBack, Features: []geo.Feature{hives}}}
}

// How many points the rates have, and had, is said, and nothing where none were left out.
func TestTheSheetCountsThePointsOfRates(t *testing.T) {
	narrow := func(most int) jobsheet.Sheet {
		return sheet(t, func(set *handoff.Settings) {
			heading := 30.0
			set.Spray.Heading, set.Spray.Sections, set.MaxPoints = &heading, 12, most
		})
	}
	assert.NotContains(t, screen(t, narrow(0)), "Points of rates")
	assert.NotContains(t, screen(t, narrow(100_000)), "Points of rates")
	s := narrow(100)
	assert.Regexp(t, `Points of rates: +\d+ → (100|\d\d); its ground is (9[5-9]|10[0-5]) ?% of what whole sections spray`, screen(t, s))
	var b strings.Builder
	require.NoError(t, spanish(s).WriteHTML(&b))
	assert.Contains(t, b.String(), "Puntos de las dosis")
	b.Reset()
	require.NoError(t, s.WriteJSON(&b))
	assert.Regexp(t, `"rate_points": \{\s+"points": \d+,\s+"were": \d{3},\s+"share_of_sections": [01]\.\d+`, b.String())
}
