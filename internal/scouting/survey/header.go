package survey

import (
	"fmt"
	"strings"
)

// mostAbove is how many filled lines may stand above the header: a title, who and
// when, notes.
const mostAbove = 25

// knower tells whether a header has a meaning, its own or by the options.
type knower func(header string) (column, bool)

func (o Options) knows(header string) (column, bool) {
	if o.bare {
		return columns, false
	}
	if c, known := (*meanings())[same(header)]; known {
		return c, true
	}
	for from, to := range o.Rename {
		if same(from) == same(header) {
			c, known := (*meanings())[same(to)]
			return c, known
		}
	}
	return columns, false
}

// names reports whether cells are a header: they name a position and something else.
func (knows knower) names(cells []string) bool {
	found := map[column]bool{}
	for _, cell := range cells {
		if c, known := knows(cell); known {
			found[c] = true
		}
	}
	place := found[colLongitude] || found[colLatitude] || found[colEasting] || found[colWKT]
	return place && len(found) > 1
}

// offer takes a filled row that may stand above the header. The first that names a
// position is the header; without one the one that most likely holds both of its angles in one
// column is, else the first row, as then it tells what the file has in place of it.
func (t *table) offer(r row, knows knower) {
	t.above = append(t.above, r)
	if knows.names(r.Cells) || t.unplaced && knows.counts(r.Cells) {
		t.headAt(len(t.above)-1, knows)
	} else if len(t.above) > mostAbove {
		t.headAt(t.likeliest(knows), knows)
	}
}

// settle is offer's end, for a file with few rows.
func (t *table) settle(knows knower) {
	if len(t.Header) == 0 && len(t.above) > 0 {
		t.headAt(t.likeliest(knows), knows)
	}
}

// headAt makes one of the rows that were offered the header: those above are skipped
// and those below are rows.
func (t *table) headAt(i int, knows knower) {
	head := t.above[i]
	t.Header = head.Cells
	t.Rows = append(t.Rows, t.above[i+1:]...)
	if i > 0 {
		t.skipped = t.above[:i]
		t.Header = filledFrom(head.Cells, t.above[i-1].Cells, knows)
	}
	t.headLine, t.above = head.Line, nil
}

// filledFrom fills blank cells of a header from the row above it, where cells of both
// were merged.
func filledFrom(header, above []string, knows knower) []string {
	out := append([]string(nil), header...)
	for i, cell := range above {
		if _, known := knows(cell); known && (i >= len(out) || strings.TrimSpace(out[i]) == "") {
			for len(out) <= i {
				out = append(out, "")
			}
			out[i] = cell
		}
	}
	return out
}

// saySkipped notes what stood above the header.
func (t *table) saySkipped() {
	if len(t.skipped) == 0 {
		return
	}
	var skipped []string
	for _, r := range t.skipped {
		for _, cell := range r.Cells {
			if strings.TrimSpace(cell) != "" {
				skipped = append(skipped, quote(cell))
			}
		}
	}
	const most = 6
	more := ""
	if len(skipped) > most {
		more = fmt.Sprintf(" and %d more", len(skipped)-most)
		skipped = skipped[:most]
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s: the header is line %d; skipped above it: %s%s", t.File, t.headLine, strings.Join(skipped, ", "), more))
	t.skipped = nil
}
