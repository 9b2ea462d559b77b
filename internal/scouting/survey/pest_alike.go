package survey

import (
	"slices"
	"strings"
	"unicode"
)

// alike reports whether two names, folded, may be one that was misspelt: one or two
// letters apart, by blanks alone, or one in the plural. In short words a letter makes
// another name, and so does a number anywhere.
func alike(a, b string) bool {
	if same(a) == same(b) {
		return true
	}
	first, second := wordsOf(a), wordsOf(b)
	if len(first) != len(second) {
		a, b = strings.Join(first, ""), strings.Join(second, "")
		return min(len(a), len(b)) >= longName && lettersApart(a, b) <= mostLetters
	}
	sum := 0
	for i := range first {
		letters, fits := wordApart(singular(first[i]), singular(second[i]))
		if sum += letters; !fits || sum > mostLetters {
			return false
		}
	}
	return true
}

const (
	mostLetters = 2 // apart
	longName    = 8 // letters of a name in which blanks may be wrong too
)

func wordsOf(name string) []string {
	return strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// singular of an English word, as far as its end tells; the same for a singular.
func singular(word string) string {
	switch {
	case len(word) > 4 && strings.HasSuffix(word, "ies"):
		return strings.TrimSuffix(word, "ies") + "y"
	case len(word) > 3:
		return strings.TrimSuffix(word, "s")
	}
	return word
}

// wordApart is how many letters two words are apart, and whether words as short as
// they are may be one.
func wordApart(a, b string) (letters int, fits bool) {
	letters = lettersApart(a, b)
	switch n := min(len(a), len(b)); {
	case letters == 0:
		return 0, true
	case n < 4 || strings.ContainsFunc(a+b, unicode.IsDigit):
		return letters, false
	case n < 6:
		return letters, letters <= 1
	}
	return letters, letters <= mostLetters
}

// lettersApart is how many letters must be put in, left out, changed, or changed with their
// neighbour, to make one text of the other (optimal string alignment; Damerau 1964,
// Commun. ACM 7).
func lettersApart(a, b string) int {
	from, to := []rune(a), []rune(b)
	if len(from) > longestTime || len(to) > longestTime {
		return longestTime
	}
	var before []int
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i := range from {
		next := make([]int, len(to)+1)
		next[0] = i + 1
		for j := range to {
			change := row[j]
			if from[i] != to[j] {
				change++
			}
			next[j+1] = min(change, row[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && from[i] == to[j-1] && from[i-1] == to[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
		before, row = row, next
	}
	return row[len(to)]
}

// alikeAmong names the first two that are alike, of no more names than a message lists.
func alikeAmong(names []string) (a, b string, found bool) {
	names = names[:min(len(names), mostListed)]
	for i, a := range names {
		if j := slices.IndexFunc(names[i+1:], func(b string) bool { return alike(a, b) }); j >= 0 {
			return a, names[i+1+j], true
		}
	}
	return "", "", false
}
