package web_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

var deskKey = regexp.MustCompile(`(?m)^  "([^"]*)": "((?:[^"\\]|\\.)*)",$`)

// What the modules of the laptop's page say is in its list of words, and what is in the
// list is said. It is short and plain.
func TestDeskWordsAreSaid(t *testing.T) {
	text, err := os.ReadFile("app/desk/words.js")
	require.NoError(t, err)
	whole, sentences := "", ""
	paths, err := filepath.Glob("app/desk/*.js")
	require.NoError(t, err)
	for _, path := range paths {
		if filepath.Base(path) != "words.js" {
			module, err := os.ReadFile(path)
			require.NoError(t, err)
			whole += string(module)
		}
	}
	keys := map[string]bool{}
	for _, m := range deskKey.FindAllStringSubmatch(string(text), -1) {
		key := m[1]
		assert.False(t, keys[key], key)
		keys[key] = true
		said := strings.Contains(whole, `"`+key+`"`)
		for _, made := range []string{"role-", "column-", "zone-", "record-", "found-"} { // put together from a prefix
			said = said || strings.HasPrefix(key, made) && strings.Contains(whole, "`"+made+"${")
		}
		for _, made := range []string{"-title", "-hint"} {
			said = said || strings.HasSuffix(key, made) && strings.Contains(whole, "}"+made+"`")
		}
		assert.True(t, said, "%s is never said", key)
		if strings.HasSuffix(m[2], ".") {
			sentences += m[2] + "\n"
		}
	}
	testkit.AssertReads(t, sentences, 9, 25)
	require.Greater(t, len(keys), 100)
	for _, m := range regexp.MustCompile(`said\("([^"]+)"`).FindAllStringSubmatch(whole, -1) {
		assert.True(t, keys[m[1]], "no words for %s", m[1])
	}
}
