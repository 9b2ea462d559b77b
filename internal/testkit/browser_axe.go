//go:build !js

package testkit

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// AssertAccessible holds that axe-core, which tests pages for the rules of WCAG and for
// good practice such as landmarks, finds no fault in the page that is shown.
// GEOCORIS_AXE names the folder that the npm package axe-core was installed into.
func (b *Browser) AssertAccessible(what string) {
	b.t.Helper()
	folder := os.Getenv("GEOCORIS_AXE")
	if folder == "" {
		Missing(b.t, "npm package axe-core (GEOCORIS_AXE names the folder it was installed into)")
	}
	script, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(b.t, err)
	b.Evaluate(string(script) + "; 0")
	found := b.Text(`axe.run().then(r =>
		r.passes.length + " passed;" + r.violations.map(v => " " + v.id + ": " + v.help + " " + v.nodes.map(n => n.target.join(" ")).slice(0, 3)).join(";"))`)
	var passed int
	_, err = fmt.Sscanf(found, "%d passed;", &passed)
	require.NoError(b.t, err, found)
	assert.Greater(b.t, passed, 5, "rules were tried")
	assert.Equal(b.t, fmt.Sprintf("%d passed;", passed), found, what)
}
