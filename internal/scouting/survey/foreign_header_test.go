package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestHowToNameColumnsIsSaid(t *testing.T) {
	const german = "Stelle;Breite;Länge;Läuse;Blätter;Datum;Bemerkung\n1;48,2;16,1;8;10;14.07.2026;\n"
	for name, c := range map[string]struct {
		text   string
		rename map[string]string
		want   string
	}{
		"another language": {german, nil, `; give --map "Stelle=stop" --map "Breite=latitude" --map "Länge=longitude" --map "Läuse=count" --map "Blätter=leaves" --map "Datum=date"; positions are in decimal degrees`},
		"in part":          {german, map[string]string{"Breite": "latitude", "Länge": "longitude", "Läuse": "count"}, `no column for stop (or give --unnamed-stops to take each position as a stop); the header has "Stelle", "latitude", "longitude", "count", "Blätter", "Datum", "Bemerkung"; give --map "Stelle=stop" --map "Blätter=leaves" --map "Datum=date"`},
		"no language":      {"qq,longitude,latitude,count\n1,2,3,4\n", nil, `; say which column is which with --map, such as --map "qq=stop"`},
		"turned round":     {german, map[string]string{"count": "Läuse"}, `; --map "count=Läuse" is the wrong way round: write --map "Läuse=count"`},
		"no header":        {"1,-101.6,35.9,3\n", nil, "; the first line must name the columns"},
	} {
		_, err := decode(t, "c.csv", c.text, survey.Options{Rename: c.rename})
		assert.ErrorContains(t, err, c.want, name)
	}
	// What is offered reads the file.
	_, err := decode(t, "c.csv", german, survey.Options{Rename: map[string]string{"Stelle": "stop", "Breite": "latitude", "Länge": "longitude", "Läuse": "count", "Blätter": "leaves", "Datum": "date"}})
	require.NoError(t, err)
}

// Who follows an offer gets the count: neither an average for it, nor the leaf's number, nor
// how far the phone was off.
func TestNoOfferMakesAnotherNumberTheCount(t *testing.T) {
	for header, want := range map[string]string{
		"Mean aphids":                         `such as --map "Mean aphids=mean_per_leaf"`,
		"Bugs/leaf":                           `such as --map "Bugs/leaf=mean_per_leaf"`,
		"Leaf 1,± m,Sum":                      `such as --map "Sum=count"`,
		"Plants per acre,Mean temp,Gate/lane": "; name the columns so, or say which is which with --map",
		"± m,Leaf 1,Wind":                     "; name the columns so, or say which is which with --map",
	} {
		_, err := decode(t, "c.csv", "stop,longitude,latitude,leaves,"+header+"\nA,1,2,10,3,4,5\n", survey.Options{})
		assert.ErrorContains(t, err, want, header)
	}
	s := read(t, "stop,longitude,latitude,leaves,Avg per leaf\nA,1,2,10,3\n", survey.Options{})
	assert.InDelta(t, 30, s.Stops[0].Records[0].Total, 0)
}

// Who follows an offer gets the leaves that the header tells, and no place in a circle.
func TestOffersForHeadersThatTellMore(t *testing.T) {
	for _, header := range []string{"Aphids on 10 lvs", "Aphids (10 leaves)"} {
		text := "stop,longitude,latitude," + header + "\nA,1,2,30\nB,1,2.1,30\n"
		_, err := decode(t, "c.csv", text, survey.Options{})
		assert.ErrorContains(t, err, fmt.Sprintf(`such as --map "%s=count", and add a column leaves with 10 in each row`, header))
		_, err = decode(t, "c.csv", text, survey.Options{Rename: map[string]string{header: "count"}})
		assert.ErrorContains(t, err, "has counts of 10 leaves, and no column tells so: add a column leaves with 10 in each row")
		s, err := decode(t, "c.csv", "stop,longitude,latitude,leaves,"+header+"\nA,1,2,10,30\nB,1,2.1,10,30\n", survey.Options{Rename: map[string]string{header: "count"}})
		require.NoError(t, err)
		assert.Equal(t, 10., s.Stops[0].Units)
	}
	_, err := decode(t, "c.csv", "Stop,Where,Aphids,Leaves\n1,\"36.900541, -101.598878\",12,10\n2,36.900541 -101.5966,30,10\n", survey.Options{})
	assert.ErrorContains(t, err, `; column "Where" holds latitude and longitude in one: name it latitude_longitude or longitude_latitude, in the file or with --map`)
	_, err = decode(t, "c.csv", "Stop,GPS,Aphids,Leaves\n1,36.900541,12,10\n", survey.Options{})
	assert.ErrorContains(t, err, `--map "GPS=latitude"`)
}

