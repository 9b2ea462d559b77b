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
		"whole seconds":           {"lat lon", `35°53'49", -101°36'4"`, "as the header says", nil, 35.896944444, -101.601111111},
		"commas in minutes":       {"lat lon", `35°53,5' -10°36,1'`, "as the header says", nil, 35.891666667, -10.601666667},
		"a letter and a sign":     {"gps", "35.9 N -10.6", "as the compass letters say", nil, 35.9, -10.6},
		"words":                   {"gps", "Lon: -10.6, Lat: 35.9", "as its cells say", nil, 35.9, -10.6},
		"well-known text":         {"gps", "POINT(-10.6 35.9)", "as its cells say", nil, 35.9, -10.6},
		"altitude and accuracy":   {"geopoint", "35.9 -101.6 1030.5 4.2", `what stands behind both angles in column "geopoint", as altitude and accuracy do, is not read: 1`, nil, 35.9, -101.6},
		"altitude":                {"GPS fix", "35.9, -101.6, 12", "as latitudes go to 90", nil, 35.9, -101.6},
		"Oeste":                   {"Localización", "31.4 S, 64.2 O", "as the compass letters say", nil, -31.4, -64.2},
		"other columns, no fix":   {"Sample location", "27.1234, -97.5678", "as latitudes go to 90", nil, 27.1234, -97.5678},
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
	for name, c := range map[string]struct{ header, cell, hint string }{
		"one number":                {"gps", "27,97", ""},
		"degrees and minutes":       {"gps", "27 12.5", ""},
		"one latitude too many":     {"gps", "27.1N 97.5S", `column "gps" is not understood: write both angles, such as 35.8972, -101.6016`},
		"words twice":               {"gps", "Lat 27.1 Lat 97.5", ""},
		"words against letters":     {"gps", "Lat 27.1 E Long 7.5 N", ""},
		"whole degrees before more": {"gps", "27, -97.5, 12", ""},
		"five numbers":              {"gps", "27.1 -97.5 12 4 1", ""},
		"accuracy below nought":     {"gps", "27.1 -97.5 27.2 -97.6", ""},
		"a comma of what":           {"gps", "35°53,10°36", ""},
		"plots":                     {"position", "2/3", ""},
		"words":                     {"gps", "by the gate", ""},
		"west or east":              {"gps", "31.4 S, 64.2 O", `column "gps" has the letter O, which is west in Spanish and east in German: write W for west, E for east`},
		"metres":                    {"coordinates", "300897.1, 3964839.9", `column "coordinates" holds metres in one: part them into columns easting and northing, and give their zone, such as --utm 14N`},
		"metres with a zone":        {"coordinates", "14N 300897 3964839", `holds metres in one`},
	} {
		_, err := decode(t, "counts.csv", table(c.header, c.cell), survey.Options{})
		require.ErrorContains(t, err, "no column for longitude", name)
		assert.ErrorContains(t, err, c.hint, name)
	}
	for _, rows := range []string{"1,27.1234,-97.5678,4,10,\n2,27.1235,-97.5678,4,10,\n", "1,27.1234,-97.5678,4,10\n"} {
		_, err := decode(t, "counts.csv", "stop,gps,count,leaves,notes\n"+rows, survey.Options{})
		require.ErrorContains(t, err, `each place under "gps" is cut in two at its comma: put quotes round it`)
	}
}

// Of half a place nothing is read: it is none, whatever its column makes of the others.
func TestHalfAPlaceIsNone(t *testing.T) {
	for _, half := range []string{"27.1234", "27.1234,", "27.1234, -97", "S 27.1234", "same"} {
		s := read(t, fmt.Sprintf("stop;lat lon;mean_per_leaf;leaves\n1;27.1234, -97.5678;0,9;10\n\n2;%s;1,5;10\n3;27.124 -97.567;0,5;10\n", half), survey.Options{})
		if assert.Len(t, s.Stops, 2, half) {
			assert.Equal(t, 9.0, s.Stops[0].Total, "points of places say nothing of the commas of other columns")
			assert.Equal(t, 27.124, s.Stops[1].Latitude)
		}
		require.Len(t, s.Unread, 1, half)
		assert.False(t, s.Unread[0].Placed, half)
		assert.Contains(t, problems(s)[0], "lat lon \""+half+"\": is no latitude and longitude in one; write both, such as 35.8972, -101.6016")
	}
	s := read(t, "stop;gps;count;leaves\n1;27.1234 N, 97.5678 W;9;10\n2;27.1234 N, 97.5678 O;9;10\n", survey.Options{})
	assert.Contains(t, problems(s)[0], "which is west in Spanish and east in German; write W for west, E for east")
}

