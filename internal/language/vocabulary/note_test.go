package vocabulary_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestNotesInSpanish(t *testing.T) {
	for english, want := range map[string]string{
		`week.csv: columns read: "bugs" as count`:                                                            `week.csv: columnas leídas: "bugs" as count`,
		`week.csv: dates such as "07/08/2026" are read month first, as asked`:                                `week.csv: fechas como "07/08/2026" se leen con el mes primero, como se pidió`,
		"no --rate was given, so no task data and no tank loads":                                             "no se dio --rate, así que no hay datos de tarea ni cargas de tanque",
		"Pivot: the zones carry no verdict: read on the map whether to spray at all":                         "Pivot: las zonas no llevan respuesta: lea en el mapa si hay que aplicar",
		"Pivot: 12 % of the spray ground stays unsprayed: more --sections, or another --heading, leave less": "Pivot: 12 % del terreno queda sin aplicar: más --sections, u otro --heading, dejan menos",
		`field "Pivot": 1 extra stop is not in the mean`:                                                     `campo "Pivot": 1 punto extra no está en el promedio`,
		"2062-08-12 is still to come (54 stops, the first is 1): check the year":                             "2062-08-12 aún no llega (54 puntos, el primero es 1): revise el año",
		"--date 2062-08-12 is still to come: check the year":                                                 "--date 2062-08-12 aún no llega: revise el año",
		`field "Pivot": nobody says so`:                                                                      `field "Pivot": nobody says so`,
		"field.kml: the link to a: b was not followed":                                                       "field.kml: no se siguió el enlace a a: b",
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
	for _, dir := range []string{"internal/scouting/survey", "internal/scouting/roster", "internal/scouting/observer", "internal/mapping/assess", "internal/engine", "internal/spraying/handoff", "internal/geometry/boundary", "geo/geofile", "internal/cli"} {
		paths, err := filepath.Glob(filepath.Join(testkit.Root(t), dir, "*.go"))
		require.NoError(t, err)
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || nameOf(call.Fun) != "append" || !strings.HasSuffix(strings.ToLower(nameOf(call.Args[0])), "notes") {
					return true
				}
				for _, arg := range call.Args[1:] {
					ast.Inspect(arg, func(n ast.Node) bool {
						e, _ := n.(ast.Expr)
						if text, ok := literal(e); ok && sentence.MatchString(text) {
							met++
							if _, told := vocabulary.SpanishForms()[text]; !told {
								lack = append(lack, filepath.Base(path)+": "+text)
							}
						}
						return true
					})
				}
				return true
			})
		}
	}
	assert.Greater(t, met, 80)
	assert.LessOrEqual(t, len(lack), mostRare, strings.Join(lack, "\n"))
	t.Logf("%d of %d", len(lack), met)
}
