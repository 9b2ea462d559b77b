package cli_test

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// Tolerances of the data handed over: what another processor may round otherwise.
const (
	degreesNear = 2e-7 // two of the last decimal that files have, 2 cm
	figuresNear = 0.02 // m², m, s or L, of which files have hundredths
	wholeNear   = 1    // m² of task data, which are whole
	cellsNear   = 2    // cells of a grid that lie on the rule's very edge
)

// The data of the demo's third week, handed over with all that can be typed in, are
// those of the golden files.
func TestHandoffDataAreGolden(t *testing.T) {
	mapped(t)
	code, _, errs := run(t, handOff(append([]string{"--grid", "4m"}, everything...)...)...)
	require.Zero(t, code, errs)
	golden := func(name string) string { return filepath.Join("handoff", name) }
	job := func(name string) []byte {
		content, err := os.ReadFile(filepath.Join("job", name))
		require.NoError(t, err)
		return content
	}
	testkit.GoldenJSON(t, golden("handoff.json"), job("handoff.json"), figuresNear,
		testkit.Member{Name: "longitude", Tolerance: degreesNear}, testkit.Member{Name: "latitude", Tolerance: degreesNear},
		testkit.Member{Name: "sprayed_per_treatable", Tolerance: 1e-4}, testkit.Member{Name: "heading_deg", Tolerance: 1e-3})
	for _, name := range []string{"ground.geojson", "swaths.geojson", "passes.geojson", "switches.geojson", "keep_off.geojson"} {
		testkit.GoldenJSON(t, golden(name), job(name), degreesNear,
			testkit.Member{Name: "area_ha", Tolerance: 1e-4}, testkit.Member{Name: "area_ac", Tolerance: 1e-4},
			testkit.Member{Name: "on_m", Tolerance: figuresNear}, testkit.Member{Name: "off_m", Tolerance: figuresNear})
	}
	testkit.GoldenXML(t, golden("passes.gpx"), job("passes.gpx"), degreesNear)

	unzip(t, "job/TASKDATA.zip", "task")
	text, err := os.ReadFile("task/TASKDATA/TASKDATA.XML")
	require.NoError(t, err)
	testkit.GoldenXML(t, golden("TASKDATA.XML"), text, degreesNear,
		testkit.Member{Name: "PFD.D", Tolerance: wholeNear}, testkit.Member{Name: "PLN.C", Tolerance: wholeNear},
		testkit.Member{Name: "GRD.C", Tolerance: 1e-11}, testkit.Member{Name: "GRD.D", Tolerance: 1e-11}, testkit.Member{Name: "VPN.C", Tolerance: 1e-14})
	got := matrix(t, text)
	want := strings.Split(strings.TrimSuffix(string(testkit.Golden(t, golden("grid.txt"), []byte(strings.Join(got, "\n")+"\n"))), "\n"), "\n")
	require.Len(t, got, len(want), "rows")
	other := 0
	for i := range want {
		require.Len(t, got[i], len(want[i]), "columns")
		for k := range want[i] {
			if got[i][k] != want[i][k] {
				other++
			}
		}
	}
	assert.LessOrEqual(t, other, cellsNear, "cells that are not as they were")
}

// matrix is the grid of the task data, north up: # on, . off.
func matrix(t *testing.T, taskData []byte) (rows []string) {
	t.Helper()
	var read struct {
		Tasks []struct {
			Grid struct {
				Columns int    `xml:"E,attr"`
				Rows    int    `xml:"F,attr"`
				File    string `xml:"G,attr"`
			} `xml:"GRD"`
		} `xml:"TSK"`
	}
	require.NoError(t, xml.Unmarshal(taskData, &read))
	require.Len(t, read.Tasks, 1)
	g := read.Tasks[0].Grid
	cells, err := os.ReadFile(filepath.Join("task", "TASKDATA", g.File+".bin"))
	require.NoError(t, err)
	require.Len(t, cells, g.Columns*g.Rows)
	for row := g.Rows - 1; row >= 0; row-- {
		var b strings.Builder
		for _, code := range cells[row*g.Columns : (row+1)*g.Columns] {
			b.WriteByte(".#"[code])
		}
		rows = append(rows, b.String())
	}
	return rows
}