// The order that nearly all rows tell is that of the column, and the others are refused one by one.
func TestFewSwappedPairs(t *testing.T) {
	rows := func(right, swapped int) string {
		text := "stop;gps;count;leaves\n"
		for i := range right + swapped {
			place := fmt.Sprintf("44.51%02d, 8.25%02d", i, i)
			if i < swapped {
				place = fmt.Sprintf("8.25%02d, 44.51%02d", i, i)
			}
			text += fmt.Sprintf("%d;%s;4;10\n", i, place)
		}
		return text
	}
	s := read(t, rows(9, 1), survey.Options{FixPosition: atField})
	assert.Len(t, s.Stops, 9)
	require.Len(t, s.Unread, 1)
	assert.True(t, s.Unread[0].Offered)
	assert.Contains(t, problems(s)[0], `counts.csv:2: gps "8.2500, 44.5100": latitude and longitude are swapped`)
	assert.Contains(t, strings.Join(s.Notes, "\n"), "as nearly all rows tell")
	for _, text := range []string{rows(17, 2), rows(5, 1)} {
		_, err := decode(t, "counts.csv", text, survey.Options{FixPosition: atField})
		assert.ErrorContains(t, err, "in both orders, as in lines ")
	}
}

// A column of both angles stands beside others of places: blank ones are passed over, and the one
// that says in so many words what it holds goes before.
func TestPairsBesideOtherColumns(t *testing.T) {
	const pair = `"44.5, 8.25"`
	for name, c := range map[string]struct {
		text string
		lat  float64 // 0 for none
	}{
		"blank ones":             {"stop,latitude,longitude,lat lon,count,leaves\nA,,," + pair + ",4,10\n", 44.5},
		"one of two blank":       {"stop,latitude,longitude,lat lon,count,leaves\nA,27.5,," + pair + ",4,10\n", 0},
		"so named, one blank":    {"stop,latitude,longitude,latitude_longitude,count,leaves\nA,27.5,," + pair + ",4,10\n", 44.5},
		"so named, others whole": {"stop,latitude,longitude,latitude_longitude,count,leaves\nA,27.5,7.5," + pair + ",4,10\n", 27.5},
		"two, one so named":      {"stop,location,latitude_longitude,count,leaves\nA,\"1.5, 2.5\"," + pair + ",4,10\n", 44.5},
		"two, one tells":         {"stop,lat lon,gps,count,leaves\nA," + pair + ",\"1.5, 2.5\",4,10\n", 44.5},
	} {
		s, err := decode(t, "counts.csv", c.text, survey.Options{})
		require.NoError(t, err, name)
		if c.lat == 0 {
			assert.Empty(t, s.Stops, name)
		} else if assert.Len(t, s.Stops, 1, name) {
			assert.Equal(t, c.lat, s.Stops[0].Latitude, name)
		}
	}
	_, err := decode(t, "counts.csv", "location,gps,count,leaves\n"+pair+","+pair+",4,10\n", survey.Options{})
	require.ErrorContains(t, err, `name it latitude_longitude`)
	_, err = decode(t, "counts.csv", "lat lon,count,leaves\n"+pair+",4,10\n", survey.Options{})
	require.ErrorContains(t, err, `the header has "lat lon", "count", "leaves"`, "as it stands in the file")
	at := placesOf(t, "stops.csv", "stop,longitude,latitude\nA,1,2\nB,1,3\nC,1,4\n")
	for name, c := range map[string]struct {
		cells [3]string
		lat   float64
	}{
		"plots":   {[3]string{"2/3", "3/3", "4/3"}, 2},
		"one":     {[3]string{pair, "", ""}, 2},
		"most":    {[3]string{pair, pair, ""}, 44.5},
		"as said": {[3]string{pair, "same", ""}, 44.5},
	} {
		s, err := decode(t, "counts.csv", fmt.Sprintf("stop,location (lat lon),count,leaves\nA,%s,4,10\nB,%s,5,10\nC,%s,6,10\n", c.cells[0], c.cells[1], c.cells[2]), survey.Options{Places: at})
		require.NoError(t, err, name)
		assert.Equal(t, c.lat, s.Stops[0].Latitude, name)
	}
}

// Marks for the same again, and the header once more, are read in such a column as in others.
func TestPairsAgain(t *testing.T) {
	for _, mark := range []string{`""""`, "do", "Ídem", "same"} {
		s := read(t, "stop,lat lon,count,leaves\nA,\"44.5, 8.25\",4,1\nA,"+mark+",5,1\nA,"+mark+",6,1\nstop,lat lon,count,leaves\nB,\"44.6, 8.25\",4,1\nB,"+mark+",4,1\nB,"+mark+",4,1\n", survey.Options{})
		assert.Len(t, s.Stops, 2, "%s: %v", mark, problems(s))
		assert.Equal(t, 6, s.Tally.Used, mark)
		assert.Contains(t, strings.Join(s.Notes, "\n"), "line 5 is the header once more")
	}
	apart := read(t, "stop,longitude,latitude,count,leaves\nA,8.25,44.5,4,1\nsame,same,same,5,1\n", survey.Options{})
	assert.Len(t, apart.Stops, 2, "a stop may be called so")
}

// A cell that holds no two angles is set aside by itself, and all else of the table is as if the
// columns were two.
func TestBothAnglesInOneCellOfATable(t *testing.T) {
	const head = "Field walk\nstop,gps,count,leaves\n"
	s := read(t, head+"A,\"27.12345, -97.56789\",4,10\nB,somewhere,5,10\nC,,6,10\nD,\"27.12355, -97.56789\",7,10,x\nE,\"27.12365 -97.56789\",8,10\n", survey.Options{})
	assert.Len(t, s.Stops, 2)
	assert.Equal(t, []string{
		`counts.csv:4: gps "somewhere": is no latitude and longitude in one; write both, such as 35.8972, -101.6016`,
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
