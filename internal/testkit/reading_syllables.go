package testkit

import (
	"regexp"
	"strings"
	"unicode"
)

// Syllables counts those of an English word as it is spoken, by rules of our own: runs
// of vowels, less an e that is silent, more where vowels that stand together are spoken
// apart, and a list of words that the rules get wrong. Parts that a hyphen, a slash or
// the like joins are counted apart; a figure, or a word without a vowel, is one.
func Syllables(word string) (n int) {
	word = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(word))
	for _, part := range strings.FieldsFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }) {
		n += spoken(part)
	}
	return max(n, 1)
}

var (
	vowels = regexp.MustCompile(`[aeiouy]+`)
	// silent are ends whose e is not spoken: "cure", "cures", "cured", unlike "table",
	// "tables", "settled", "houses", "treated".
	silent = regexp.MustCompile(`(?:[^aeiouyl]e|[aeiouy]le|[^aeiouylscgxz]es|[aeiouy]les|[^aeiouytdl]ed|[aeiouyl]led)$`)
	hissed = regexp.MustCompile(`[cs]hes$`)
	inside = regexp.MustCompile(`[^aeiouyl]e(?:ly|ful|less|ment|ments|ness)$`)
	parted = regexp.MustCompile(`[^tscg]i(?:a|um)|[^tscgdr]ie(?:n|t|r$)|[^tscgx]iou|[^tscgx]ion|io$|io[^nu]|ua(?:l|t)|uou|eo|yi|[aeiou]ing|[aeo]y[aeiou]r|rie(?:r|n|t)|[^q]uie|thm|[^aeiouy]sms?$`)
)

// odd are words that the rules get wrong.
var odd = map[string]int{
	"acre": 2, "acres": 2, "area": 3, "areas": 3, "average": 3, "averages": 3, "people": 2, "idea": 3, "ideas": 3, "create": 2, "created": 3,
	"metre": 2, "metres": 2, "kilometre": 4, "kilometres": 4, "litre": 2, "litres": 2, "centre": 2, "centres": 2,
	"being": 2, "business": 2, "something": 2, "sometimes": 2, "somewhere": 2, "someone": 2, "therefore": 2, "whereas": 2, "everything": 3,
	"every": 2, "several": 3, "different": 3, "difference": 3, "gps": 3, "csv": 3, "geocoris": 4, "society": 4, "naked": 2, "wicked": 2,
	"simile": 3, "recipe": 3, "maybe": 2, "region": 2, "regions": 2, "legion": 2, "million": 2, "billion": 2, "onion": 2, "fashion": 2, "opinion": 3, "species": 2,
}

func spoken(word string) int {
	if n, ok := odd[word]; ok {
		return n
	}
	n := len(vowels.FindAllString(word, -1))
	if n > 1 && silent.MatchString(word) && !hissed.MatchString(word) {
		n--
	}
	if inside.MatchString(word) {
		n--
	}
	n += len(parted.FindAllString(word, -1))
	return max(n, 1)
}
