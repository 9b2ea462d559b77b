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
			{"geo", "interp", "internal/geometry/nearby", "internal/scouting/key", "internal/files/archive", "internal/files/folder", "internal/files/spreadsheet", "internal/mapping/visit", "testdata/demo", "internal/language/vocabulary", "internal/language/visible", "internal/files/gpkg", "internal/files/keyed", "internal/stat", "internal/recall", "internal/shares", "internal/sorted", "internal/scouting/layout"},
			{"geo/geofile", "internal/geometry/planar", "internal/geometry/contour", "internal/scouting/plan", "internal/scouting/sampling", "internal/geometry/catch", "internal/followup/paired", "internal/mapping/rules", "internal/mapping/fieldstats", "internal/spraying/taskdata", "internal/language/figures", "internal/mapping/decision"},
			{"internal/geometry/boundary", "internal/scouting/survey", "internal/geometry/zones", "internal/spraying/spray"},
			{"internal/mapping/assess", "internal/scouting/observer", "internal/scouting/roster", "internal/followup/change", "internal/followup/season"},
			{"internal/followup/compare", "internal/mapping/verdict", "internal/mapping/check", "internal/output/sheet"},
			{"internal/output/report", "internal/output/fieldwork", "internal/spraying/handoff"},
			{"internal/output/scene"},
			{"internal/output/jobsheet", "internal/output/page"},
			{"internal/engine"},
			{"internal/engine/disk", "internal/web/call"},
			{"internal/web", "internal/web/serve", "internal/web/features"},
			{"internal/cli", "internal/web/build"},
			{"cmd/geocoris/heap"},
			{"cmd/geocoris", "cmd/page", "internal/release"},
		},
		testOnly: []string{"internal/testkit", "internal/testkit/given", "internal/testkit/drawn", "internal/arch"},
		kits:     map[string][]string{"internal/testkit/given": {"geo", "geo/geofile"}, "internal/testkit/drawn": {"internal/mapping/decision", "internal/mapping/verdict"}},
		owners: map[string][]string{
			"github.com/paulmach/orb": { // never interp, which knows metres only, nor cli, which computes nothing
				"geo", "geo/geofile", "internal/geometry/planar", "internal/geometry/contour", "internal/geometry/boundary", "internal/scouting/plan", "internal/output/fieldwork",
				"internal/scouting/survey", "internal/geometry/zones", "internal/mapping/assess", "internal/mapping/verdict", "internal/output/report", "internal/followup/change", "internal/followup/compare", "internal/followup/season",
				"internal/spraying/spray", "internal/spraying/taskdata", "internal/spraying/handoff", "internal/output/jobsheet", "internal/output/scene", "internal/output/page", "internal/testkit/given",
			},
			"codeberg.org/go-pdf/fpdf":             {"internal/output/scene"},
			"golang.org/x/image":                   {"internal/output/scene"},
			"github.com/pelletier/go-toml/v2":      {"internal/files/keyed"},
			"github.com/peterstace/simplefeatures": {"internal/geometry/planar"},
			"github.com/inconshreveable/mousetrap": {"internal/cli"},
			"github.com/spf13/cobra":               {"internal/cli"},
			"github.com/spf13/pflag":               {"internal/cli"},
			"github.com/twpayne/go-kml/v3":         {"geo/geofile"},
			"github.com/xuri/excelize/v2":          {"internal/files/spreadsheet", "internal/scouting/survey"},
			"golang.org/x/sync":                    {"interp", "internal/files/folder", "internal/mapping/assess", "internal/engine"},
			"golang.org/x/sys":                     {"internal/files/folder"},
			"golang.org/x/term":                    {"internal/cli"},
			"golang.org/x/text":                    {"geo/geofile", "internal/scouting/survey", "internal/engine"},
			"gonum.org/v1/gonum":                   {"interp", "internal/mapping/fieldstats", "internal/scouting/observer", "internal/followup/paired"},
			"modernc.org/sqlite":                   {"geo/geofile", "internal/followup/season"},
			"github.com/jackc/pgx/v5":              {"internal/followup/season"},
		},
		faces: map[string][]string{
			"internal/cli":          {"internal/engine", "internal/files/folder", "internal/language", "internal/output", "internal/web"},
			"internal/web":          {},
			"internal/web/call":     {"internal/engine", "internal/language", "internal/output"},
			"internal/web/serve":    {"internal/web/call"},
			"internal/web/features": {"internal/engine"},
		},
		never: map[string][]string{ // no disk, clock, network or terminal
			"internal/engine":   {"flag", "log", "net", "net/http", "os", "os/exec", "syscall", "time"},
			"internal/web/call": {"flag", "log", "net", "net/http", "os", "os/exec", "syscall", "time"},
		},
		testLibraries: []string{"github.com/chromedp/chromedp", "github.com/chromedp/cdproto", "github.com/stretchr/testify", "golang.org/x/net", "pgregory.net/rapid"},
	}
}

func TestImportsKeepToTheHouse(t *testing.T) {
	findings, err := house().check(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	for _, finding := range findings {
		assert.Fail(t, finding)
	}
}
