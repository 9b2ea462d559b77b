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

// axe-core, which tests pages for the rules of WCAG and for good practice with headings
// and landmarks, finds nothing, in light and in dark, on a laptop and on a phone, with
// all folded parts open. GEOCORIS_AXE names
// the folder that the npm package axe-core was installed into.
func TestAxeFindsNoFault(t *testing.T) {
	folder := os.Getenv("GEOCORIS_AXE")
	if folder == "" {
		testkit.Missing(t, "npm package axe-core (GEOCORIS_AXE names the folder it was installed into)")
	}
	script, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(t, err)
	b := testkit.StartBrowser(t)
	for name, path := range map[string]string{"week": saved(t, "week2"), "unlike": savedPage(t, unlike(t)), "fields": savedPage(t, of(t, demo(t, "week3"))), "weeks": savedWeeks(t, compared(t)),
		"fields in Spanish": savedPage(t, spanish(of(t, demo(t, "week3")))), "weeks in Spanish": savedText(t, spanishWeeks(t, compared(t)))} {
		for _, width := range []int{1280, 360} {
			for _, scheme := range []string{"light", "dark"} {
				open(b, path, width, 800)
				b.Media("", scheme)
				b.Evaluate(string(script) + "; 0")
				b.Evaluate(openAll)
				found := b.Text(`axe.run().then(r =>
					r.passes.length + " passed;" + r.violations.map(v => " " + v.id + ": " + v.help + " " + v.nodes[0].html.slice(0, 120)).join(";"))`)
				var passed int
				_, err := fmt.Sscanf(found, "%d passed;", &passed)
				require.NoError(t, err, found)
				assert.Greater(t, passed, 10, "rules were tried")
				assert.Equal(t, fmt.Sprintf("%d passed;", passed), found, "%s, %d px, %s", name, width, scheme)
			}
		}
	}
}
