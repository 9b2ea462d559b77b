package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// axe-core, which tests pages for the rules of WCAG, finds nothing serious or
// critical, in light and in dark, on a laptop and on a phone. GEOCORIS_AXE names
// the folder that the npm package axe-core was installed into.
func TestAxeFindsNoSeriousFault(t *testing.T) {
	folder := os.Getenv("GEOCORIS_AXE")
	if folder == "" {
		testkit.Missing(t, "npm package axe-core (GEOCORIS_AXE names the folder it was installed into)")
	}
	script, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(t, err)
	b := newBrowser(t)
	for _, width := range []int{1280, 360} {
		for _, scheme := range []string{"light", "dark"} {
			b.session = ""
			b.open(saved(t, "week2"), width, 800)
			b.call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
			b.evaluate(string(script) + "; 0")
			var out struct {
				Result           struct{ Value string }
				ExceptionDetails any
			}
			b.call("Runtime.evaluate", map[string]any{"awaitPromise": true, "returnByValue": true, "expression": `axe.run().then(r =>
				r.passes.length + " passed;" + r.violations.filter(v => ["serious", "critical"].includes(v.impact)).map(v => " " + v.id + ": " + v.help).join(";"))`}, &out)
			require.Nil(t, out.ExceptionDetails)
			var passed int
			_, err := fmt.Sscanf(out.Result.Value, "%d passed;", &passed)
			require.NoError(t, err, out.Result.Value)
			assert.Greater(t, passed, 10, "rules were tried")
			assert.Equal(t, fmt.Sprintf("%d passed;", passed), out.Result.Value, "%d px, %s", width, scheme)
		}
	}
}
