package arch_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The public surface grows only on purpose: a new exported name fails here
// until the list is written anew with -update.
func TestExportedNamesOfThePublicPackages(t *testing.T) {
	var lines []string
	for _, folder := range []string{"geo", "geo/geofile", "interp"} {
		names, err := exportedNames(os.DirFS(testkit.Root(t)), folder)
		require.NoError(t, err)
		lines = append(lines, names...)
	}
	got := strings.Join(lines, "\n") + "\n"
	want := testkit.Golden(t, "exported.txt", []byte(got))
	assert.Equal(t, string(want), got)
}

// exportedNames lists what users of a package can name, one line each, sorted:
// "folder kind Name", with "Type.Name" for methods and fields. Test files do
// not count; a folder without Go files has no names.
func exportedNames(tree fs.FS, folder string) ([]string, error) {
	files, err := fs.Glob(tree, path.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	var names []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return nil, err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, decl := range file.Decls {
			for _, name := range declared(decl) {
				names = append(names, folder+" "+name)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names), nil // a name may have a file for each kind of build
}

func declared(decl ast.Decl) []string {
	var names []string
	switch decl := decl.(type) {
	case *ast.FuncDecl:
		if !decl.Name.IsExported() {
			break
		}
		if decl.Recv == nil {
			names = append(names, "func "+decl.Name.Name)
		} else if owner := typeName(decl.Recv.List[0].Type); ast.IsExported(owner) {
			names = append(names, "method "+owner+"."+decl.Name.Name)
		}
	case *ast.GenDecl:
		for _, spec := range decl.Specs {
			names = append(names, specNames(decl.Tok.String(), spec)...)
		}
	}
	return names
}

func specNames(kind string, spec ast.Spec) []string {
	var names []string
	switch spec := spec.(type) {
	case *ast.ValueSpec:
		for _, name := range spec.Names {
			if name.IsExported() {
				names = append(names, kind+" "+name.Name)
			}
		}
	case *ast.TypeSpec:
		if spec.Name.IsExported() {
			names = append(names, "type "+spec.Name.Name)
			names = append(names, memberNames(spec)...)
		}
	}
	return names
}

// memberNames lists the exported fields of a struct, embedded ones too, and the
// methods of an interface.
func memberNames(spec *ast.TypeSpec) []string {
	kind, members := "field", (*ast.FieldList)(nil)
	switch body := spec.Type.(type) {
	case *ast.StructType:
		members = body.Fields
	case *ast.InterfaceType:
		kind, members = "method", body.Methods
	default:
		return nil
	}
	var names []string
	for _, member := range members.List {
		idents := member.Names
		if len(idents) == 0 {
			idents = []*ast.Ident{ast.NewIdent(typeName(member.Type))}
		}
		for _, ident := range idents {
			if ident.IsExported() {
				names = append(names, kind+" "+spec.Name.Name+"."+ident.Name)
			}
		}
	}
	return names
}

// typeName is the bare name of a receiver or an embedded type: without pointer,
// package and type parameters. It is "" for an unnamed type.
func typeName(expr ast.Expr) string {
	switch expr := expr.(type) {
	case *ast.Ident:
		return expr.Name
	case *ast.StarExpr:
		return typeName(expr.X)
	case *ast.SelectorExpr:
		return expr.Sel.Name
	case *ast.IndexExpr:
		return typeName(expr.X)
	case *ast.IndexListExpr:
		return typeName(expr.X)
	}
	return ""
}

func TestExportedNamesSeesEveryKind(t *testing.T) {
	tree := fstest.MapFS{
		"p/p.go": {Data: []byte(`package p
const One, two = 1, 2
var Three error
type Box[T any] struct { Width, height float64; Inner; *other.Outer }
type Inner struct{}
type Opener interface { Open() error; close() }
type hidden struct { Field int }
func New() {}
func old() {}
func (b *Box[T]) Area() {}
func (b Box[T]) area() {}
func (h hidden) Shown() {}
`)},
		"p/p_test.go": {Data: []byte("package p\nfunc TestOnly() {}\n")},
	}
	got, err := exportedNames(tree, "p")
	require.NoError(t, err)
	assert.Equal(t, []string{
		"p const One",
		"p field Box.Inner",
		"p field Box.Outer",
		"p field Box.Width",
		"p func New",
		"p method Box.Area",
		"p method Opener.Open",
		"p type Box",
		"p type Inner",
		"p type Opener",
		"p var Three",
	}, got)
}
