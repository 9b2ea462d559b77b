//go:build !js

package testkit

import (
	"fmt"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// told is a test that fails nowhere and keeps what it was told.
type told struct {
	testing.TB
	faults []string
}

func (l *told) Errorf(format string, args ...any) {
	l.faults = append(l.faults, fmt.Sprintf(format, args...))
}

// What is faint in the dark alone, or is there in the dark alone, is found; and by rules
// that were asked for what is faint to them.
func TestFaultsInTheDarkAreFound(t *testing.T) {
	if os.Getenv("GEOCORIS_AXE") == "" {
		Missing(t, "npm package axe-core")
	}
	b := StartBrowser(t)
	for style, want := range map[string]string{
		"":                  "",
		"p { color: #999 }": "light",
		"@media (prefers-color-scheme: dark) { p { color: #999 } }":            "dark",
		"@media (prefers-color-scheme: dark) { p { color: #666 } }":            "dark",
		"@media (prefers-color-scheme: dark) { p { display: none } }":          "other elements in the dark",
		"@media (prefers-color-scheme: dark) { p { opacity: 0 } }":             "other elements in the dark",
		"@media (prefers-color-scheme: light) { p:last-child { color: #999 }}": "light",
	} {
		b.Open("data:text/html;charset=utf-8,"+url.PathEscape(`<!DOCTYPE html><html lang="en"><meta name="viewport" content="width=device-width"><title>t</title><style>`+style+
			`</style><main><h1>one</h1><p>two</p><p>three</p></main></html>`), 400, 800)
		l := &told{TB: t}
		b.t = l
		b.AssertAccessibleInBoth("screen", "a page", EnhancedContrast)
		b.t = t
		if all := strings.Join(l.faults, "\n"); want == "" {
			assert.Empty(t, all, style)
		} else {
			assert.Contains(t, all, want, style)
		}
	}
}
