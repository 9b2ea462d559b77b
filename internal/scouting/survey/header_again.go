package survey

import (
	"fmt"
	"slices"
)

// withoutHeaders drops the rows of a table that are its header once more, as where two files
// were joined; note says so. A header with its columns in another order is none: the rows
// below it would be taken for what they are not.
func withoutHeaders(t table) (_ table, note string) {
	header := trimmed(slices.Clone(t.Header))
	for i, name := range header {
		header[i] = NameKey(name)
	}
	again := func(r row) bool { return isHeader(header, trimmed(r.Cells)) }
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

// isHeader reports whether cells are the names of columns, which are told by [NameKey], whatever
// their letters' case. One name alone may be what was entered.
func isHeader(header, cells []string) bool {
	return len(cells) > 1 && slices.EqualFunc(header, cells, func(name, cell string) bool {
		return !(name != "" && cell != "" && name[0] > '9' && cell[0] <= '9' && cell[0] >= '0') && name == NameKey(cell) // a number is nearly all
	})
}
