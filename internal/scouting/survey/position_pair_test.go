package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// atField offers to swap what lies at a field near 44.5° N 8.25° E when swapped, as a boundary does.
func atField(lon, lat float64) (survey.PositionFix, bool) {
	near := func(lon, lat float64) bool { return lon > 8 && lon < 8.5 && lat > 44 && lat < 45 }
	if !near(lon, lat) && near(lat, lon) {
		return survey.PositionFix{Longitude: lat, Latitude: lon, What: "latitude and longitude are swapped"}, true
	}
	return survey.PositionFix{}, false
}

// Both angles of a place in one cell are read where header, letters, range or the field tell which
// is the latitude, and never by chance.
func TestBothAnglesInOneCell(t *testing.T) {
	const texas, texasToo = "27.1234, -97.5678", "-97.5678, 27.1234"
	table := func(header string, cells ...string) (text string) {
		text = "stop;" + header + ";count;leaves\n"
		for i, c := range cells {
			text += fmt.Sprintf("%d;\"%s\";4;10\n", i+1, strings.ReplaceAll(c, `"`, `""`))
		}
		return text
	}
	for name, c := range map[string]struct {
		header, cell, why string
		fix               survey.FixPosition
		lat, lon          float64
	}{
		"header, latitude first":  {"lat lon", "44.5, 8.25", "as the header says", nil, 44.5, 8.25},
		"header, longitude first": {"lon/lat", "44.5, 8.25", "as the header says", nil, 8.25, 44.5},
		"one word":                {"LatLng", "44.5 8.25", "as the header says", nil, 44.5, 8.25},
		"Spanish":                 {"Latitud y longitud", "44.5, 8.25", "as the header says", nil, 44.5, 8.25},
		"header before range":     {"coordenadas (lat, lon)", "44.5, 97.25", "as the header says", nil, 44.5, 97.25},
		"range":                   {"GPS", texas, "as latitudes go to 90", nil, 27.1234, -97.5678},
		"range, turned":           {"Coordenadas GPS", texasToo, "as latitudes go to 90", nil, 27.1234, -97.5678},
		"blank":                   {"position", "27.1234 -97.5678", "as latitudes go to 90", nil, 27.1234, -97.5678},
		"brackets":                {"Ubicación", "(27.1234, -97.5678)", "as latitudes go to 90", nil, 27.1234, -97.5678},
		"just beyond":             {"gps", "44.5, 90.000001", "as latitudes go to 90", nil, 44.5, 90.000001},
		"letters":                 {"gps", "27.1234N 97.5678W", "as the compass letters say", nil, 27.1234, -97.5678},
		"letters before":          {"gps", "W97.5678, N27.1234", "as the compass letters say", nil, 27.1234, -97.5678},
		"degrees and minutes":     {"gps", `27°30'0"S 8°15'0"E`, "as the compass letters say", nil, -27.5, 8.25},
		"letters before header":   {"lat lon", "8.25E 44.5N", "as the header says", nil, 44.5, 8.25},
		"field":                   {"place", "44.5, 8.25", "as only so they lie at the fields", atField, 44.5, 8.25},
		"field, turned":           {"place", "8.25, 44.5", "as only so they lie at the fields", atField, 44.5, 8.25},
		"decimal commas":          {"gps", "27,1234; -97,5678", "as latitudes go to 90", nil, 27.1234, -97.5678},
		"decimal commas, blank":   {"gps", "27,1234 -97,5678", "as latitudes go to 90", nil, 27.1234, -97.5678},
		"decimal commas, comma":   {"gps", "27,1234, -97,5678", "as latitudes go to 90", nil, 27.1234, -97.5678},
	} {
		s := read(t, table(c.header, c.cell), survey.Options{FixPosition: c.fix})
		if assert.Len(t, s.Stops, 1, "%s: %v", name, problems(s)) {
			assert.InDelta(t, c.lat, s.Stops[0].Latitude, 1e-9, name)
			assert.InDelta(t, c.lon, s.Stops[0].Longitude, 1e-9, name)
		}
		assert.Contains(t, strings.Join(s.Notes, "\n"), c.why, name)
	}
	for name, text := range map[string]string{
		"nothing tells":    table("gps", "44.5, 8.25"),
		"90 is a latitude": table("gps", "45.5, 90.0"),
		"both orders":      table("gps", texas, texasToo),
		"no angle of both": table("gps", "97.5, 127.25"),
	} {
		_, err := decode(t, "counts.csv", text, survey.Options{})
		require.ErrorContains(t, err, `column "gps" holds both angles of a place, and `, name)
	}
	for name, cell := range map[string]string{"one number": "27,97", "degrees and minutes": "27 12.5", "one latitude too many": "27.1N 97.5S", "three": "27.1, -97.5, 12", "words": "by the gate"} {
		_, err := decode(t, "counts.csv", table("gps", cell), survey.Options{})
		require.ErrorContains(t, err, "no column for longitude", name)
	}
}

