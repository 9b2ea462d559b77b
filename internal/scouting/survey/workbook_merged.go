//go:build !small

package survey

import (
	"encoding/xml"
	"fmt"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"
)

// A merged is a range of cells that a spreadsheet shows as one, whose value stands in the first
// of them: lines from 1 and columns from 0, the last ones included.
type merged struct{ top, left, bottom, right int }

// merged are the ranges of a sheet, once its rows are read.
func (l *sheetStyles) merged() (all []merged) {
	for {
		token, err := l.tokens.RawToken()
		if err != nil {
			return all
		}
		e, is := token.(xml.StartElement)
		if !is || e.Name.Local != "mergeCell" {
			continue
		}
		for _, a := range e.Attr {
			if a.Name.Local != "ref" {
				continue
			}
			from, to, _ := strings.Cut(a.Value, ":")
			left, top, err := excelize.CellNameToCoordinates(from)
			right, bottom, err2 := excelize.CellNameToCoordinates(to)
			if err == nil && err2 == nil && top < bottom {
				all = append(all, merged{top, left - 1, bottom, right - 1})
			}
		}
	}
}

// fillMerged gives the rows below the first of a range its value, where the column tells what
// is the same for several rows: a count or a number of leaves is of all of them together.
func (t *table) fillMerged(ranges []merged, knows knower) {
	filled, left := 0, 100*(len(t.Rows)+1) // cells that may be looked at: ranges do not overlap
	for _, m := range ranges {
		if m.left >= len(t.Header) {
			continue
		}
		if c, known := knows(t.Header[m.left]); !known || !c.ofSeveralRows() {
			continue
		}
		first := sort.Search(len(t.Rows), func(i int) bool { return t.Rows[i].Line >= m.top })
		if first == len(t.Rows) || t.Rows[first].Line != m.top || m.left >= len(t.Rows[first].Cells) {
			continue
		}
		value := t.Rows[first].Cells[m.left]
		for i := first + 1; i < len(t.Rows) && t.Rows[i].Line <= m.bottom && left > 0; i++ {
			left--
			r := &t.Rows[i]
			if m.left < len(r.Cells) && strings.TrimSpace(r.Cells[m.left]) == "" && strings.TrimSpace(value) != "" {
				r.Cells[m.left] = value
				t.copyLook(cellAt{m.top, m.left}, cellAt{r.Line, m.left})
				filled++
			}
		}
	}
	if filled > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: cells that are merged in the spreadsheet are read in each of their rows: %d", t.File, filled))
	}
}
