package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSiteWritesThePageWhole(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, "site", "--out", "site")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "site holds the page for phones")
	all := contents(t, "site")
	for _, name := range []string{"index.html", "main.js", "style.css", "engine.bin", "sw.js", "manifest.webmanifest", "icon.svg"} {
		assert.Contains(t, all, name)
	}
	assert.NotContains(t, all, "worker.js", "it stands in main.js")
	assert.True(t, strings.HasPrefix(all["engine.bin"], "\x1f\x8b"), "packed by gzip")

	code, _, errs = run(t, "site", "--out", "site")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	assert.NotContains(t, errs, "Building", "what is refused is refused at once")

	code, _, errs = run(t, "site")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--out")
}

func TestThePlanForAPhone(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, planned("--stops", "12", "--order", "spread", "--rule", "sorghum-aphid-mean-40", "--stage", "boot", "--phone")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "To walk and count: take walk/phone.html to the phone and open it there.\n")
	assert.Equal(t, append([]string{"phone.html"}, planFiles...), names(t, "walk"))
	page, err := os.ReadFile(filepath.Join("walk", "phone.html"))
	require.NoError(t, err)
	for _, want := range []string{`"settings":{"pest":"sorghum aphid","rule":"sorghum-aphid-mean-40","stage":"boot"}`, `"name":"12"`, `"boundary_file":{"name":"field.geojson"`, "connect-src 'none'"} {
		assert.Contains(t, string(page), want)
	}
}

func TestAPhoneHasThePublishedRulesAlone(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, planned("--stops", "12", "--rules", "mine.toml", "--rule", "mine", "--phone")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--phone has the published rules alone: leave out --rules")
}
