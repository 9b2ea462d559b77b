package arch_test

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// toyPlan is a house of three storeys with one library and one test library.
func toyPlan() plan {
	return plan{
		module:        "example.org/toy",
		layers:        [][]string{{"low", "low/twin"}, {"middle"}, {"top"}},
		testOnly:      []string{"kit", "rules"},
		owners:        map[string][]string{"example.com/lib": {"low"}},
		testLibraries: []string{"example.com/assert"},
		never:         map[string][]string{"middle": {"os"}},
		faces:         map[string][]string{"top": {"middle"}},
	}
}

// toyTree is a tree that keeps the toy plan.
func toyTree() fstest.MapFS {
	tree := fstest.MapFS{}
	put(tree, "low/low.go", "math", "example.com/lib/v1")
	put(tree, "low/twin/twin.go")
	put(tree, "middle/middle.go", "example.org/toy/low")
	put(tree, "middle/middle_test.go", "example.org/toy/middle", "example.org/toy/kit", "example.com/assert/require")
	put(tree, "top/top.go", "example.org/toy/middle")
	put(tree, "kit/kit.go", "example.com/assert")
	put(tree, "rules/doc.go")
	tree["README.md"] = &fstest.MapFile{Data: []byte("not Go")}
	return tree
}

func put(tree fstest.MapFS, name string, imports ...string) {
	text := "package p\n"
	for _, imported := range imports {
		text += fmt.Sprintf("import _ %q\n", imported)
	}
	tree[name] = &fstest.MapFile{Data: []byte(text)}
}

func TestCheckerIsSilentWhereThePlanIsKept(t *testing.T) {
	findings, err := toyPlan().check(toyTree())
	require.NoError(t, err)
	assert.Empty(t, findings)
}

func TestEveryRuleFires(t *testing.T) {
	cases := []struct {
		name, file string
		imports    []string
		want       string // "" for no finding
	}{
		{"upward", "low/bad.go", []string{"example.org/toy/top"},
			"low/bad.go imports top, upward from layer 0 to 2"},
		{"upward in a test", "low/bad_test.go", []string{"example.org/toy/middle"},
			"low/bad_test.go imports middle, upward from layer 0 to 1"},
		{"sibling", "low/bad.go", []string{"example.org/toy/low/twin"},
			"low/bad.go imports low/twin, its sibling in layer 0"},
		{"sibling from below its folder", "low/twin/bad.go", []string{"example.org/toy/low"},
			"low/twin/bad.go imports low, its sibling in layer 0"},
		{"package without a row", "attic/attic.go", nil,
			"attic: package without a row in the table of layers"},
		{"package without a row, in testdata", "testdata/attic/attic.go", nil,
			"testdata/attic: package without a row in the table of layers"},
		{"library away from its owner", "middle/bad.go", []string{"example.com/lib"},
			"middle/bad.go imports example.com/lib, which belongs to low"},
		{"a package of the library, in a test", "top/bad_test.go", []string{"example.com/lib/deep"},
			"top/bad_test.go imports example.com/lib/deep, which belongs to low"},
		{"library without an owner", "low/bad.go", []string{"example.com/library"},
			"low/bad.go imports example.com/library, a library without an owner in the table"},
		{"test library outside tests", "middle/bad.go", []string{"example.com/assert"},
			"middle/bad.go imports example.com/assert, which is for test files"},
		{"test library in the second test package", "rules/bad.go", []string{"example.com/assert"},
			"rules/bad.go imports example.com/assert, which is for test files"},
		{"kit outside tests", "middle/bad.go", []string{"example.org/toy/kit"},
			"middle/bad.go imports kit, which is for test files"},
		{"kit that imports ours", "kit/bad.go", []string{"example.org/toy/low"},
			"kit/bad.go imports low: a package for tests imports nothing of ours"},
		{"past what a face may", "top/bad.go", []string{"example.org/toy/low/twin"},
			"top/bad.go imports low/twin: want only middle"},
		{"past what a face may, in a test", "top/good_test.go", []string{"example.org/toy/low/twin"}, ""},
		{"the disk where it is not known", "middle/bad.go", []string{"os"},
			"middle/bad.go imports os, which middle knows nothing of"},
		{"the disk in a test", "middle/good_test.go", []string{"os"}, ""},
		{"the disk elsewhere", "top/good.go", []string{"os"}, ""},
		{"standard library anywhere", "top/good.go", []string{"encoding/json"}, ""},
		{"owner may", "low/good.go", []string{"example.com/lib"}, ""},
		{"hidden folders are not ours", ".cache/x.go", []string{"example.com/lib"}, ""},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			tree := toyTree()
			put(tree, tc.file, tc.imports...)
			findings, err := toyPlan().check(tree)
			require.NoError(t, err)
			if tc.want == "" {
				assert.Empty(t, findings)
				return
			}
			assert.Equal(t, []string{tc.want}, findings)
		})
	}
}

func TestCheckerFindsARowWithoutAPackage(t *testing.T) {
	for _, gone := range []string{"top/top.go", "rules/doc.go"} {
		tree := toyTree()
		delete(tree, gone)
		findings, err := toyPlan().check(tree)
		require.NoError(t, err)
		assert.Equal(t, []string{path.Dir(gone) + ": row without a package"}, findings)
	}
}

func TestCheckerRefusesWhatDoesNotParse(t *testing.T) {
	tree := toyTree()
	tree["low/bad.go"] = &fstest.MapFile{Data: []byte("packag low")}
	_, err := toyPlan().check(tree)
	assert.ErrorContains(t, err, "low/bad.go")
}

// The rows the real plan must refuse: were one of these allowed, the table
// would have been loosened by mistake.
func TestTheHouseRefuses(t *testing.T) {
	cases := []struct{ file, imported string }{
		{"interp/x.go", "github.com/paulmach/orb"},
		{"interp/x.go", module + "/geo"},
		{"internal/cli/x.go", "github.com/paulmach/orb/geojson"},
		{"internal/cli/x.go", "gonum.org/v1/gonum/mat"},
		{"internal/cli/x.go", module + "/internal/mapping/assess"},
		{"internal/cli/x.go", module + "/internal/scouting/plan"},
		{"internal/cli/x.go", module + "/geo/geofile"},
		{"internal/cli/x.go", module + "/internal/followup/season"},
		{"internal/engine/x.go", "os"},
		{"internal/engine/x.go", "time"},
		{"internal/output/report/x.go", "github.com/spf13/cobra"},
		{"cmd/geocoris/x.go", "github.com/spf13/pflag"},
		{"geo/x.go", "github.com/twpayne/go-kml/v3"},
		{"geo/x.go", module + "/geo/geofile"},
		{"internal/geometry/zones/x.go", "github.com/peterstace/simplefeatures/geom"},
		{"internal/mapping/assess/x.go", "github.com/pelletier/go-toml/v2"},
		{"internal/geometry/boundary/x.go", "golang.org/x/text/encoding"},
		{"geo/x.go", "golang.org/x/sync/errgroup"},
		{"geo/x.go", "github.com/stretchr/testify/assert"},
		{"geo/x.go", "pgregory.net/rapid"},
		{"geo/x.go", module + "/internal/testkit"},
	}
	for _, tc := range cases {
		tree := fstest.MapFS{}
		put(tree, tc.file, tc.imported)
		findings, err := house().check(tree)
		require.NoError(t, err)
		refused := slices.ContainsFunc(findings, func(finding string) bool {
			return strings.HasPrefix(finding, tc.file+" imports ")
		})
		assert.True(t, refused, "%s may import %s", tc.file, tc.imported)
	}
}
