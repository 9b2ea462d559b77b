package arch_test

import (
	"bufio"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The race detector makes tests several times slower, so it looks at those alone in which
// goroutines run: each package that starts some has a line in the list, whose pattern meets
// tests of it.
func TestWhatStartsGoroutinesIsRaced(t *testing.T) {
	findings, err := unraced(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	assert.Empty(t, findings)
}

func TestWhatIsNotRacedIsFound(t *testing.T) {
	const starts = "package p\nfunc f() { go f() }\n"
	tree := fstest.MapFS{
		".ci/raced":             {Data: []byte("# a line\nsame ^TestMet$\nnone ^TestOther$\nleft ^Test\nwaits - for a browser\nbare -\ntested ^TestAtOnce$\n")},
		"same/a.go":             {Data: []byte(starts)},
		"same/a_test.go":        {Data: []byte("package p\nfunc TestMet() {}\n")},
		"none/a.go":             {Data: []byte("package p\nfunc f() { var g errgroup.Group; g.Go(f) }\n")},
		"none/a_test.go":        {Data: []byte("package p\nfunc TestMet() {}\n")},
		"left/a.go":             {Data: []byte("package p\n")},
		"waits/a.go":            {Data: []byte(starts)},
		"bare/a.go":             {Data: []byte(starts)},
		"new/a.go":              {Data: []byte(starts)},
		"tested/a_test.go":      {Data: []byte("package p\nfunc TestAtOnce() { go f() }\n")},
		"alone/a_test.go":       {Data: []byte(starts)},
		"internal/testkit/a.go": {Data: []byte(starts)},
	}
	findings, err := unraced(tree)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"bare starts goroutines, and .ci/raced does not say why no test is raced",
		"left is in .ci/raced and starts no goroutine",
		"new starts goroutines: name tests in which they run in .ci/raced",
		"none: no test is called ^TestOther$, as .ci/raced has it",
	}, findings)
}

// unraced is what the list of raced tests says and the sources do not, or the other way.
func unraced(tree fs.FS) (findings []string, err error) {
	listed, err := readRaced(tree)
	if err != nil {
		return nil, err
	}
	sources, err := readSources(tree)
	if err != nil {
		return nil, err
	}
	starts, mayStart, tests := map[string]bool{}, map[string]bool{}, map[string][]string{}
	for _, src := range sources {
		if src.folder == "internal/testkit" {
			continue
		}
		parsed, err := parsedOf(tree, src)
		if err != nil {
			return nil, err
		}
		if src.isTest() {
			tests[src.folder] = append(tests[src.folder], testsOf(parsed)...)
		}
		if startsGoroutines(parsed) {
			mayStart[src.folder] = true
			starts[src.folder] = starts[src.folder] || !src.isTest()
		}
	}
	for _, folder := range slices.Sorted(maps.Keys(mayStart)) {
		switch pattern, rest, _ := strings.Cut(listed[folder], " "); {
		case pattern == "" && !starts[folder]: // by its tests alone
		case pattern == "":
			findings = append(findings, folder+" starts goroutines: name tests in which they run in .ci/raced")
		case pattern == "-" && rest == "":
			findings = append(findings, folder+" starts goroutines, and .ci/raced does not say why no test is raced")
		case pattern != "-" && !slices.ContainsFunc(tests[folder], regexp.MustCompile(pattern).MatchString):
			findings = append(findings, folder+": no test is called "+pattern+", as .ci/raced has it")
		}
	}
	for folder := range listed {
		if !mayStart[folder] {
			findings = append(findings, folder+" is in .ci/raced and starts no goroutine")
		}
	}
	slices.Sort(findings)
	return findings, nil
}

// readRaced are the patterns of tests by folder, or - and a reason.
func readRaced(tree fs.FS) (map[string]string, error) {
	f, err := tree.Open(".ci/raced")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	listed := map[string]string{}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if folder, what, is := strings.Cut(lines.Text(), " "); is && folder != "#" {
			listed[folder] = strings.TrimSpace(what)
		}
	}
	return listed, lines.Err()
}

func parsedOf(tree fs.FS, src source) (*ast.File, error) {
	text, err := fs.ReadFile(tree, path.Join(src.folder, src.name))
	if err != nil {
		return nil, err
	}
	return parser.ParseFile(token.NewFileSet(), src.name, text, 0)
}

func testsOf(file *ast.File) (names []string) {
	for _, d := range file.Decls {
		if f, is := d.(*ast.FuncDecl); is && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Test") {
			names = append(names, f.Name.Name)
		}
	}
	return names
}

// startsGoroutines by the keyword, or by the method of that name which groups have.
func startsGoroutines(file *ast.File) (found bool) {
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			found = true
		case *ast.CallExpr:
			called, is := n.Fun.(*ast.SelectorExpr)
			found = found || is && called.Sel.Name == "Go"
		}
		return !found
	})
	return found
}
