package survey

import (
	"fmt"
	"slices"
	"strings"
)

// presets are columns that a plan or a sheet fills before anybody walks.
var presets = [...]column{colPest, colStage, colKind}

// edgeNote is what a plan remarks of stops near the edge.
const edgeNote = "edge"

// isRemark reports whether a refused row is a remark, a heading or a foot: one cell is
// filled, beside what a sheet has filled before, and that is no place and no count.
func (l *layout) isRemark(r row, u Unread) bool {
	const said = 1
	filled := l.filledBut(r, presets[:])
	counts := [...]column{colCount, colMean, colGroups, colGroupSize, colEmpty, colInfested, colLeaves}
	return !u.Placed && !u.Shifted && filled == said && l.filledBut(r, append(counts[:], presets[:]...)) == said
}

// isNotWalked reports whether a refused row is a planned stop at which nobody was: it has a
// name and a place alone, where rows that were counted tell more. A plan fills leaves too.
// Where these tell no more the count may have been forgotten, or be a zero, but below the last
// stop of a plan that was counted, or with a note on why nobody was there; and of a row that is cut
// off more may be gone.
func (l *layout) isNotWalked(t table, r row, u Unread) bool {
	given := append(presets[:], colStop, colLongitude, colLatitude, colEasting, colNorthing, colWKT)
	plan := u.Row.Planned || u.Row.Extra
	if plan {
		given = append(given, colLeaves)
		if l.text(r, colNotes) == edgeNote {
			given = append(given, colNotes)
		}
	}
	noted := saysNotThere(l.text(r, colNotes))
	if noted {
		given = append(given, colNotes)
	}
	cut := t.Delimited && len(r.Cells) < l.width
	if !u.Placed || u.Shifted || cut || u.Row.Stop == "" || l.filledBut(r, given) > 0 {
		return false
	}
	if l.told == nil {
		l.told = map[column]bool{}
		for _, c := range [...]column{colDate, colTime, colObserver, colLeaves} {
			l.told[c] = slices.ContainsFunc(t.Rows, func(r row) bool { return l.text(r, c) != "" })
		}
		for _, r := range t.Rows {
			if l.foundIn(r) {
				l.lastFound = r.Line
			}
		}
	}
	return noted || plan && l.lastFound > 0 && r.Line > l.lastFound || l.told[colDate] || l.told[colTime] || l.told[colObserver] || l.told[colLeaves] && l.text(r, colLeaves) == ""
}

// filledBut counts the cells of a row that are filled, but for those of some columns.
func (l *layout) filledBut(r row, but []column) (n int) {
	for i, cell := range r.Cells {
		if strings.TrimSpace(cell) != "" && !slices.ContainsFunc(but, func(c column) bool { return l.at[c] == i }) {
			n++
		}
	}
	return n
}

// leaveOutNotWalked notes planned stops that nobody walked; a row of a stop that was
// counted is one of its rows, and was not read, but for its name above the others. A
// number alone is the name of a planned stop too.
func (b *builder) leaveOutNotWalked(kept []Record) {
	if len(b.planned) == 0 {
		return
	}
	type name struct{ file, stop string }
	walked := map[name]bool{}
	for i := range kept {
		walked[name{kept[i].File, kept[i].Stop}] = true
	}
	var names []string
	for _, u := range b.planned {
		switch {
		case !walked[name{u.File, u.Row.Stop}]:
			names = append(names, u.Row.Stop)
		case u.Placed:
			b.survey.Unread = append(b.survey.Unread, u)
		}
	}
	switch s := &b.survey; len(names) {
	case 0:
	case 1:
		s.Notes = append(s.Notes, fmt.Sprintf("a planned stop was not walked: %s", names[0]))
	default:
		s.Notes = append(s.Notes, fmt.Sprintf("%d planned stops were not walked: %s", len(names), Listed(names)))
	}
}
