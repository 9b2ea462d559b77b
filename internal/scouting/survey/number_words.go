package survey

import (
	"errors"
	"fmt"
	"strings"
	"sync"
)

// noneWords are what people write for a count of nothing, in small letters without accents:
// English, German, Spanish, French. Each may as well say that nobody looked. Common practice,
// no source.
var noneWords = sync.OnceValue(func() *map[string]bool {
	m := map[string]bool{}
	for word := range strings.FieldsSeq("none nil zero zip nothing no clean clear - -- keine keiner nichts null sauber ninguno ninguna nada cero limpio limpia aucun aucune rien") {
		m[word] = true
	}
	return &m
})

// about are the signs and words that people write at a number that they estimated.
var about = [...]string{"~", "≈", "±", "about", "approximately", "approx.", "approx", "around", "roughly", "ca.", "ca", "circa", "c.", "ish", "?", "etwa", "aprox.", "aprox", "env.", "environ", "como"}

// fixOfWord says how to write a count that stands in words; "" where that cannot be told.
func (rd *reader) fixOfWord(err error, c column) string {
	if !errors.Is(err, errNotNumber) || !c.whole() && c != colMean {
		return ""
	}
	word := plainWord(rd.text(c))
	if (*noneWords())[word] {
		return "write 0 if you looked and found none"
	}
	if bare := aboutWhat(word); bare != word && isPlain(bare) {
		return fmt.Sprintf("write just %s", bare)
	}
	if digits := strings.ReplaceAll(word, "o", "0"); digits != word && isPlain(digits) {
		return fmt.Sprintf("is it the letter O? write %s", digits)
	}
	return ""
}

// aboutWhat is a number without the signs and words of an estimate.
func aboutWhat(word string) string {
	for _, sign := range about {
		word = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(word, sign), sign))
	}
	return word
}
