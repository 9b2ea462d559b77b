package roster

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Slipped refuses a name that is no field's, and is nearly the name of a field that has no
// line: that field would go by the level of all others. A line of a field that lies in
// another boundary is none, and neither is one near a field with a line of its own.
func (l List) Slipped(fields []string) error {
	here := map[string]bool{}
	var untold []spelling
	for _, name := range fields {
		here[key(name)] = true
		if _, told := l.Of(name); !told {
			untold = append(untold, spell(name))
		}
	}
	for _, e := range l.Entries {
		if here[key(e.Field)] {
			continue
		}
		typed := spell(e.Field)
		i := slices.IndexFunc(untold, typed.nearly)
		if i < 0 {
			continue
		}
		name := untold[i].name
		return &geofile.Error{File: l.File, Line: lineOf(e),
			Msg:  fmt.Sprintf("the boundary has no field called %q, and no line names its field %q", e.Field, name),
			Hint: fmt.Sprintf("write %s there; if they are two fields, add a line that says %s alone", name, name)}
	}
	return nil
}

// A spelling is a name in its words, with what tells fields apart among them.
type spelling struct {
	name, key             string
	words, signs, numbers []string
}

func spell(name string) spelling {
	s := spelling{name: name, key: key(name)}
	s.words = words(s.key)
	s.signs = only(s.words, sign)
	s.numbers = only(s.words, func(word string) bool { return unicode.IsDigit(first(word)) })
	return s
}

// nearly reports whether one name may be a slip of the other: words are misspelt, cut short
// or left out, and what tells fields apart is the same.
func (a spelling) nearly(b spelling) bool {
	if !slices.Equal(a.numbers, b.numbers) {
		return false
	}
	if slices.Equal(a.signs, b.signs) && meant(a.key, []string{b.key}) != "" {
		return true
	}
	x, y := a.words, b.words
	if len(x) > len(y) {
		x, y = y, x
	}
	for _, word := range x { // in their order
		i := slices.IndexFunc(y, func(other string) bool { return sameWord(word, other) })
		if i < 0 {
			return false
		}
		y = y[i+1:]
	}
	return len(x) > 0
}

func sameWord(a, b string) bool {
	if a == b || cutShort(a, b) || cutShort(b, a) {
		return true
	}
	return !(sign(a) && sign(b)) && meant(a, []string{b}) != ""
}

// words are those of a name; N40 is two.
func words(name string) (all []string) {
	kind := func(r rune) int {
		switch {
		case unicode.IsDigit(r):
			return 2
		case unicode.IsLetter(r) || unicode.IsMark(r):
			return 1
		}
		return 0
	}
	before := 0
	for _, r := range name {
		switch is := kind(r); {
		case is != 0 && is == before:
			all[len(all)-1] += string(r)
		case is != 0:
			all = append(all, string(r))
			before = is
		default:
			before = 0
		}
	}
	return all
}

// sign reports whether a word tells fields apart by itself: a number, a single letter or
// where a field lies. None of these is a slip of another: East is not West.
func sign(word string) bool {
	return utf8.RuneCountInString(word) == 1 || unicode.IsDigit(first(word)) || slices.Contains(strings.Fields(
		"north south east west northeast northwest southeast southwest norte sur este oeste noreste noroeste sureste suroeste"), word)
}

func only(words []string, is func(string) bool) (some []string) {
	for _, w := range words {
		if is(w) {
			some = append(some, w)
		}
	}
	return some
}

func first(word string) rune {
	r, _ := utf8.DecodeRuneInString(word)
	return r
}

// cutShort reports whether a word is another with letters left out behind the first, as Blk
// is Block and N North.
func cutShort(short, long string) bool {
	if first(short) != first(long) || sign(short) && sign(long) && utf8.RuneCountInString(short) > 1 {
		return false
	}
	for _, r := range short {
		i := strings.IndexRune(long, r)
		if i < 0 {
			return false
		}
		long = long[i+utf8.RuneLen(r):]
	}
	return true
}
