package survey

import (
	"fmt"
	"slices"
)

// withoutHeaders drops the rows of a table that are its header once more, as where two files
// were joined; note says so. A header with its columns in another order is none: the rows
// below it would be taken for what they are not.
func withoutHeaders(t table) (_ table, note string) {
	again := func(r row) bool { return isHeader(t.Header, r.Cells) }
	first := slices.IndexFunc(t.Rows, again)
	if first < 0 {
		return t, ""
	}
	note = fmt.Sprintf("%s: line %d is the header once more, and is passed over", t.File, t.Rows[first].Line)
	rows := slices.Clone(t.Rows[:first])
	for _, r := range t.Rows[first:] {
		if !again(r) {
			rows = append(rows, r)
		}
	}
	if more := len(t.Rows) - len(rows) - 1; more > 0 {
		note = fmt.Sprintf("%s: line %d and %d more are the header once more, and are passed over", t.File, t.Rows[first].Line, more)
	}
	t.Rows = rows
	return t, note
}

// isHeader reports whether cells are the names of the columns, whatever their letters' case.
// One name alone may be what was entered.
func isHeader(header, cells []string) bool {
	header, cells = trimmed(header), trimmed(cells)
	return len(cells) > 1 && slices.EqualFunc(header, cells, func(a, b string) bool { return NameKey(a) == NameKey(b) })
}
