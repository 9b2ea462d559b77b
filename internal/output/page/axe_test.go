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
	b := testkit.StartBrowser(t)
	for name, path := range map[string]string{"week": saved(t, "week2"), "weeks": savedWeeks(t, compared(t))} {
		for _, width := range []int{1280, 360} {
			for _, scheme := range []string{"light", "dark"} {
				open(b, path, width, 800)
				b.Media("", scheme)
				b.Evaluate(string(script) + "; 0")
				found := b.Text(`axe.run().then(r =>
					r.passes.length + " passed;" + r.violations.filter(v => ["serious", "critical"].includes(v.impact)).map(v => " " + v.id + ": " + v.help).join(";"))`)
				var passed int
				_, err := fmt.Sscanf(found, "%d passed;", &passed)
				require.NoError(t, err, found)
				assert.Greater(t, passed, 10, "rules were tried")
				assert.Equal(t, fmt.Sprintf("%d passed;", passed), found, "%s, %d px, %s", name, width, scheme)
			}
		}
	}
}
