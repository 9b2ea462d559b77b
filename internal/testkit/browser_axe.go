//go:build !js

package testkit

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// EnhancedContrast is axe-core's rule of a contrast of 7 to 1, which is not tried if nobody asks.
const EnhancedContrast = "color-contrast-enhanced"

// ofColours are the rules of axe-core that look at colours.
var ofColours = []string{"color-contrast", "link-in-text-block"}

// AssertAccessible holds that axe-core, which tests pages for the rules of WCAG and for
// good practice such as landmarks, finds no fault in the page that is shown, by its usual
// rules and others. GEOCORIS_AXE names the folder that the npm package axe-core was
// installed into.
func (b *Browser) AssertAccessible(what string, others ...string) {
	b.t.Helper()
	also := map[string]any{}
	for _, rule := range others {
		also[rule] = map[string]bool{"enabled": true}
	}
	b.assertAxe(what, 6, map[string]any{"rules": also})
}

// AssertAccessibleInBoth is AssertAccessible in light and in dark colours. In the dark rules
// of colours alone are tried: the others look at what is there, and that is the same.
func (b *Browser) AssertAccessibleInBoth(medium, what string, others ...string) {
	b.t.Helper()
	b.Media(medium, "light")
	b.AssertAccessible(what+", light", others...)
	light := b.Text(shownElements)
	b.Media(medium, "dark")
	assert.Equal(b.t, light, b.Text(shownElements), "%s: other elements in the dark", what)
	b.assertAxe(what+", dark", 1, map[string]any{"runOnly": append(ofColours, others...)})
}

// shownElements says of each element whether it is to be seen.
const shownElements = `[...document.querySelectorAll("*")].map(e => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) ? "1" : "0").join("")`

// assertAxe holds that rules find no fault, and so many at least had something to look at.
func (b *Browser) assertAxe(what string, least int, options map[string]any) {
	b.t.Helper()
	b.loadAxe()
	options["resultTypes"] = []string{"violations"} // of the others it need not gather the elements
	said, err := json.Marshal(options)
	require.NoError(b.t, err)
	found := b.Text(`axe.run(` + string(said) + `).then(r =>
		r.passes.length + " passed;" + r.violations.map(v => " " + v.id + ": " + v.help + " " + v.nodes.map(n => n.target.join(" ")).slice(0, 3)).join(";"))`)
	var passed int
	_, err = fmt.Sscanf(found, "%d passed;", &passed)
	require.NoError(b.t, err, found)
	assert.GreaterOrEqual(b.t, passed, least, "rules were tried: %s", what)
	assert.Equal(b.t, fmt.Sprintf("%d passed;", passed), found, what)
}

// loadAxe brings axe-core to the page, once.
func (b *Browser) loadAxe() {
	b.t.Helper()
	if b.Evaluate(`typeof axe === "object"`) == true {
		return
	}
	folder := os.Getenv("GEOCORIS_AXE")
	if folder == "" {
		Missing(b.t, "npm package axe-core (GEOCORIS_AXE names the folder it was installed into)")
	}
	script, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(b.t, err)
	b.Evaluate(string(script) + "; 0")
}
