package survey

import (
	"errors"
	"fmt"
	"strings"
)

// What people write in a column of counts, in small letters without accents: English, German,
// Spanish, French. zeroWords say that nothing was found; maybeNone may as well say that nobody
// looked. Common practice, no source.
var (
	zeroWords = wordSet("none nil zero nothing cero ninguno ninguna nada keine keiner nichts aucun aucune rien")
	maybeNone = wordSet("no zip clean clear - -- null sauber limpio limpia")
	denying   = wordSet("no none nil zero cero sin ningun ninguna keine aucun")
	animals   = wordSet("aphid aphids bug bugs insect insects pulgon pulgones")
	atAll     = wordSet("found seen")
)

// longestZero is how many bytes of a cell are looked at: more are no word for nothing.
const longestZero = 40

// isZero reports whether a count is a word for nothing: none, nil, none found, no aphids. What may
// say that nobody looked is none of them: no, a dash, a blank.
func isZero(text string) bool {
	if len(text) < len("nil") || len(text) > longestZero || text[0] <= '9' { // nearly all
		return false
	}
	words := strings.Fields(plainWord(strings.TrimRight(text, ". ")))
	if n := len(words); n > 1 && atAll()[words[n-1]] {
		words = words[:n-1]
	}
	switch len(words) {
	case 1:
		return zeroWords()[words[0]]
	case 2:
		return denying()[words[0]] && animals()[words[1]]
	}
	return false
}

// wordy columns are those in which a word may stand for nothing.
func (c column) wordy() bool { return c == colCount || c == colMean }

// zerosOf notes the first word that is read as nothing found, and how many rows have one.
func zerosOf(t table, l *layout) string {
	first, line, rows := "", 0, 0
	places := l.placesOf(column.wordy)
	for _, row := range t.Rows {
		for _, p := range places {
			if text := l.text(row, p.column); isZero(text) {
				if rows++; rows == 1 {
					first, line = text, row.Line
				}
				break
			}
		}
	}
	if rows == 0 {
		return ""
	}
	return fmt.Sprintf("%s: words for none, such as %q in line %d, are read as a count of 0; rows: %d", t.File, first, line, rows)
}

// about are the signs and words that people write at a number that they estimated.
var about = [...]string{"~", "≈", "±", "about", "approximately", "approx.", "approx", "around", "roughly", "ca.", "ca", "circa", "c.", "ish", "?", "etwa", "aprox.", "aprox", "env.", "environ", "como"}

// fixOfWord says how to write a count that stands in words; "" where that cannot be told.
func (rd *reader) fixOfWord(err error, c column) string {
	if !errors.Is(err, errNotNumber) || !c.whole() && c != colMean {
		return ""
	}
	word := plainWord(rd.text(c))
	if maybeNone()[word] || isZero(word) {
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