func TestDocumentsThatAreNoTables(t *testing.T) {
	_, err := decode(t, "c.pdf", "%PDF-1.7\n", survey.Options{})
	require.EqualError(t, err, "c.pdf: is a PDF, not a table that can be read")
	var refusal *geofile.Error
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "save the table as CSV or .xlsx, or give GeoJSON, KML, KMZ, GPX, a Shapefile or a GeoPackage", refusal.Hint)
}

// Spanish headers that mean one thing are read; what they were taken for is said.
func TestPlainSpanishHeadersAreRead(t *testing.T) {
	const english = "stop,latitude,longitude,date,time,aphids,leaves,scout,comments\nA,35.9,-101.6,2026-07-14,06:20,8,10,Ana,x\n"
	for name, header := range map[string]string{
		"small":   "punto,latitud,longitud,fecha,hora,pulgones,hojas,observador,notas",
		"in form": "Parada,LATITUD,Longitud,Fecha,Hora,Conteo,Número de hojas,Observador,Observaciones",
	} {
		text := strings.Replace(english, "stop,latitude,longitude,date,time,aphids,leaves,scout,comments", header, 1)
		want, got := read(t, english, survey.Options{}), read(t, text, survey.Options{})
		require.Len(t, got.Stops, 1, name)
		assert.Equal(t, fmt.Sprint(want.Stops), fmt.Sprint(got.Stops), name)
		assert.Contains(t, strings.Join(got.Notes, "\n"), "columns read: ", name)
	}
	means := read(t, "punto,latitud,longitud,pulgones por hoja,hojas\nA,35.9,-101.6,1.5,10\n", survey.Options{})
	assert.InDelta(t, 15, means.Stops[0].Records[0].Total, 1e-9)

	// One that may mean two things is asked for.
	_, err := decode(t, "c.csv", "muestra,latitud,longitud,cuenta\nA,35.9,-101.6,8\n", survey.Options{})
	assert.ErrorContains(t, err, `give --map "muestra=stop" --map "cuenta=count"`)
}

// However Spanish says how many leaves were looked at, it is read or asked for: a count of
// ten taken for one leaf is ten times too high.
func TestSpanishLeavesAreNeverLost(t *testing.T) {
	for _, header := range []string{
		"numero de hojas", "Núm. de hojas", "nº de hojas", "n hojas", "num_hojas", "nro hojas", "total hojas", "cantidad de hojas",
		"hojas por punto", "hojas contadas", "hojas evaluadas", "hojas muestreadas",
	} {
		got := read(t, "punto,latitud,longitud,pulgones,"+header+"\nA,35.9,-101.6,8,10\n", survey.Options{})
		assert.InDelta(t, 10, got.Stops[0].Units, 0, header)
	}
	_, err := decode(t, "c.csv", "punto,latitud,longitud,pulgones,hojas sanas\nA,35.9,-101.6,8,10\n", survey.Options{})
	assert.ErrorContains(t, err, `give --map "hojas sanas=leaves" if it does`)
}

// A Spanish column that tells pests or extra stops apart is asked for.
func TestSpanishPestsAndKindsAreAskedFor(t *testing.T) {
	table := func(header, first, second string) string {
		return "punto,latitud,longitud,pulgones,hojas," + header + "\nA,35.9,-101.6,8,10," + first + "\nB,35.91,-101.6,9,10," + second + "\n"
	}
	_, err := decode(t, "c.csv", table("plaga", "pulgón amarillo", "trips"), survey.Options{})
	assert.ErrorContains(t, err, `column "plaga" seems to name the pest, and it names 2: give --map "plaga=pest"`)
	_, err = decode(t, "c.csv", table("Tipo", "planificado", "Extra"), survey.Options{})
	assert.ErrorContains(t, err, `give --map "Tipo=kind" if it does`)
	for header, cells := range map[string][2]string{"plaga": {"pulgón", "Pulgón"}, "tipo": {"arenoso", "franco"}} {
		assert.Len(t, read(t, table(header, cells[0], cells[1]), survey.Options{}).Stops, 2, header)
	}
}

// Beside an English column a Spanish one of the same meaning is not read, as before.
func TestEnglishHeadersGoBeforeSpanish(t *testing.T) {
	for _, header := range []string{
		"id,punto,latitude,longitude,aphids,leaves", "punto,name,latitude,longitude,aphids,leaves", "stop,pulgones,latitude,longitude,aphids,leaves",
		"stop,aphids,latitude,longitude,pulgones,leaves",
	} {
		cells := map[string]string{"id": "A", "name": "A", "stop": "A", "punto": "9", "latitude": "35.9", "longitude": "-101.6", "aphids": "8", "pulgones": "7", "leaves": "10"}
		var row []string
		for _, h := range strings.Split(header, ",") {
			row = append(row, cells[h])
		}
		got := read(t, header+"\n"+strings.Join(row, ",")+"\n", survey.Options{})
		require.Len(t, got.Stops, 1, header)
		assert.Equal(t, "A", got.Stops[0].Name, header)
		assert.InDelta(t, 8, got.Stops[0].Total, 0, header)
	}
}
