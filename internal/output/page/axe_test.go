package page_test

import (
	"fmt"
	"testing"

	"github.com/geocoris/geocoris/internal/testkit"
)

// axe-core finds nothing, in light and in dark, on a laptop and on a phone, with all folded
// parts open.
func TestAxeFindsNoFault(t *testing.T) {
	b := testkit.StartBrowser(t)
	for name, path := range map[string]string{"week": saved(t, "week2"), "unlike": savedPage(t, unlike(t)), "fields": savedPage(t, of(t, demo(t, "week3"))), "weeks": savedWeeks(t, compared(t)),
		"fields in Spanish": savedPage(t, spanish(of(t, demo(t, "week3")))), "weeks in Spanish": savedText(t, spanishWeeks(t, compared(t)))} {
		for _, width := range []int{1280, 360} {
			open(b, path, width, 800)
			b.Evaluate(openAll)
			b.AssertAccessibleInBoth("", fmt.Sprintf("%s, %d px", name, width))
		}
	}
}
