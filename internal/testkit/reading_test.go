package testkit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/testkit"
)

// Counts as the words are spoken in general American, by ear.
func TestSyllables(t *testing.T) {
	for want, words := range []string{
		1: "leaf leaves spray sprayed spot hot walked filled count stop stops the eye eyes whole ground plain through used seen 1918 % ft don't mapped cure cures",
		2: "aphid aphids threshold treated counted table tables settled houses over under water acre people likely safely scouted insects reaches going player growers every wingless patches quiet region",
		3: "average area decided estimate idea confidence animal position positions beginning radio two-pixel resistance ratio's",
		4: "variogram interpolate ability geocoris kilometre population experience serious-leaf",
		5: "interpolation opportunity university",
		6: "concordance-interval",
	} {
		for _, w := range strings.Fields(words) {
			assert.Equal(t, want, testkit.Syllables(w), w)
		}
	}
}

func TestSentencesOfAText(t *testing.T) {
	for name, tc := range map[string]struct {
		text             string
		sentences, words int
	}{
		"two":                    {"Count every leaf you see. Then go on to the next.", 2, 11},
		"a figure's point":       {"It is 4.5 ha of 12.75 in all.", 1, 8},
		"short forms":            {"Look at e.g. the upper leaf (Bowling et al. 2016) with care.", 1, 12},
		"marks in quotes":        {`Ask “is it over?” Then stop at once.`, 2, 8},
		"a line ends one":        {"north is over its level\nsouth is under its level", 2, 10},
		"a middle dot ends one":  {"north is over its level · south is under its level", 2, 10},
		"labels are left out":    {"stop\nleaves counted\nWrite down what you see.", 1, 5},
		"short with a mark":      {"Stop. Look again!", 2, 3},
		"dashes are no words":    {"go on — or stop – now then.", 1, 6},
		"units are no sentences": {"5 %\n12 ft\n", 0, 0},
		"nothing":                {"", 0, 0},
	} {
		r := testkit.ReadingOf(tc.text)
		assert.Equal(t, tc.sentences, r.Sentences, name)
		assert.Equal(t, tc.words, r.Words, name)
	}
}

// The formula, by hand: 5 words and 7 syllables in one sentence, and 26 words in one.
func TestGradeAndLongestSentence(t *testing.T) {
	r := testkit.ReadingOf("Count aphids on every leaf.")
	assert.Equal(t, 7, r.Syllables)
	assert.InDelta(t, 0.39*5+11.8*7/5-15.59, r.Grade(), 1e-12)
	assert.Zero(t, testkit.ReadingOf("").Grade())

	long := "Go. We " + strings.Repeat("go ", 24) + "on. Go on."
	assert.Equal(t, 26, testkit.ReadingOf(long).LongestWords)
	assert.Equal(t, "We "+strings.Repeat("go ", 24)+"on.", testkit.ReadingOf(long).Longest)
	var found failures
	testkit.AssertReads(&found, long, 9, 26)
	assert.Zero(t, found.n, "at the most")
	testkit.AssertReads(&found, long, 9, 25)
	assert.Equal(t, 1, found.n, "over the most")
	testkit.AssertReads(&found, "Interpolation necessitates geostatistical regularity.", 9, 25)
	assert.Equal(t, 2, found.n, "over the grade")
	testkit.AssertReads(&found, "stop", 9, 25)
	assert.Equal(t, 3, found.n, "nothing was read")
}

// failures counts what assertions complain of.
type failures struct {
	testing.TB
	n int
}

func (f *failures) Helper()               {}
func (f *failures) Name() string          { return "found" }
func (f *failures) Errorf(string, ...any) { f.n++ }

func TestTextOfAPage(t *testing.T) {
	page := `<!DOCTYPE html><html><head><title>no</title><style>p{}</style></head><body><h1>A  map</h1><p>One <b>bold</b>
word.<br>Two.</p><details><summary>More</summary><p>folded</p></details><details open><p>unfolded</p></details>
<svg><text>picture</text></svg><p hidden>hidden</p><p><cite>cited</cite></p><table><tr><td>a</td><td>b</td></tr></table><script>no()</script></body></html>`
	assert.Equal(t, "A map\nOne bold word.\nTwo.\nMore\nunfolded\na\nb", testkit.PageText(t, page))
}
