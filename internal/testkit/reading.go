package testkit

import (
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// A Reading is how hard a text is to read.
type Reading struct {
	Sentences, Words, Syllables int
	Longest                     string // sentence, by words
	LongestWords                int
}

// labelWords is the most words of a label, such as a heading or a cell of a table.
// Labels are no sentences: many of them would hide hard sentences beside them.
const labelWords = 3

// ReadingOf reads a text of a page or a screen. A sentence ends at a full stop, a
// question or exclamation mark before a capital, a digit or the end, at a middle dot
// between spaces, and at the end of a line; who wraps lines joins them first. What has
// three words or fewer and no mark at its end is a label and is left out. A figure is
// one word of one syllable.
func ReadingOf(text string) (r Reading) {
	for _, sentence := range sentences(text) {
		words := wordsOf(sentence)
		if len(words) == 0 || len(words) <= labelWords && !ended(sentence) {
			continue
		}
		r.Sentences++
		r.Words += len(words)
		for _, w := range words {
			r.Syllables += Syllables(w)
		}
		if len(words) > r.LongestWords {
			r.Longest, r.LongestWords = sentence, len(words)
		}
	}
	return r
}

// Grade is the school grade of the United States for which the text is written:
// 0.39 words/sentences + 11.8 syllables/words − 15.59 (Kincaid, Fishburne, Rogers &
// Chissom 1975, Research Branch Report 8-75; the figures from memory). It is 0 for a
// text without sentences.
func (r Reading) Grade() float64 {
	if r.Sentences == 0 {
		return 0
	}
	words := float64(r.Words)
	return 0.39*words/float64(r.Sentences) + 11.8*float64(r.Syllables)/words - 15.59
}

// AssertReads holds that a text has sentences, is for a grade or below, and that no
// sentence of it has more words than the most.
func AssertReads(t testing.TB, text string, grade float64, most int) {
	t.Helper()
	r := ReadingOf(text)
	assert.NotZero(t, r.Sentences, "sentences that were read")
	assert.LessOrEqual(t, r.Grade(), grade, "Flesch-Kincaid grade of %d sentences", r.Sentences)
	assert.LessOrEqual(t, r.LongestWords, most, "words of the longest sentence: %s", r.Longest)
}

// stops are where a sentence may end, with what belongs to the mark.
var stops = regexp.MustCompile(`[.!?…]+["'”’)\]]*\s+|\s+·\s+|\s*\n\s*`)

func sentences(text string) (all []string) {
	from := 0
	for _, at := range stops.FindAllStringIndex(text, -1) {
		if mark := text[at[0]:at[1]]; strings.ContainsAny(mark, "\n·") || !goesOn(text[from:at[0]], text[at[1]:]) {
			all = append(all, strings.TrimSpace(text[from:at[1]]))
			from = at[1]
		}
	}
	return append(all, strings.TrimSpace(text[from:]))
}

// goesOn reports whether a point was one of a short form.
func goesOn(before, after string) bool {
	if next, _ := utf8.DecodeRuneInString(after); unicode.IsLower(next) {
		return true
	}
	words := strings.Fields(before)
	if len(words) == 0 {
		return true
	}
	switch last := strings.ToLower(strings.TrimLeft(words[len(words)-1], "(")); last {
	case "e.g", "i.e", "cf", "vs", "al", "approx", "fig", "dr":
		return true
	default:
		return len(last) == 1 && unicode.IsLetter(rune(last[0])) // an initial
	}
}

// ended reports whether a mark closes the sentence.
func ended(sentence string) bool {
	bare := strings.TrimRight(sentence, `"'”’)] `)
	last, _ := utf8.DecodeLastRuneInString(bare)
	return strings.ContainsRune(".!?…", last)
}

// wordsOf are what stands between spaces and dashes and holds a letter or a digit.
func wordsOf(sentence string) (words []string) {
	for _, w := range strings.Fields(strings.NewReplacer("—", " ", " – ", " ").Replace(sentence)) {
		if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			words = append(words, w)
		}
	}
	return words
}
