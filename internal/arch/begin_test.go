package arch_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// A phone works out all variables of packages before its engine is ready, and compiles for
// it what it runs, whether they will be asked for or not. Expressions and tables that take
// work are made when they are asked for first.
func TestThePhonesEngineBeginsWithoutWork(t *testing.T) {
	cmd := exec.Command("go", "list", "-tags", "small", "-deps", "-f", `{{if .Module}}{{if .Module.Main}}{{range .GoFiles}}{{$.Dir}}/{{.}}{{"\n"}}{{end}}{{end}}{{end}}`, "./cmd/page")
	cmd.Dir, cmd.Env = testkit.Root(t), append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	said, err := cmd.Output()
	require.NoError(t, err)
	files := strings.Fields(string(said))
	require.Greater(t, len(files), 300)
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		for _, finding := range worked(parsed) {
			assert.Fail(t, fmt.Sprintf("%s: %s: make it when it is asked for, by sync.OnceValue", filepath.Base(file), finding))
		}
	}
}

// The program compiles no regular expression before it knows which command is asked for:
// all of them took a sixteenth of the time of one that has little to do.
func TestTheProgramBeginsWithoutExpressions(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "-f", `{{if .Module}}{{if .Module.Main}}{{range .GoFiles}}{{$.Dir}}/{{.}}{{"\n"}}{{end}}{{end}}{{end}}`, "./cmd/geocoris")
	cmd.Dir = testkit.Root(t)
	said, err := cmd.Output()
	require.NoError(t, err)
	files := strings.Fields(string(said))
	require.Greater(t, len(files), 500)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			assert.NotRegexp(t, `^(var |\t)\w+\s*= regexp\.MustCompile`, line, filepath.Base(file)+": compile it when it is asked for, by expression.Of or sync.OnceValue")
		}
	}
}

// The engine for regular expressions, with Unicode's tables that it asks, is 0.1 MB of what
// a phone loads.
func TestThePhonesEngineHasNoExpressions(t *testing.T) {
	cmd := exec.Command("go", "list", "-tags", "small", "-deps", "./cmd/page")
	cmd.Dir, cmd.Env = testkit.Root(t), append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	said, err := cmd.Output()
	require.NoError(t, err)
	assert.NotContains(t, strings.Fields(string(said)), "regexp")
}

func TestWorkAtTheBeginIsFound(t *testing.T) {
	parsed, err := parser.ParseFile(token.NewFileSet(), "a.go", `package a
var (
	made = func() map[string]int { return nil }()
	form = regexp.MustCompile("a")
	late = sync.OnceValue(func() int { return 1 })
	told = func() int { return 1 }
	list = []string{"a"}
	many = []*regexp.Regexp{regexp.MustCompile("a")}
	sets = setOf("a b")
	good = pattern("a")
)
func init() { work() }
`, 0)
	require.NoError(t, err)
	assert.Equal(t, []string{"made", "form", "many", "sets", "init"}, worked(parsed))
}

// worked are the variables of a file that are worked out at the begin, by a function in
// place or as a regular expression, and what is called init.
func worked(file *ast.File) (names []string) {
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.Name == "init" && d.Recv == nil {
				names = append(names, "init")
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				v, ok := spec.(*ast.ValueSpec)
				if !ok {
					continue
				}
				for i, value := range v.Values {
					if working(value) {
						names = append(names, v.Names[i].Name)
					}
				}
			}
		}
	}
	return names
}

// lazy are functions of packages that only keep what they are given, or look up a thing.
var lazy = map[string]bool{"pattern": true, "once": true, "wordSet": true, "begins": true, "Colour": true}

// working reports whether a value calls a function in place or compiles an expression,
// itself or in a part of it; what a function in it does comes later.
func working(value ast.Expr) (found bool) {
	ast.Inspect(value, func(n ast.Node) bool {
		if _, later := n.(*ast.FuncLit); later {
			return false
		}
		if call, ok := n.(*ast.CallExpr); ok {
			switch f := call.Fun.(type) {
			case *ast.FuncLit:
				found = true
			case *ast.Ident: // a function of the package
				found = found || !lazy[f.Name]
			case *ast.SelectorExpr:
				found = found || f.Sel.Name == "MustCompile"
			}
		}
		return !found
	})
	return found
}
