package vocabulary_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/testkit"
)

// saying are the functions whose argument of that place is a form or a text in English.
var saying = map[string]int{"Say": 0, "Text": 0, "said": 0, "row": 0}

// A source is what code says: the forms and the things that it asks a language for, and
// all of its texts, some of which are asked for by a name.
type source struct {
	forms, things map[string]string // to the file
	texts         map[string]bool
}

func read(t *testing.T) source {
	t.Helper()
	s := source{map[string]string{}, map[string]string{}, map[string]bool{}}
	see := func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".html") && !strings.Contains(path, "testkit") {
			return s.seePage(path)
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.Contains(path, "vocabulary") || strings.Contains(path, "testkit") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err == nil {
			ast.Inspect(file, func(n ast.Node) bool { s.see(n, path); return true })
		}
		return err
	}
	for _, root := range []string{"internal", "geo"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(testkit.Root(t), root), see))
	}
	require.NotEmpty(t, s.forms)
	require.NotEmpty(t, s.things)
	return s
}

// inPage are texts that a page's markup asks for.
var inPage = regexp.MustCompile(`(?:\.Say|\bsay|\bsaying) "([^"]+)"`)

// seePage sees a page that stands in a file of its own.
func (s source) seePage(path string) error {
	markup, err := os.ReadFile(path)
	for _, m := range inPage.FindAllSubmatch(markup, -1) {
		s.texts[string(m[1])], s.forms[string(m[1])] = true, path
	}
	return err
}

func (s source) see(n ast.Node, path string) {
	switch n := n.(type) {
	case *ast.BasicLit:
		if text, ok := literal(n); ok {
			s.texts[text] = true
			for _, m := range inPage.FindAllStringSubmatch(text, -1) {
				s.texts[m[1]], s.forms[m[1]] = true, path
			}
		}
	case *ast.KeyValueExpr: // of the table of verdicts: where to walk
		if key, ok := n.Key.(*ast.Ident); ok && key.Name == "where" && strings.Contains(path, "verdict") {
			if text, ok := literal(n.Value); ok {
				s.forms[text] = path
			}
		}
	case *ast.CallExpr:
		name := ""
		switch f := n.Fun.(type) {
		case *ast.SelectorExpr:
			name = f.Sel.Name
		case *ast.Ident:
			name = f.Name
		}
		if at, ok := saying[name]; ok && len(n.Args) > at {
			if text, ok := literal(n.Args[at]); ok {
				s.forms[text] = path
			}
		}
		if (name == "Things" || name == "Counted") && len(n.Args) > 1 {
			if text, ok := literal(n.Args[1]); ok && !isPackage(n.Fun, "figures") {
				s.things[text] = path
			}
		}
	}
}

// isPackage reports whether a function is called by the name of a package, which says it
// in English.
func isPackage(f ast.Expr, name string) bool {
	selector, ok := f.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	of, ok := selector.X.(*ast.Ident)
	return ok && of.Name == name
}

func literal(e ast.Expr) (text string, ok bool) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(l.Value)
	return text, err == nil
}

// Whatever the code says in English is in Spanish.
func TestAllIsInSpanish(t *testing.T) {
	s := read(t)
	for form, file := range s.forms {
		_, ok := vocabulary.SpanishForms()[form]
		assert.True(t, ok, "%s: %q is not in Spanish", filepath.Base(file), form)
	}
	for thing, file := range s.things {
		_, ok := vocabulary.SpanishThings()[thing]
		assert.True(t, ok, "%s: %q is not in Spanish", filepath.Base(file), thing)
	}
}

// A sentence that is no longer said is no longer kept.
func TestNothingIsInSpanishThatNobodySays(t *testing.T) {
	s := read(t)
	rules, err := os.ReadFile(filepath.Join(testkit.Root(t), "internal/mapping/rules/rules.toml"))
	require.NoError(t, err)
	for form := range vocabulary.SpanishForms() {
		assert.True(t, s.texts[form] || elsewhere[form] || strings.Contains(string(rules), strconv.Quote(form)), "nobody says %q", form)
	}
}

// elsewhere are texts that no code and no rule has whole: they are put together.
var elsewhere = map[string]bool{
	"inside, one beside each hot stop": true, "is of another day than most, %s": true, "is of another day than most of field %q, %s": true,
	"give --fix %s to read it so, or correct the file": true, "write it as %s": true, "the spreadsheet made a date of %s": true, "read so": true, "not used": true,
	"field %q: the stops stand along a line or to one side: none is within %.0f m of %.0f %% of the field": true,
	"field %q: the stops stand in a part of the field: none is within %.0f m of %.0f %% of the field":      true,
}

// composed are the files that compose what is read first: no text of theirs is in English
// alone.
var composed = []string{
	"report/plain.go", "report/lookout.go", "report/brief.go", "report/brief_table.go", "report/caution.go", "report/compare_brief.go", "report/compare_brief_table.go",
	"jobsheet/appendix.go", "jobsheet/brief.go", "jobsheet/cautions.go", "jobsheet/html.go", "jobsheet/order.go", "jobsheet/page.go", "jobsheet/places.go", "jobsheet/says.go",
	"jobsheet/sheet.go", "jobsheet/totals.go", "jobsheet/worked.go",
}

