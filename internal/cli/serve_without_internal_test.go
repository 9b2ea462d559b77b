//go:build !js

package cli

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web/call"
)

// inMergedSeason is a folder with a season of two scouts who were both in the demo's fields
// in its second week. Invented.
func inMergedSeason(t *testing.T) call.Desk {
	t.Helper()
	inDemo(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	require.NoError(t, os.WriteFile("again.csv", []byte(strings.Join(lines[:len(lines)-6], "")), 0o600))
	for _, line := range []string{
		"season add one.gpkg week1.csv --field field.geojson", "season add one.gpkg week2.csv --field field.geojson --author Anna",
		"season add two.gpkg again.csv --field field.geojson --author Ben", "season merge season.gpkg one.gpkg two.gpkg",
	} {
		runsLine(t, "geocoris "+line)
	}
	folder, err := openDesk(".")
	require.NoError(t, err)
	t.Cleanup(func() { folder.root.Close() })
	return call.Desk{Version: version(), Folder: folder, Seasons: seasonFiles{}, Memory: call.NewMemory()}
}

// Which of two visits of a day counts is asked for on the page too, and what is left out
// there is left out by the command that it shows.
func TestThePageLeavesOutVisitsAsItsCommandDoes(t *testing.T) {
	desk := inMergedSeason(t)
	refused := desk.Answer(t.Context(), call.Call{Do: "weeks", Settings: json.RawMessage(`{}`)})
	require.NotNil(t, refused.Error)
	assert.Contains(t, refused.Error.Message, "are both of Corner block, Pivot on 2026-07-15")

	reply, facts := factsOf(t, desk, "weeks", `{"without":[3]}`)
	assert.Contains(t, facts["command"], " --without 3")
	runsLine(t, facts["command"].(string))
	assertSame(t, "change", reply)
	_, two := factsOf(t, desk, "weeks", `{"without":[2]}`)
	assert.NotEqual(t, facts["fields"], two["fields"], "the other scout counted other stops")
	none := desk.Answer(t.Context(), call.Call{Do: "weeks", Settings: json.RawMessage(`{"without":[1,2,3]}`)})
	require.NotNil(t, none.Error)
	assert.Contains(t, none.Error.Message, "no visit is left")
}

// On the page the visits to be left out are ticked, and what was asked for is said there by
// its place, not by a flag.
func TestTheLaptopLeavesOutVisits(t *testing.T) {
	testkit.WantBrowser(t)
	inMergedSeason(t)
	p := newLaptop(t, ".", 1366)
	p.Await(`document.querySelector("#told .wrong") !== null`)
	said := p.Text(`document.querySelector("#told .wrong").textContent`)
	assert.Regexp(t, `visits 2 \((Anna|Ben)\), 3 \((Anna|Ben)\) are both of Corner block, Pivot on 2026-07-15`, said)
	assert.Contains(t, said, "say which to leave out, under “Leave out a visit”")
	assert.NotContains(t, said, "--")
	assert.Regexp(t, `^Visit 3 \((Ben\): Wednesday 15 July 2026, 49|Anna\): Wednesday 15 July 2026, 54) stops in all$`, p.Text(`document.querySelector("label[for=without-3]").textContent`))
	p.looks("weeks-two-of-a-day")
	p.TabTo("#without-3")
	p.Key("Space")
	p.Await(`document.querySelector("#command pre").textContent.includes(" --without 3") && document.querySelectorAll("#told h3").length > 0`)
	assert.Equal(t, "without-3", p.Text(`document.activeElement.id`))
	p.quiet()
}
