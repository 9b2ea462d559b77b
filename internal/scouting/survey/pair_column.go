//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"
)

// partPairs gives a table the columns latitude and longitude in place of one that holds both in
// each cell, where nothing else tells positions; which is which must be told by the header, by
// the cells, or by where they can lie. A cell that holds no two angles is no angle in both: half
// a place is none.
func (t *table) partPairs(opts Options) error {
	i, order := t.pairColumn(opts.knows)
	if i < 0 {
		return nil
	}
	header := strings.TrimSpace(t.Header[i])
	all := t.pairsIn(i)
	order, why, err := t.orderOf(header, all, order, opts.FixPosition)
	if err != nil {
		return err
	}
	names := [2]string{colLatitude.String(), colLongitude.String()}
	if order == longitudeFirst {
		slices.Reverse(names[:])
	}
	t.withoutPlaces(opts.knows)
	t.Header = slices.Insert(slices.Clone(t.Header), i, names[0])
	t.Header[i+1] = names[1]
	t.parted = parted{i + 1, header, order == longitudeFirst, make(map[int]string, len(t.Rows))}
	t.shiftFrom(i)
	more := 0
	for k, r := range t.Rows {
		if i >= len(r.Cells) {
			continue
		}
		t.parted.cells[r.Line] = r.Cells[i]
		text := [2]string{r.Cells[i], r.Cells[i]}
		if p, is := all[r.Line]; is {
			text = p.in(order)
			if p.more {
				more++
			}
		} else if strings.TrimSpace(r.Cells[i]) != "" {
			text = [2]string{noPair + r.Cells[i], noPair + r.Cells[i]}
		}
		t.Rows[k].Cells = slices.Insert(slices.Clone(r.Cells), i, text[0])
		t.Rows[k].Cells[i+1] = text[1]
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s: column %s holds both angles of a place, read as %s, %s, %s", t.File, quote(header), names[0], names[1], why))
	if more > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: what stands behind both angles in column %s, as altitude and accuracy do, is not read: %d", t.File, quote(header), more))
	}
	return nil
}

// pairColumn is the one column whose header may be of both angles and most of whose filled cells
// hold two; of several the one whose header says so most clearly. It is -1 for none, and where
// others tell the positions.
func (t *table) pairColumn(knows knower) (at int, order pairOrder) {
	at = -1
	if t.Points != "" {
		return at, noOrder
	}
	clearest, several := 0, false
	for i, h := range t.Header {
		if _, known := knows(h); known {
			continue
		}
		told, is := headsPair(h)
		if !is {
			continue
		}
		clear := 1
		if told != noOrder {
			clear = 2
		}
		if isPairName(h) {
			clear = 3
		}
		if clear < clearest || !t.holdsPairs(i, clear == 3) {
			continue
		}
		several = clear == clearest
		clearest, at, order = clear, i, told
	}
	if at < 0 || several || t.tellsApart(knows, clearest == 3) {
		return -1, noOrder
	}
	return at, order
}

// isPairName reports whether a header is one of the names that we ask for.
func isPairName(header string) bool {
	return same(header) == same(latitudeThenLongitude) || same(header) == same(longitudeThenLatitude)
}

// placeColumns are the positions in a header of columns of a place.
func (t *table) placeColumns(knows knower) map[column]int {
	at := map[column]int{}
	for i, h := range t.Header {
		if c, known := knows(h); known && slices.Contains(whereabouts[:], c) {
			at[c] = i
		}
	}
	return at
}

// tellsApart reports whether columns of their own tell positions: something stands in one of
// them; in all that a place needs where another column is said to hold both angles.
func (t *table) tellsApart(knows knower, said bool) bool {
	at := t.placeColumns(knows)
	filled := func(c column) bool {
		i, is := at[c]
		return is && slices.ContainsFunc(t.Rows, func(r row) bool { return i < len(r.Cells) && strings.TrimSpace(r.Cells[i]) != "" })
	}
	if said {
		return filled(colLongitude) && filled(colLatitude) || filled(colEasting) && filled(colNorthing) || filled(colWKT)
	}
	return slices.ContainsFunc(whereabouts[:], filled)
}

// withoutPlaces takes the names off columns of a place, as another tells it.
func (t *table) withoutPlaces(knows knower) {
	at := t.placeColumns(knows)
	if len(at) == 0 {
		return
	}
	t.Header = slices.Clone(t.Header)
	for _, i := range at {
		t.Header[i] = ""
	}
}

// holdsPairs reports whether most filled cells of a column hold two angles, those apart that are
// the same again; any cell does where the header asks for no more.
func (t *table) holdsPairs(i int, said bool) bool {
	filled := 0
	for _, r := range t.Rows {
		if i < len(r.Cells) && strings.TrimSpace(r.Cells[i]) != "" && !isAgain(r.Cells[i]) {
			filled++
		}
	}
	pairs := len(t.pairsIn(i))
	return pairs > 0 && (said || 2*pairs >= filled)
}

// pairsPlace reports whether a column of pairs tells where most rows are, so that no file of
// places has to.
func (t *table) pairsPlace(knows knower) bool {
	i, _ := t.pairColumn(knows)
	if i < 0 {
		return false
	}
	placed := len(t.pairsIn(i))
	for _, r := range t.Rows {
		if i < len(r.Cells) && isAgain(r.Cells[i]) {
			placed++
		}
	}
	return 2*placed > len(t.Rows)
}

// pairsIn are the pairs of a column by the lines of their rows.
func (t *table) pairsIn(i int) map[int]anglePair {
	all, oeste := map[int]anglePair{}, t.isSpanish()
	for _, r := range t.Rows {
		if i < len(r.Cells) {
			if p, is := anglePairOf(r.Cells[i], oeste); is {
				all[r.Line] = p
			}
		}
	}
	return all
}

// isSpanish reports whether a header of the table is.
func (t *table) isSpanish() bool {
	return slices.ContainsFunc(t.Header, func(h string) bool {
		return isSpanish(h) || slices.ContainsFunc(headerWords(h), func(w string) bool { return spanishPairs()[plainWord(w)] })
	})
}

// in are the texts of the pair in an order, its own where the cell tells it.
func (p anglePair) in(order pairOrder) [2]string {
	text := p.text
	if p.order != noOrder && p.order != order {
		slices.Reverse(text[:])
	}
	return text
}

// shiftFrom moves what is remembered of cells behind a column by one, as a column comes in there.
func (t *table) shiftFrom(column int) {
	if t.typed == nil {
		return
	}
	typed, strange := map[cellAt]bool{}, map[cellAt]odd{}
	to := func(at cellAt) cellAt {
		if at.column > column {
			at.column++
		}
		return at
	}
	for at, is := range t.typed {
		typed[to(at)] = is
	}
	for at, what := range t.odd {
		strange[to(at)] = what
	}
	for _, r := range t.Rows { // both are texts
		typed[cellAt{r.Line, column}], typed[cellAt{r.Line, column + 1}] = true, true
	}
	t.typed, t.odd = typed, strange
}
