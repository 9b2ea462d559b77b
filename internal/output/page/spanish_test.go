package page_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/testkit"
)

func spanish(p page.Page) page.Page {
	p.Units = p.Units.In(vocabulary.Spanish)
	return p
}

func spanishWeeks(t testing.TB, r *compare.Result) string {
	t.Helper()
	var b bytes.Buffer
	p := page.Weeks{Result: r, Program: "geocoris test", Command: "compare", Inputs: []page.Input{{Path: "week1.csv", SHA256: "00ff"}}}
	p.Units = p.Units.In(vocabulary.Spanish)
	require.NoError(t, p.Write(&b))
	return b.String()
}

// savedText is a page in a file.
func savedText(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

var (
	figure = regexp.MustCompile(`\d[\d.,]*\d|\d`)
	// parts that are marked as English, and what names are
	marked = regexp.MustCompile(`(?s)<(ul|p|div|span|cite) ?(?:class="[^"]*")? lang="en">.*?</(?:ul|p|span|cite)>`)
	named  = regexp.MustCompile(`Pivot|Corner block|geocoris test, (map|compare)|week\d\.csv|SHA-256 \w+|Field \d+`)
	// words that no Spanish has
	inEnglish = regexp.MustCompile(`(?i)\b(the|of|and|to|is|are|or|at|by|spray|stops?|field|ground|watch|look|days?|leaf|not|red|average|highest|clear|on|from|visits?|show|where|counted)\b`)
)

// said is a page without what it marks as English: words of its language alone, alt texts
// and what it says when it is touched too.
func said(t *testing.T, text string) string {
	t.Helper()
	text = marked.ReplaceAllString(text, "")
	if at := strings.Index(text, `<div class="words" lang="en">`); at >= 0 { // its parts hold others
		end := strings.Index(text[at:], "</details>")
		require.Positive(t, end)
		text = text[:at] + text[at+end:]
	}
	var all strings.Builder
	all.WriteString(testkit.PageText(t, opened.ReplaceAllString(text, "<section$1>")))
	for _, m := range regexp.MustCompile(`aria-label="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		all.WriteString("\n\n" + m[1])
	}
	return named.ReplaceAllString(all.String(), "")
}

// opened are folds, whose inside no reader of a page is given.
var opened = regexp.MustCompile(`<details([^>]*)>`)

// Pages say in Spanish what they say in English: with the same figures, and no word of
// English but in parts that are marked as that.
func TestPagesInSpanish(t *testing.T) {
	for name, pair := range map[string][2]string{
		"week1": {html(t, of(t, demo(t, "week1"))), html(t, spanish(of(t, demo(t, "week1"))))},
		"week2": {html(t, of(t, demo(t, "week2"))), html(t, spanish(of(t, demo(t, "week2"))))},
		"many":  {html(t, twelve(t)), html(t, spanish(twelve(t)))},
		"weeks": {weeks(t, compared(t)), spanishWeeks(t, compared(t))}, "sprayed": {weeks(t, sprayed(t)), spanishWeeks(t, sprayed(t))},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Contains(t, pair[1], `<html lang="es">`)
			assert.NotContains(t, pair[0], `lang="es"`)
			assert.NotContains(t, strings.Replace(pair[0], `<html lang="en">`, "", 1), `lang="en"`, "an English page marks nothing")
			numbers := func(text string) []string {
				all := figure.FindAllString(testkit.PageText(t, text), -1)
				slices.Sort(all)
				return all
			}
			assert.Equal(t, numbers(pair[0]), numbers(pair[1]))
			text := said(t, pair[1])
			require.Greater(t, len(text), 1000)
			for _, at := range inEnglish.FindAllStringIndex(text, -1) {
				assert.Fail(t, "a word in English", "%q", text[max(0, at[0]-60):min(len(text), at[1]+40)])
			}
			read := testkit.ReadingOf(testkit.PageText(t, pair[1]))
			assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
		})
	}
}

// What the behaviour asks to be said stands in the page's words, and no more.
func TestTheBehaviourSpeaksTheLanguage(t *testing.T) {
	text := html(t, spanish(of(t, demo(t, "week2"))))
	_, words, _ := strings.Cut(text, `id="words">`)
	words, _, _ = strings.Cut(words, "</script>")
	asked := regexp.MustCompile(`\bsay\("([^"]+)"`).FindAllStringSubmatch(text, -1)
	require.Len(t, asked, strings.Count(words, `":"`))
	for _, m := range asked {
		assert.Contains(t, words, `"`+m[1]+`":"`)
		assert.NotContains(t, words, `"`+m[1]+`":"`+m[1]+`"`, "said in English")
	}
}