var sentence = regexp.MustCompile(`[A-Za-z]{2,} [A-Za-z%]|[a-z]{2}\.$`)

// inPlace are parts of texts that are put in place of others before they are translated.
var inPlace = map[string]bool{"each of these": true, "each hot stop": true}

func TestNothingIsSaidInEnglishAlone(t *testing.T) {
	for _, name := range composed {
		path := filepath.Join(testkit.Root(t), "internal/output", name)
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		met, found := 0, []string(nil)
		ast.Inspect(file, func(n ast.Node) bool {
			e, _ := n.(ast.Expr)
			if text, ok := literal(e); ok && sentence.MatchString(text) {
				_, form := vocabulary.SpanishForms()[text]
				_, thing := vocabulary.SpanishThings()[text]
				if !form && !thing && !inPlace[text] {
					found = append(found, text)
				}
				met++
			}
			return true
		})
		assert.Empty(t, found, name)
		assert.NotZero(t, met, name)
	}
}

// Texts stand in Say or Text, so that none is in Spanish and said in English.
func TestWhatIsInSpanishIsAskedFor(t *testing.T) {
	for _, name := range composed {
		path := filepath.Join(testkit.Root(t), "internal/output", name)
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			r, ok := n.(*ast.ReturnStmt)
			for i := 0; ok && i < len(r.Results); i++ {
				text, bare := literal(r.Results[i])
				assert.False(t, bare && sentence.MatchString(text), "%s returns %q", name, text)
			}
			return true
		})
	}
}

var verb = regexp.MustCompile(`%(\[\d+\])?([-+# 0]*\d*(?:\.\d+)?[a-zA-Z%])`)

// verbs are those of a form by the argument that they write.
func verbs(form string) map[int]string {
	all, next := map[int]string{}, 1
	for _, m := range verb.FindAllStringSubmatch(form, -1) {
		if m[2] == "%" {
			continue
		}
		if m[1] != "" {
			next, _ = strconv.Atoi(strings.Trim(m[1], "[]"))
		}
		all[next] = m[2]
		next++
	}
	return all
}

// What is filled in is filled in in both languages, and what is said first is a capital
// in both.
func TestFormsAreFilledInAlike(t *testing.T) {
	for english, spanish := range vocabulary.SpanishForms() {
		assert.Equal(t, verbs(english), verbs(spanish), english)
		assert.NotEmpty(t, spanish, english)
		assert.Equal(t, strings.HasSuffix(english, "."), strings.HasSuffix(spanish, "."), english)
		assert.Equal(t, strings.Count(english, "%%"), strings.Count(spanish, "%%"), english)
	}
	for thing, words := range vocabulary.SpanishThings() {
		assert.NotEmpty(t, words[0], thing)
		assert.NotEqual(t, words[0], words[1], thing)
	}
	for pest := range vocabulary.SpanishPests() {
		assert.Equal(t, strings.ToLower(pest), pest, "looked up in small letters")
	}
}

func TestVerbs(t *testing.T) {
	assert.Equal(t, map[int]string{1: "s", 2: ".0f"}, verbs("%s in %.0f %%"))
	assert.Equal(t, verbs("%s of %d"), verbs("%[2]d, %[1]s"))
	assert.NotEqual(t, verbs("%s of %d"), verbs("%d, %s"))
}

func TestFormsAreFilledIn(t *testing.T) {
	assert.Equal(t, "Do not spray; x.", vocabulary.English.Say("Do not spray; %s.", "x"))
	assert.Equal(t, "No aplique; x.", vocabulary.Spanish.Say("Do not spray; %s.", "x"))
	assert.Equal(t, "of 5 nobody", vocabulary.Spanish.Say("of %d nobody", 5), "what the table lacks")
	assert.Equal(t, "20 % of nobody", vocabulary.Spanish.Text("20 % of nobody"), "no form")
	assert.Equal(t, []string{"punto", "puntos", "puntos", "stop", "stops"}, []string{
		vocabulary.Spanish.Things(1, "stop"), vocabulary.Spanish.Things(0, "stop"), vocabulary.Spanish.Things(2, "stop"), vocabulary.English.Things(1, "stop"), vocabulary.English.Things(0, "stop")})
	assert.Equal(t, "pulgón amarillo del sorgo", vocabulary.Spanish.Pest("Sorghum Aphid"))
	assert.Equal(t, "thrips", vocabulary.Spanish.Pest("thrips"))
	assert.Equal(t, "Sorghum Aphid", vocabulary.English.Pest("Sorghum Aphid"))
}

func TestLanguagesAreTyped(t *testing.T) {
	var l vocabulary.Language
	assert.NoError(t, l.Set("es"))
	assert.Equal(t, vocabulary.Spanish, l)
	assert.EqualError(t, l.Set("de"), "want en or es")
	assert.Equal(t, vocabulary.Spanish, l, "a wrong tag changes nothing")
	assert.NoError(t, l.UnmarshalText(nil))
	assert.Equal(t, vocabulary.English, l)
	assert.NoError(t, l.UnmarshalText([]byte("es")))
	tag, err := l.MarshalText()
	assert.NoError(t, err)
	assert.Equal(t, "es", string(tag))
}
