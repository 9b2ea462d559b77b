package survey

import (
	"fmt"
	"slices"
	"strings"
)

// isDitto reports whether a cell is the mark that people write below a word for the same again.
func isDitto(cell string) bool {
	if !mayBeAgain(cell) {
		return false
	}
	switch strings.TrimSpace(cell) {
	case `"`, `""`, "”", "“", "„", "''", "´´", "〃", `-"-`, "–\"–", "-”-":
		return true
	}
	return false
}

// isSameWord reports whether a cell is such a mark in words, which a name may be but no place is.
func isSameWord(cell string) bool {
	if !mayBeAgain(cell) {
		return false
	}
	switch strings.ToLower(strings.Trim(cell, " .")) {
	case "same", "ditto", "do", "idem", "ídem":
		return true
	}
	return false
}

// mayBeAgain tells nearly all cells from marks and such words by their length and first byte.
func mayBeAgain(cell string) bool {
	const longest = 12 // bytes, with blanks
	return len(cell) > 0 && len(cell) <= longest && (cell[0] < '0' || cell[0] > '9')
}

func isAgain(cell string) bool { return isDitto(cell) || isSameWord(cell) }

// withoutDittos writes into cells with such a mark what stands above, where the column tells
// what is the same for several rows, and says so. Counts are left as they are, and so are marks
// below a row that could not be read.
func withoutDittos(t table, knows knower) (_ table, note string) {
	if !slices.ContainsFunc(t.Rows, func(r row) bool { return slices.ContainsFunc(r.Cells, isAgain) }) {
		return t, ""
	}
	var at []int
	again := map[int]func(string) bool{}
	for i, h := range t.Header {
		switch c, known := knows(h); {
		case !known && mayHoldPlaces(h), known && slices.Contains(whereabouts[:], c):
			at, again[i] = append(at, i), isAgain
		case known && (c.ofSeveralRows() || c == colLeaves):
			at, again[i] = append(at, i), isDitto
		}
	}
	rows, n := slices.Clone(t.Rows), 0
	for i := 1; i < len(rows); i++ {
		above, r := rows[i-1], rows[i]
		filled := 0
		for _, k := range at {
			if k >= len(r.Cells) || !again[k](r.Cells[k]) || r.Line != above.Line+1 || k >= len(above.Cells) || again[k](above.Cells[k]) || strings.TrimSpace(above.Cells[k]) == "" {
				continue
			}
			if filled++; filled == 1 {
				rows[i].Cells = slices.Clone(r.Cells)
			}
			rows[i].Cells[k] = above.Cells[k]
			t.copyLook(cellAt{above.Line, k}, cellAt{r.Line, k})
		}
		n += filled
	}
	t.Rows = rows
	if n == 0 {
		return t, ""
	}
	return t, fmt.Sprintf("%s: ditto marks are read as the cell above: %d", t.File, n)
}

// copyLook gives a cell what a spreadsheet says of another.
func (t *table) copyLook(from, to cellAt) {
	if t.typed != nil {
		t.typed[to] = t.typed[from]
	}
	if odd, is := t.odd[from]; is {
		t.odd[to] = odd
	}
}

// ofSeveralRows reports whether a cell may be merged over the rows of a stop or a walk.
func (c column) ofSeveralRows() bool {
	return c <= colWKT || c == colPlant || c >= colDate && c <= colAtOrAbove && c != colTime || c == colKind
}
