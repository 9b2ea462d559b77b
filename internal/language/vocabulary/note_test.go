package vocabulary_test

import (
	"go/ast"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func TestNotesInSpanish(t *testing.T) {
	for english, want := range map[string]string{
		`week.csv: columns read: "bugs" as count, "Lat" as latitude`:                                         `week.csv: columnas leídas: "bugs" como count, "Lat" como latitude`,
		`week.csv: dates such as "07/08/2026" are read month first, as asked`:                                `week.csv: fechas como "07/08/2026" se leen con el mes primero, como se pidió`,
		`fields "A" and "B" overlap: 4 stops in both went to the first`:                                      `los campos "A" y "B" se enciman: el primero se queda con 4 puntos de ambos`,
		"no --rate was given, so no task data and no tank loads":                                             "no se dio --rate, así que no hay datos de tarea ni cargas de tanque",
		"Pivot: the zones carry no verdict: read on the map whether to spray at all":                         "Pivot: las zonas no llevan respuesta: lea en el mapa si hay que aplicar",
		"Pivot: 12 % of the spray ground stays unsprayed: more --sections, or another --heading, leave less": "Pivot: 12 % del terreno queda sin aplicar: más --sections, u otro --heading, dejan menos",
		`field "Pivot": 1 extra stop is not in the mean`:                                                     `campo "Pivot": 1 punto extra no está en el promedio`,
		"2062-08-12 is still to come (54 stops, the first is 1): check the year":                             "2062-08-12 aún no llega (54 puntos, el primero es 1): revise el año",
		"--date 2062-08-12 is still to come: check the year":                                                 "--date 2062-08-12 aún no llega: revise el año",
		`field "Pivot": nobody says so`:                                                                      `field "Pivot": nobody says so`,
		"field.kml: the link to a: b was not followed":                                                       "field.kml: no se siguió el enlace a a: b",
		"f.json: NOT taken off the field, as it bounds no ground: 1 × Point (Pond)":                          "f.json: NO se quita del campo, pues no encierra terreno: 1 × Point (Pond)",
		"f.json: NOT taken off the field, nor one itself, as it bounds no ground: 1 × Point, 1 × open line (ditch, well); its ends are 379 m apart, and at most 15 m are closed":    "f.json: NO se quita del campo ni es uno, pues no encierra terreno: 1 × Point, 1 × open line (ditch, well); sus extremos distan 379 m, y se cierran 15 m a lo más",
		`hives.kml: 1 of 2 features, or parts of them, lie more than 1.03 km (0.64 mi) from every field and keep nothing off: "far"; the nearest, "far", is 8.54 km (5.31 mi) away`: `hives.kml: 1 de 2 elementos, o partes de ellos, están a más de 1.03 km (0.64 mi) de todo campo y no vedan nada: "far"; el más cercano, "far", está a 8.54 km (5.31 mi)`,
		`a.csv: column "gps" holds both angles of a place, read as latitude, longitude, as the compass letters say`:                                                                 `a.csv: la columna "gps" tiene los dos ángulos de un lugar, leídos como latitude, longitude, como dicen las letras de los rumbos`,
		"": "",
	} {
		assert.Equal(t, want, vocabulary.Spanish.Note(english))
		assert.Equal(t, english, vocabulary.English.Note(english))
	}
}

// mostRare is how many notes stay English: of commands with no Spanish screen, of formats that
// seldom come, and those put together of many parts.
const mostRare = 9

// Notes that are added to a list are there in Spanish, but for a number that only falls.
func TestNotesAreInSpanish(t *testing.T) {
	met, lack := 0, []string{}
	packages := []string{"internal/scouting/survey", "internal/scouting/roster", "internal/scouting/observer", "internal/mapping/assess", "internal/engine", "internal/spraying/handoff", "internal/geometry/boundary", "geo/geofile", "internal/cli"}
	eachText(t, packages, notesIn, func(file, text string) {
		if !sentence.MatchString(text) {
			return
		}
		met++
		if _, told := vocabulary.SpanishForms()[text]; !told {
			lack = append(lack, file+": "+text)
		}
	})
	assert.Greater(t, met, 80)
	assert.LessOrEqual(t, len(lack), mostRare, strings.Join(lack, "\n"))
	t.Logf("%d of %d", len(lack), met)
}

// notesIn are what a call adds to a list of notes.
func notesIn(call *ast.CallExpr) []ast.Expr {
	if nameOf(call.Fun) != "append" || !strings.HasSuffix(strings.ToLower(nameOf(call.Args[0])), "notes") {
		return nil
	}
	return call.Args[1:]
}

// What merging seasons says is in Spanish, whoever brought the visits.
func TestNotesOnMergingInSpanish(t *testing.T) {
	for english, want := range map[string]string{
		"visits 2 (Anna), 3 (Ben) are both of Corner block, Pivot on 2026-07-15; all are kept":                              "las visitas 2 (Anna), 3 (Ben) son las dos de Corner block, Pivot, 2026-07-15; se guardan todas",
		"visits 1, 2, 3 are all of Pivot on 2026-07-15":                                                                     "las visitas 1, 2, 3 son todas de Pivot, 2026-07-15",
		"visits 2 (Anna, Cleo), 3 are parts of one walk of Pivot on 2026-07-15/2026-07-16; compare takes them as one visit": "las visitas 2 (Anna, Cleo), 3 son partes de un recorrido de Pivot, 2026-07-15/2026-07-16; compare las toma como una visita",
		"an older visit is left out, as another took its place: 2026-07-15, Pivot, Anna":                                    "una visita anterior queda fuera, porque otra tomó su lugar: 2026-07-15, Pivot, Anna",
		"visits of anna.gpkg have other numbers now: 1 → 2, 2 → 1":                                                          "las visitas de anna.gpkg tienen ahora otros números: 1 → 2, 2 → 1",
	} {
		assert.Equal(t, want, vocabulary.Spanish.Note(english))
	}
}
