package web_test

import (
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

var (
	entry = regexp.MustCompile(`"([^"]+)":\s*"((?:[^"\\]|\\.)*)"`)
	slot  = regexp.MustCompile(`\{\w+\}`)
	said  = regexp.MustCompile("say\\((?:\"([^\"]+)\"|`([^`$]+)\\$\\{|[^)\"`]*\\? ?\"([^\"]+)\" : \"([^\"]+)\")")
)

// words are those of a language by their keys.
func words(t testing.TB, language string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("app/words/" + language + ".js")
	require.NoError(t, err)
	all := map[string]string{}
	for _, m := range entry.FindAllStringSubmatch(string(text), -1) {
		assert.NotContains(t, all, m[1], language)
		all[m[1]] = m[2]
	}
	require.Greater(t, len(all), 100)
	return all
}

// Every language says the same things, with the same values put in.
func TestLanguagesSayTheSame(t *testing.T) {
	en := words(t, "en")
	es := words(t, "es")
	for key, text := range en {
		if assert.Contains(t, es, key) {
			assert.ElementsMatch(t, slots(text), slots(es[key]), key)
		}
	}
	for key := range es {
		assert.Contains(t, en, key)
	}
}

func slots(text string) []string {
	all := slot.FindAllString(text, -1)
	slices.Sort(all)
	return slices.Compact(all)
}

// What the modules say is in the list of words, and what is in the list is said.
func TestWordsAreSaid(t *testing.T) {
	en, whole := words(t, "en"), ""
	require.NoError(t, fs.WalkDir(os.DirFS("app"), ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".js") && !strings.HasPrefix(path, "words/") {
			text, err := os.ReadFile("app/" + path)
			whole += string(text)
			return err
		}
		return err
	}))
	found := said.FindAllStringSubmatch(whole, -1)
	require.Greater(t, len(found), 60)
	for _, m := range found {
		for _, key := range []string{m[1], m[3], m[4]} {
			if key != "" {
				assert.Contains(t, en, key)
			}
		}
	}
	for key := range en {
		stem, _, _ := strings.Cut(key, "-") // keys put together: `stage-${stage}`
		assert.True(t, strings.Contains(whole, `"`+key+`"`) || strings.Contains(whole, " "+key+": [") || strings.Contains(whole, "`"+stem+"-${"), key)
	}
}

// What is read is short and plain.
func TestWordsArePlain(t *testing.T) {
	var lines []string
	for _, text := range words(t, "en") {
		if strings.HasSuffix(text, ".") {
			lines = append(lines, text)
		}
	}
	slices.Sort(lines)
	testkit.AssertReads(t, strings.Join(lines, " "), 9, 25)
}
