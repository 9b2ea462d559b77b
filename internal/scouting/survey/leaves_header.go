package survey

import (
	"cmp"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Words of headers for how many leaves or plants were looked at. Common practice, no
// source.
var (
	leavesInHeader = wordSet("leaves leafs lvs lfs hojas")
	plantsInHeader = wordSet("plants plts plantas")
	howMany        = wordSet("n no nr nbr num number numbers count total sum how many of the # looked at checked counted examined sampled inspected seen observed assessed scouted per stop site sample point each " +
		"nº núm numero número nro cantidad de las por contadas revisadas evaluadas examinadas muestreadas observadas vistas punto parada sitio muestra")
)

// wordSet is the set of words, made when it is first asked for: a phone's engine is ready the
// sooner.
func wordSet(words string) func() map[string]bool {
	return sync.OnceValue(func() map[string]bool {
		set := map[string]bool{}
		for w := range strings.FieldsSeq(words) {
			set[w] = true
		}
		return set
	})
}

// headerWords parts a header at blanks, signs and changes of case, in lower case.
func headerWords(header string) (words []string) {
	word := []rune{}
	end := func() {
		if len(word) > 0 {
			words = append(words, strings.ToLower(string(word)))
			word = word[:0]
		}
	}
	small := false
	for _, r := range header {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) || small && unicode.IsUpper(r) {
			end()
		}
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			word = append(word, r)
		}
		small = unicode.IsLower(r)
	}
	end()
	return words
}

// tellsHowMany reports that a header says how many of the things were looked at, and
// nothing else: "Lvs", "No. of leaves", "leaves looked at", "numLeaves", "nlvs".
func tellsHowMany(header string, things map[string]bool) bool {
	named := false
	for _, w := range headerWords(header) {
		switch {
		case things[w] || things[withoutNumber(w)]:
			named = true
		case !howMany()[w]:
			return false
		}
	}
	return named
}

// withoutNumber takes a word for number off the front of another, as in "nlvs".
func withoutNumber(word string) string {
	for _, number := range [...]string{"number", "num", "no", "nr", "n"} {
		if rest, cut := strings.CutPrefix(word, number); cut {
			return rest
		}
	}
	return word
}

// speaksOf reports that one of a header's words is a thing of the set, whatever the
// others are.
func speaksOf(header string, things map[string]bool) bool {
	for _, w := range headerWords(header) {
		if things[w] {
			return true
		}
	}
	return false
}

// leavesKnown reports whether a table tells how many leaves its rows are of.
func (l *layout) leavesKnown() bool { return l.at[colLeaves] >= 0 || l.at[colEmpty] >= 0 }

// oneEach reports that each row of counts is taken for one leaf, though nothing says that
// it is one: a count on ten would be ten times too high.
func (l *layout) oneEach() bool {
	return !l.leavesKnown() && !l.uncounted() && l.at[colLeaf] < 0 && l.at[colPlant] < 0
}

// maybeLeaves looks among the columns that are not used for one of how many leaves were
// looked at. named is one whose header speaks of leaves or plants, alike one that holds
// the same small number in all rows; both "" for none.
func (l *layout) maybeLeaves(t table, unused []int) (named, alike string) {
	want := vocabulary.English.Things(1, l.effort.unit.Thing)
	for _, i := range unused {
		h := strings.TrimSpace(t.Header[i])
		all, one := wholeNumbers(t, i)
		if !all || plantsLookedAt(h) {
			continue
		}
		if c, foreign := (*foreignWords())[same(h)]; named == "" && (speaksOf(h, leavesInHeader()) || speaksOf(h, plantsInHeader()) || foreign && c == colLeaves) {
			named = h
		}
		if named == "" && want != "" && (strings.Contains(same(h), same(vocabulary.English.Things(2, want))) || one && strings.Contains(same(h), same(want))) {
			named = h
		}
		if alike == "" && one {
			alike = h
		}
	}
	return named, alike
}

const (
	leastAlike = 3   // rows that must agree before a number that stands in all is named
	mostLeaves = 500 // of a row that a number of leaves is looked for in
)

// wholeNumbers reports whether all filled cells of a column are whole numbers from 1 on,
// few enough for leaves of a row; one, whether they are the same number above 1.
func wholeNumbers(t table, i int) (all, one bool) {
	var seen string
	n := 0
	one = true
	for _, r := range t.Rows {
		if i >= len(r.Cells) || strings.TrimSpace(r.Cells[i]) == "" {
			continue
		}
		text := strings.TrimSpace(r.Cells[i])
		v, err := decimals{}.parse(text)
		if err != nil || v < 1 || v > mostLeaves || v != float64(int(v)) {
			return false, false
		}
		n++
		one = one && v > 1 && (seen == "" || text == seen)
		seen = text
	}
	return n > 0, one && n >= leastAlike
}

// doubtLeaves refuses a table in which a column that was not understood seems to say how
// many leaves were looked at, and tells that each row is taken for one leaf.
func (l *layout) doubtLeaves(t table, unused []int) (note string, err error) {
	if l.leavesKnown() || l.plants >= 0 && l.uncounted() {
		return "", nil
	}
	column, e := l.effort.column(), l.effort
	many, one := "leaves", "one"
	if e.unit.Thing != "" {
		many, one = vocabulary.English.Things(2, e.unit.Thing), e.one()
	}
	if t.Points != "" {
		note = fmt.Sprintf("%s: its %s do not say how many %s: each is taken as %s", t.File, t.Points, many, one)
	} else {
		note = fmt.Sprintf("%s: no column for %s: each row is taken as %s", t.File, many, one)
	}
	if !l.oneEach() || l.at[colMean] >= 0 { // a mean is of one whatever it is of
		return note, nil
	}
	named, alike := l.maybeLeaves(t, unused)
	switch {
	case named != "":
		if e.unit.Size <= 1 {
			one = "one " + cmp.Or(e.unit.Thing, "leaf")
		}
		return "", fmt.Errorf("%s: column %s may say how many %s were looked at, and without them each row counts as %s; give --map %q if it does, or --map %q if not",
			t.File, quote(named), many, one, named+"="+column, named+"=notes")
	case alike != "":
		note += fmt.Sprintf("; if %s says how many were looked at, give --map %q", quote(alike), alike+"="+column)
	}
	return note, nil
}
