//go:build !small

package survey

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// pairHint is what to do with columns that are not understood and seem to be of whole places; ""
// where none does.
func (t table) pairHint(spare []int) string {
	if hint := t.unquotedPair(spare); hint != "" {
		return hint
	}
	spanish := t.isSpanish()
	for _, i := range spare {
		header := quote(t.Header[i])
		switch {
		case t.eachIn(i, func(cell string) bool { _, is := anglePairOf(cell, spanish); return is }):
			return fmt.Sprintf("; column %s holds latitude and longitude in one: name it %s or %s, in the file or with --map", header, latitudeThenLongitude, longitudeThenLatitude)
		case t.eachIn(i, isMetres):
			return fmt.Sprintf("; column %s holds metres in one: part them into columns easting and northing, and give their zone, such as --utm 14N", header)
		case t.eachIn(i, func(cell string) bool { _, is := anglePairOf(cell, true); return is }):
			return fmt.Sprintf("; column %s %s: write W for west, E for east", header, errOst)
		case mayHoldPlaces(t.Header[i]) && t.eachIn(i, isAlmostPair):
			return fmt.Sprintf("; column %s is not understood: write both angles, such as 35.8972, -101.6016", header)
		}
	}
	return ""
}

// eachIn reports whether all filled cells at the top of a column are of a kind, and there are any.
func (t table) eachIn(i int, is func(cell string) bool) bool {
	const looked = 10 // rows
	n := 0
	for _, r := range t.Rows[:min(looked, len(t.Rows))] {
		if i >= len(r.Cells) || strings.TrimSpace(r.Cells[i]) == "" || isAgain(r.Cells[i]) {
			continue
		}
		if n++; !is(r.Cells[i]) {
			return false
		}
	}
	return n > 0
}

// isAlmostPair reports whether a cell has more than one number in it, and decimals or degrees.
func isAlmostPair(cell string) bool {
	return !isPlain(strings.TrimSpace(cell)) && strings.ContainsAny(cell, "0123456789") && strings.ContainsAny(cell, ".,°")
}

// isMetres reports whether a cell holds two numbers that are beyond all degrees, perhaps with the
// zone of a grid before them.
func isMetres(cell string) bool {
	const most = 360 // degrees
	words := strings.FieldsFunc(cell, func(c rune) bool { return strings.ContainsRune(" ,;/|()[]", c) })
	if len(words) == 3 && strings.ContainsFunc(words[0], unicode.IsLetter) {
		words = words[1:]
	}
	return len(words) == 2 && !slices.ContainsFunc(words, func(text string) bool {
		v, err := strconv.ParseFloat(text, 64)
		return err != nil || math.Abs(v) <= most
	})
}

// unquotedPair is the hint where commas between two angles part cells too: what stands behind the
// first is no count, with the decimals that it has, or most rows have a cell more than the header.
func (t table) unquotedPair(spare []int) string {
	const exactly = 4 // decimals
	i := slices.IndexFunc(spare, func(i int) bool { return mayHoldPlaces(t.Header[i]) })
	if i < 0 || !t.Delimited {
		return ""
	}
	i = spare[i]
	cut := 0
	for _, r := range t.Rows {
		if i+1 >= len(r.Cells) {
			continue
		}
		_, is := pairOf(r.Cells[i], r.Cells[i+1], noOrder)
		n, plain := decimalsIn(strings.TrimSpace(r.Cells[i+1]))
		if is && (len(r.Cells) > len(trimmed(t.Header)) || plain && n >= exactly) {
			cut++
		}
	}
	if 2*cut <= len(t.Rows) {
		return ""
	}
	return fmt.Sprintf("; each place under %s is cut in two at its comma: put quotes round it, or name its two columns latitude and longitude", quote(t.Header[i]))
}
