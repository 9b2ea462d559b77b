//go:build !small

package survey

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// What people write in a column of counts, in small letters without accents: English, German,
// Spanish, French. Common practice, no source.
var (
	zeroWords = wordSet("zero cero")                                                                   // say 0
	bareNone  = wordSet("none nil nothing ninguno ninguna nada keine keiner nichts aucun aucune rien") // so do programs where nobody looked
	maybeNone = wordSet("no zip clean clear - -- null sauber limpio limpia")                           // say as well that nobody looked
	denying   = wordSet("no none nil zero cero sin ningun ninguna keine aucun")
	animals   = wordSet("aphid aphids bug bugs insect insects pulgon pulgones")
	atAll     = wordSet("found seen")
)

// longestZero is how many bytes of a cell are looked at: more are no word for nothing.
const longestZero = 40

// zeroOf reports whether a count is a word for nothing: in so many words, as none found, no aphids
// or zero; or bare, as none or nil, which programs write for a blank. What may say that nobody looked
// is neither: no, a dash, a blank.
func zeroOf(text string) (zero, bare bool) {
	if len(text) < len("nil") || len(text) > longestZero || text[0] <= '9' { // nearly all
		return false, false
	}
	words := zeroParts(text)
	said := len(words) > 1 && atAll()[words[len(words)-1]]
	if said {
		words = words[:len(words)-1]
	}
	switch len(words) {
	case 1:
		known := bareNone()[words[0]]
		return zeroWords()[words[0]] || known && said, known && !said
	case 2:
		return denying()[words[0]] && animals()[words[1]], false
	}
	return false, false
}

// zeroParts are the words of a cell as those for nothing are kept.
func zeroParts(text string) []string {
	return strings.Fields(plainWord(strings.TrimRight(text, ". ")))
}

// wordy columns are those in which a word may stand for nothing.
func (c column) wordy() bool { return c == colCount || c == colMean }

// isZero reports whether a count is a word for nothing that is read as 0.
func (l *layout) isZero(text string) bool {
	zero, bare := zeroOf(text)
	return zero || bare && l.bareZero
}

// longestTail is how many rows at the end of a table may have but a bare word for nothing, and not
// be those that nobody walked: our choice.
const longestTail = 4

// bareZero reports whether bare words for nothing are counts of 0. Programs write them into blanks,
// of other columns too, and people into a table before they walk; who counts nothing and writes 0
// means something else by none. So they are not where the table has a 0 among its counts, or the
// word in another column, or where they are most of its counts or its last five and more.
func bareZero(t table, l *layout) bool {
	places := l.placesOf(column.wordy)
	if !slices.ContainsFunc(t.Rows, func(r row) bool {
		return slices.ContainsFunc(places, func(p placed) bool { _, is := zeroOf(l.text(r, p.column)); return is })
	}) { // nearly all
		return false
	}
	words, counts := map[string]bool{}, map[int]bool{}
	for _, p := range places {
		if counts[p.at] = true; !l.fewBare(t, p.column, words) {
			return false
		}
	}
	return !t.holdsBeside(counts, words)
}

// fewBare reports whether bare words for nothing are few enough in a column of counts without a 0,
// and adds them to words. Blanks and sums of rows are no counts.
func (l *layout) fewBare(t table, c column, words map[string]bool) bool {
	rd := reader{layout: l, table: t}
	bare, filled, tail := 0, 0, 0
	for _, rd.row = range t.Rows {
		text := rd.text(c)
		if text == "" || maybeNone()[plainWord(text)] || rd.sums[rd.row.Line] || rd.sumsUp() {
			continue
		}
		if isNought(text) {
			return false
		}
		filled, tail = filled+1, tail+1
		if _, is := zeroOf(text); is {
			bare++
			words[zeroParts(text)[0]] = true
		} else {
			tail = 0
		}
	}
	return 2*bare <= filled && tail <= longestTail
}

// isNought reports whether a cell begins with the number 0.
func isNought(text string) bool {
	rest := strings.TrimLeft(text, "0.,")
	return text != "" && text[0] == '0' && (rest == "" || rest[0] < '0' || rest[0] > '9')
}

// holdsBeside reports whether a table has one of some words alone in a cell outside some columns.
func (t *table) holdsBeside(columns map[int]bool, words map[string]bool) bool {
	for _, r := range t.Rows {
		for i, cell := range r.Cells {
			if columns[i] || len(cell) > longestZero {
				continue
			}
			if parts := zeroParts(cell); len(parts) == 1 && words[parts[0]] {
				return true
			}
		}
	}
	return false
}

// zerosOf notes the first word that is read as nothing found, and how many rows that are used
// have one.
func zerosOf(t table, l *layout, problems [][]Problem) string {
	first, line, rows := "", 0, 0
	places := l.placesOf(column.wordy)
	for i, row := range t.Rows {
		for _, p := range places {
			if text := l.text(row, p.column); l.isZero(text) && !slices.ContainsFunc(problems[i], Problem.refuses) {
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
	if maybeNone()[word] || likeNone(word) {
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

// foundWords are Spanish for what atAll has: none is read with them, but it is told what to write.
var foundWords = wordSet("visto vista vistos vistas encontrado encontrada encontrados encontradas")

// likeNone reports whether a cell that is not read may say that nothing was found: none?, (none),
// 0 found, no mites.
func likeNone(word string) bool {
	parts := strings.Fields(strings.Trim(word, " .?!()[]-–\"'"))
	if n := len(parts); n > 1 && (atAll()[parts[n-1]] || foundWords()[parts[n-1]]) {
		parts = parts[:n-1]
		if parts[0] == "0" && len(parts) == 1 {
			return true
		}
	}
	switch len(parts) {
	case 1:
		return bareNone()[parts[0]] || zeroWords()[parts[0]]
	case 2:
		return (parts[0] == "0" || denying()[parts[0]]) && (animals()[parts[1]] || isThing(parts[1]))
	}
	return false
}
