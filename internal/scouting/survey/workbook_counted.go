//go:build !small

package survey

import (
	"slices"
	"strings"
)

// counted reports whether a sheet has rows with a place and a count, be it a class, a word or a
// number: an empty plan, means of stops and words on how to count have none.
func (w *workbook) counted(t table) bool {
	var counts []int
	for i, h := range t.Header {
		if c, known := w.knows(h); known && (c == colCount || c == colMean || c == colGroups || c == colOver) {
			counts = append(counts, i)
		}
	}
	places := w.placeColumns(t)
	tells := isDecimal
	if len(places) > 0 {
		tells = likeCount
	}
	return slices.ContainsFunc(t.Rows, func(r row) bool {
		return anyCell(r, counts, tells) && (len(places) == 0 || anyCell(r, places, isPlace))
	})
}

// placeColumns are the columns that tell where a row is.
func (w *workbook) placeColumns(t table) (at []int) {
	for i, h := range t.Header {
		c, known := w.knows(h)
		_, both := headsPair(h)
		if !known && both || known && (c == colLatitude || c == colNorthing || c == colWKT) {
			at = append(at, i)
		}
	}
	return at
}

func (w *workbook) anyPlace(t table) bool {
	places := w.placeColumns(t)
	return slices.ContainsFunc(t.Rows, func(r row) bool { return anyCell(r, places, isPlace) })
}

// anyCell reports whether one of a row's cells in some columns is as asked.
func anyCell(r row, columns []int, is func(string) bool) bool {
	return slices.ContainsFunc(columns, func(i int) bool { return i < len(r.Cells) && is(strings.TrimSpace(r.Cells[i])) })
}

// isPlace reports whether a cell holds a coordinate or both.
func isPlace(cell string) bool {
	if _, _, ok := oneAngle(cell); ok || isDecimal(cell) || pointText().MatchString(cell) {
		return true
	}
	_, both := anglePairOf(cell, true)
	return both
}

// amounts are words for how many without a number, in small letters without accents: English, Spanish.
var amounts = wordSet("few many some several lots heavy light low high pocos pocas muchos muchas algunos algunas varios varias")

// likeCount reports whether a cell tells of what was found, though not always in a way that is
// read: a number, a class, words for none or for how many. "To do" does not.
func likeCount(cell string) bool {
	word := plainWord(cell)
	return strings.ContainsAny(word, "0123456789") || maybeNone()[word] && strings.Trim(word, "-") != "" || likeNone(word) ||
		slices.ContainsFunc(strings.Fields(word), func(w string) bool { return amounts()[w] })
}
