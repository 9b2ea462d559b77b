package web_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hand gives a file to an input of the page.
func (p phone) hand(id, name, text string) {
	p.t.Helper()
	p.Evaluate(fmt.Sprintf(`(() => { const d = new DataTransfer(), e = document.getElementById(%q); d.items.add(new File([%q], %q)); e.files = d.files; e.dispatchEvent(new Event("change")); })()`, id, text, name))
}

// Last week's red ground is an outline on the map of the walk and at noon, on the picture
// too, each with its words. Of a file of several fields it is that of the field alone; what
// is no such file is refused in plain words, and keeps what is known.
func TestLastWeekIsAnOutline(t *testing.T) {
	zones, _, _ := native(t)
	require.Greater(t, strings.Count(zones, `"zone":"treat"`), 0)
	other := strings.ReplaceAll(strings.ReplaceAll(zones, `"field":"Pivot"`, `"field":"Elsewhere"`), `"field":"Corner block"`, `"field":"Pivot"`)
	p := newPhone(t)
	p.keep(append(begun(t, mean, 12), cleanWalk(12)...)...)
	p.shows("walk")
	p.Evaluate(`history.back()`)
	p.shows("before")
	p.openAll()
	alert := func() string { return p.status("alert") }
	for _, wrong := range []string{"no JSON", `{"type":"FeatureCollection","features":[]}`, `{"features":"x"}`, "null", `{"features":[null]}`} {
		p.hand("week", "zones.geojson", wrong)
		p.Await(`document.getElementById("alert").textContent !== ""`)
		assert.Equal(t, "That file has no zones. Choose the zones.geojson that a map left.", alert(), wrong)
		p.Evaluate(`document.getElementById("alert").textContent = ""; 0`)
	}
	p.hand("week", "zones.geojson", other)
	p.Await(`document.getElementById("screen").textContent.includes("Last week no ground was red.")`)
	p.hand("week", "zones.geojson", zones)
	p.Await(`document.getElementById("screen").textContent.includes("Last week's outline is on the map.")`)
	p.again()
	p.shows("walk")
	assert.GreaterOrEqual(t, p.Evaluate(`document.querySelectorAll(".map path.week").length`), 1.0)
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found svg") !== null`)
	assert.Equal(t, 2.0, p.Evaluate(`document.querySelectorAll("#found path.week").length`), "on the map and in its legend")
	assert.Contains(t, p.Text(`document.querySelector(".legend").textContent`), "last week's red ground")
	p.openAll()
	p.screen("noon-week")
	drawn := p.Text(`import("./main.js").then(({ modules }) => [modules["picture.js"], modules["legend.js"]]).then(([m, l]) => m.sheetOf(document.querySelector("#found svg"), { title: "", answer: "", legend: l.signs({ zones: [] }, { week: [1] }), heading: "", cautions: [] }).outerHTML)`)
	assert.Equal(t, 2, strings.Count(drawn, `class="week"`), "on the picture and in its legend")
	assert.Contains(t, drawn, "last week's red ground")
}
