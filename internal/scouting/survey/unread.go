package survey

import (
	"cmp"
	"math"
	"slices"
)

// An Unread is a row that was set aside though somebody may have counted on it: what
// is wrong with it, and what of it could be read. Rows of another pest, rows that are
// there twice and features that are no count are none.
type Unread struct {
	Problem        // the first that set it aside
	Row     Record // what could be read; of its place, count and units only what the rest tells
	Placed  bool   // Row lies where it says
	// Offered rows lie in a field if their place is read as was offered, and Row has that
	// place; Placed is not set.
	Offered bool
	Written [2]float64 // longitude and latitude of an offered row as they stand
	// Shifted rows have cells that may stand under the wrong header, so that what was
	// read may not be meant. Their stop is given where it stands before all that may be.
	Shifted bool
	Units   float64 // looked at; 0 where not read
	// Block is the line of the first row of their stop, of rows without name and place that
	// are of one; 0 elsewhere.
	Block int
	// Least and Most bound the count per unit: both are it where count and units were
	// read, 0 and +Inf where nothing tells.
	Least, Most float64
}

// Counted reports whether the row tells its count per unit.
func (u Unread) Counted() bool { return u.Least == u.Most }

// unread is what a refused row leaves to be read.
func (l *layout) unread(t table, r row, rec Record, found []Problem) Unread {
	refused := func(at ...column) bool {
		return slices.ContainsFunc(found, func(p Problem) bool {
			return p.refuses() && slices.ContainsFunc(at, func(c column) bool {
				q := l.problem(t, r, c)
				return p.Position == q.Position && p.Column == q.Column
			})
		})
	}
	u := Unread{Problem: found[slices.IndexFunc(found, Problem.refuses)], Row: rec, Most: math.Inf(1), Block: l.lost[r.Line]}
	u.Shifted = slices.ContainsFunc(found, func(p Problem) bool { return p.refuses() && p.Column == "" })
	u.Placed = !refused(colLongitude, colLatitude, colEasting, colNorthing, colWKT)
	if u.Shifted {
		if !l.namedFirst() {
			u.Row.Stop = ""
		}
		return u
	}
	if !u.Placed {
		u.Written, u.Offered = l.offers(t, r)
	}
	units, counted := !refused(colLeaves, colEmpty), !math.IsNaN(rec.Total) && !refused(colCount, colMean, colGroups, colGroupSize)
	if units {
		u.Units = rec.Units
	}
	switch {
	case units && counted:
		u.Least, u.Most = rec.Total/rec.Units, rec.Total/rec.Units
	case counted && l.text(r, colCount) != "": // on one unit at least
		u.Most = max(rec.Total, rec.High)
	}
	return u
}

// namedFirst reports whether stops are named before the columns of their places, so that
// cells that are shifted behind the name leave it as it is.
func (l *layout) namedFirst() bool {
	for _, c := range []column{colLongitude, colLatitude, colEasting, colNorthing, colWKT, colCount} {
		if at := l.at[c]; at >= 0 && at < l.at[colStop] {
			return false
		}
	}
	return true
}

// offers reports whether a place that was refused would do if read as is offered, and
// where it lies as it stands.
func (l *layout) offers(t table, r row) (written [2]float64, offered bool) {
	if l.fixPosition == nil {
		return written, false
	}
	asked := *l
	asked.fixPosition = func(lon, lat float64) (PositionFix, bool) {
		offer, ok := l.fixPosition(lon, lat)
		written, offered = [2]float64{lon, lat}, ok
		return offer, ok
	}
	rd := reader{layout: &asked, table: t, row: r}
	rd.position()
	return written, offered
}

// noWords is a row of words that do not tell a count.
func noWords(p Problem, stop string, lon, lat float64) Unread {
	return Unread{Problem: p, Row: Record{File: p.File, Line: p.Line, Stop: stop, Longitude: lon, Latitude: lat, Infested: math.NaN(), Accuracy: math.NaN()}, Placed: true, Most: math.Inf(1)}
}

// noCells is a row that could not be cut into cells.
func noCells(p Problem) Unread {
	return Unread{Problem: p, Row: Record{File: p.File, Line: p.Line, Infested: math.NaN(), Accuracy: math.NaN()}, Shifted: true, Most: math.Inf(1)}
}

// ofPest keeps the rows that may be of the pest chosen.
func ofPest(rows []Unread, pest string) []Unread {
	return slices.DeleteFunc(rows, func(u Unread) bool {
		return !u.Shifted && pest != "" && !mayBe(fold(u.Row.Pest), fold(pest))
	})
}

// byLine is the order of files and lines.
func byLine(order map[string]int, a, b Problem) int {
	return cmp.Or(order[a.File]-order[b.File], a.Line-b.Line)
}
