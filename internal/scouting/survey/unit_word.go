//go:build !small

package survey

import (
	"fmt"
	"strings"
)

// withWord is a number and a word behind it: 12 aphids, 10 leaves.
var withWord = pattern(`^([+-]?\d[\d.,' \x{00a0}\x{202f}\x{2009}’]*?)\s*(\pL+)\.?$`)

// bare takes the word off a number in a column of what the word names, and leaves
// any other text as it is.
func (l *layout) bare(c column, text string) string {
	if n := len(text); n < 3 || text[n-1] <= '9' { // nearly all
		return text
	}
	m := withWord().FindStringSubmatch(text)
	if m == nil {
		return text
	}
	if names(m[2], c) || c == colAccuracy && strings.EqualFold(m[2], "m") {
		return m[1]
	}
	return text
}

// names reports whether a word is one for what a column holds.
func names(word string, c column) bool {
	switch senseOf(word) {
	case countWord:
		return c == colCount
	case leavesWord, leafWord:
		return c == colLeaves && !strings.EqualFold(word, "n")
	}
	named, known := (*meanings())[same(word)]
	return known && named == c
}

// wordsBehind notes the first number that is read without the word behind it.
func wordsBehind(t table, l *layout) string {
	places := l.placesOf(func(c column) bool { return c.whole() || c.few() })
	for _, row := range t.Rows {
		for _, p := range places {
			if p.at >= len(row.Cells) || len(row.Cells[p.at]) < 3 {
				continue
			}
			text := strings.TrimSpace(row.Cells[p.at])
			if number := l.bare(p.column, text); number != text {
				return fmt.Sprintf("%s: numbers with a word, such as %q, are read without it, %s", t.File, text, number)
			}
		}
	}
	return ""
}
