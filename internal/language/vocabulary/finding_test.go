package vocabulary_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestFindingsInSpanish(t *testing.T) {
	for english, want := range map[string]string{
		"write a number":               "escriba un número",
		"is more than 5,000 on each":   "es más de 5,000 en cada una",
		"is more than 5000 on one row": "es más de 5000 en una fila",
		"can be 7 August 2026 or 8 July 2026; read as 2026-07-08, and so are all like it":                       "puede ser 7 August 2026 o 8 July 2026; se lee 2026-07-08, y así todas las parecidas",
		"latitude and longitude are swapped; read so":                                                           "latitud y longitud están cambiadas; leída así",
		"can be 1200 or 1.2; not used":                                                                          "puede ser 1200 o 1.2; no se usa",
		`is of another day than most of field "Pivot", 2026-07-08`:                                              `es de otro día que la mayoría del campo "Pivot", 2026-07-08`,
		"is of another day than most, 2026-07-08":                                                               "es de otro día que la mayoría, 2026-07-08",
		"give --fix swap to read it so, or correct the file":                                                    "dé --fix swap para leerla así, o corrija el archivo",
		`field "Pivot": the stops stand along a line or to one side: none is within 204 m of 23 % of the field`: `campo "Pivot": los puntos están en línea o a un lado: ninguno está a menos de 204 m del 23 % del campo`,
		"lies 4 m outside field \"Pivot\" and is counted in":                                                    "está 4 m fuera del campo \"Pivot\" y se toma en cuenta",
		"the same row as line 12 once more":                                                                     "otra vez la misma fila que la línea 12",
		"the same row as old.csv:12 once more":                                                                  "otra vez la misma fila que old.csv:12",
		"each is the same as another row, the first as line 2":                                                  "cada una es igual a otra fila, la primera a la línea 2",
		"nobody says so; not used":                                                                              "nobody says so; no se usa",
		"":                                                                                                      "",
	} {
		assert.Equal(t, want, vocabulary.Spanish.Finding(english))
		assert.Equal(t, english, vocabulary.English.Finding(english))
	}
}

// finding are the functions that say what is wrong with a row, or how to fix it.
var finding = []string{"refuse", "doubt", "found", "foundOf", "wrong"}

// joining are forms that only put findings together, which are in Spanish themselves.
var joining = []string{"field %q: %s", "is of another day than %s, %s"}

// Whatever is found in rows is there in Spanish: texts that stand in the calls, and those of
// errors that become findings.
func TestAllFindingsAreInSpanish(t *testing.T) {
	met := 0
	eachText(t, []string{"internal/scouting/survey", "internal/mapping/check"}, findingsIn, func(file, text string) {
		text = strings.TrimPrefix(text, "; ")
		if sentence.MatchString(text) && !slices.Contains(joining, text) && !strings.HasSuffix(text, " ") {
			met++
			_, told := vocabulary.SpanishForms()[text]
			assert.True(t, told, "%s: %q is not in Spanish", file, text)
		}
	})
	assert.Greater(t, met, 60)
}

// findingsIn are the arguments of a call that says what is wrong.
func findingsIn(call *ast.CallExpr) []ast.Expr {
	if !slices.Contains(finding, nameOf(call.Fun)) {
		return nil
	}
	return call.Args
}

// eachText goes through the texts that stand in the code of packages, in those arguments of
// calls that are asked for.
func eachText(t *testing.T, packages []string, arguments func(*ast.CallExpr) []ast.Expr, visit func(file, text string)) {
	for _, dir := range packages {
		paths, err := filepath.Glob(filepath.Join(testkit.Root(t), dir, "*.go"))
		require.NoError(t, err)
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			for n := range ast.Preorder(file) {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					continue
				}
				for _, arg := range arguments(call) {
					for n := range ast.Preorder(arg) {
						e, _ := n.(ast.Expr)
						if text, ok := literal(e); ok {
							visit(filepath.Base(path), text)
						}
					}
				}
			}
		}
	}
}

func nameOf(f ast.Expr) string {
	switch f := f.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}