// A cell that holds no two angles is set aside by itself, and all else of the table is as if the
// columns were two.
func TestBothAnglesInOneCellOfATable(t *testing.T) {
	const head = "Field walk\nstop,gps,count,leaves\n"
	s := read(t, head+"A,\"27.12345, -97.56789\",4,10\nB,somewhere,5,10\nC,,6,10\nD,\"27.12355, -97.56789\",7,10,x\nE,\"27.12365 -97.56789\",8,10\n", survey.Options{})
	assert.Len(t, s.Stops, 2)
	assert.Equal(t, []string{
		`counts.csv:4: gps "somewhere": is no angle: want decimal degrees, or degrees, minutes and seconds; write decimal degrees, west and south below 0`,
		`counts.csv:5: gps "": is blank, and a blank is not a zero; look the place up`,
	}, problems(s)[:2], "once, by the file's own column, which a correction names")
	assert.Len(t, s.Unread, 3)
	fixed := read(t, strings.Replace(head, "Field walk\n", "", 1)+"A,\"27.12345, -97.56789\",4,10\nB,somewhere,5,10\n", survey.Options{Corrections: []survey.Correction{{File: "counts.csv", Line: 3, Column: "gps", Was: "somewhere", Now: "27.12355, -97.56789"}}})
	assert.Len(t, fixed.Stops, 2)
	assert.Contains(t, strings.Join(problems(s), "\n"), "the row has 5 cells, the header 4", "as in the file")
	rough := strings.Repeat("A,\"27.12, -97.56\",4,10\n", 6)
	assert.Len(t, read(t, head+rough, survey.Options{}).Rough, 1)
	beside := read(t, "stop,latitude,longitude,place,count,leaves\nA,27.5,-97.5,\"44.5, 8.25\",4,10\n", survey.Options{})
	assert.Equal(t, 27.5, beside.Stops[0].Latitude, "columns of their own go before")
	renamed := read(t, "stop,where,count,leaves\nA,\"44.5, 8.25\",4,10\n", survey.Options{Rename: map[string]string{"where": "longitude_latitude"}})
	assert.Equal(t, 8.25, renamed.Stops[0].Latitude)
}

// A title that names a place, a day and an observer is not taken for the header, whichever column
// stands below it, and whatever parts its cells.
func TestATitleAboveAColumnOfBothAngles(t *testing.T) {
	for _, text := range []string{
		"Location,Date,Observer\nHill,2026-07-15,A\nstop,gps,count,leaves\n1,\"35.9, -101.6\",9,10\n2,\"35.901, -101.6\",4,10\n",
		"Lugar;Fecha;Observador\nLa Loma;2026-07-15;A\nPunto;Coordenadas;Pulgones;Hojas\n1;35.9, -101.6;9;10\n2;35.901, -101.6;4;10\n",
		"Location,Date,Observer\nHill,2026-07-15,A\ngps;count;stop;leaves\n35.9, -101.6;9;1;10\n35.901, -101.6;4;2;10\n",
		"Name,Location,Date\nA,Hill,2026-07-15\nstop,gps,count,leaves\n1,,9,10\n1,\"35.9, -101.6\",9,10\n2,\"35.901, -101.6\",4,10\n",
	} {
		s := read(t, text, survey.Options{})
		if assert.Len(t, s.Stops, 2, text) {
			assert.Equal(t, -101.6, s.Stops[0].Longitude)
		}
	}
	s := read(t, "Location,Date,Observer\nHill,2026-07-15,A\ngps,time,notes\n\"35.9, -101.6\",06:10,9 on 10\n", survey.Options{Columns: nil, UnnamedStops: true, Rename: map[string]string{"notes": "count"}})
	assert.Contains(t, s.Notes[0], "the header is line 3")
}
