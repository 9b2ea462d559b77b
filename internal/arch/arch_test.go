package arch_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

const module = "github.com/geocoris/geocoris"

// house is the plan of this repository: the layers, lowest first, and the owner
// of each library. The checker reads it, nothing else knows it.
func house() plan {
	return plan{
		module: module,
		layers: [][]string{
			{"geo", "interp", "internal/key", "internal/observer", "internal/archive", "internal/folder", "internal/visit", "testdata/demo"},
			{"geo/geofile", "internal/planar", "internal/contour", "internal/plan", "internal/sampling", "internal/catch", "internal/paired", "internal/rules", "internal/fieldstats", "internal/taskdata"},
			{"internal/boundary", "internal/survey", "internal/zones", "internal/spray"},
			{"internal/assess", "internal/handoff", "internal/eye", "internal/change", "internal/season"},
			{"internal/compare", "internal/verdict", "internal/check", "internal/sheet"},
			{"internal/report", "internal/fieldwork"},
			{"internal/scene"},
			{"internal/jobsheet", "internal/page"},
			{"internal/engine"},
			{"internal/cli"},
			{"cmd/geocoris"},
		},
		testOnly: []string{"internal/testkit", "internal/arch"},
		owners: map[string][]string{
			"github.com/paulmach/orb": { // never interp, which knows metres only, nor cli, which computes nothing
				"geo", "geo/geofile", "internal/planar", "internal/contour", "internal/boundary", "internal/plan", "internal/fieldwork",
				"internal/survey", "internal/zones", "internal/assess", "internal/report", "internal/change", "internal/compare", "internal/season",
				"internal/spray", "internal/taskdata", "internal/handoff", "internal/jobsheet", "internal/scene", "internal/page",
			},
			"codeberg.org/go-pdf/fpdf":             {"internal/scene"},
			"golang.org/x/image":                   {"internal/scene"},
			"github.com/pelletier/go-toml/v2":      {"internal/engine", "internal/rules"},
			"github.com/peterstace/simplefeatures": {"internal/planar"},
			"github.com/spf13/cobra":               {"internal/cli"},
			"github.com/spf13/pflag":               {"internal/cli"},
			"github.com/twpayne/go-kml/v3":         {"geo/geofile"},
			"github.com/xuri/excelize/v2":          {"internal/survey"},
			"golang.org/x/sync":                    {"interp", "internal/assess", "internal/engine"},
			"golang.org/x/sys":                     {"internal/folder"},
			"golang.org/x/term":                    {"internal/cli"},
			"golang.org/x/text":                    {"geo/geofile", "internal/survey"},
			"gonum.org/v1/gonum":                   {"interp", "internal/observer", "internal/paired"},
			"modernc.org/sqlite":                   {"geo/geofile", "internal/season"},
		},
		testLibraries: []string{"github.com/chromedp/chromedp", "github.com/chromedp/cdproto", "github.com/stretchr/testify", "pgregory.net/rapid"},
	}
}

func TestImportsKeepToTheHouse(t *testing.T) {
	findings, err := house().check(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	for _, finding := range findings {
		assert.Fail(t, finding)
	}
}
