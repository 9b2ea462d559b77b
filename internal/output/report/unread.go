package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// mostFirst is how many rows a heading names.
const mostFirst = 3

// findOut names what could not be read, as a stop to walk to and as a place in a file, or is in
// doubt, and says what to do about it today: where the other stops ask for more, all at once.
func findOut(v verdict.Verdict, u figures.Units) string {
	rows, said, things := unreadRows(v.Unread), []string{}, 0
	switch len(rows) {
	case 0:
	case 1:
		said, things = append(said, lacks(rows[0], u)+" could not be read "+rowName(rows[0])), 1
	default:
		said, things = append(said, fmt.Sprintf("%d rows could not be read: %s", len(rows), rowNames(rows, u))), len(rows)
	}
	moved := displaced(v.Unread)
	switch n := len(moved); n {
	case 0:
	case 1:
		said, things = append(said, fmt.Sprintf("stop %s has the place of stop %s (%s)", moved[0].Rows[0].Row.Stop, moved[0].PlaceOf, moved[0].Rows[0].Place())), things+1
	default:
		firsts := make([]survey.Unread, n)
		for i, l := range moved {
			firsts[i] = l.Rows[0]
			firsts[i].Column = "" // its name stands before
		}
		said, things = append(said, fmt.Sprintf("%d stops have the place of another: %s", n, rowNames(firsts, u))), things+n
	}
	if len(v.Shared) > 0 {
		said, things = append(said, figures.Counted(len(v.Shared), "place")+" with two counts"), things+len(v.Shared)
	}
	it := "it"
	if things > 1 {
		it = "them"
	}
	if v.More > 0 {
		return fmt.Sprintf("%s: find %[2]s out or count %[2]s again today, %[3]s as well, and map again", strings.Join(said, "; "), it, walk(v, u))
	}
	return fmt.Sprintf("%s: find %[2]s out or count %[2]s again today, and map again", strings.Join(said, "; "), it)
}

// rowNames names the first rows.
func rowNames(rows []survey.Unread, u figures.Units) string {
	var names []string
	for i, row := range rows {
		if i == mostFirst {
			names = append(names, fmt.Sprintf("and %d more", len(rows)-i))
			break
		}
		names = append(names, stopOf(row, u)+" "+rowName(row))
	}
	return strings.Join(names, ", ")
}

// lacking names what is not known of the first rows, by their stops; a row without a
// name by where it stands.
func lacking(rows []survey.Unread) string {
	var names []string
	for _, u := range rows {
		name := lacks(u, figures.Both)
		if u.Shifted || u.Row.Stop == "" {
			name += " " + rowName(u)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if more := len(names) - mostFirst; more > 0 {
		names = append(names[:mostFirst], fmt.Sprintf("and %d more", more))
	}
	return strings.Join(names, ", ")
}

// lacks is what is not known of a row.
func lacks(row survey.Unread, u figures.Units) string {
	switch stop := stopOf(row, u); {
	case row.Shifted:
		return stop
	case row.Placed:
		return u.Say("the count of %s", stop)
	case row.Counted():
		return u.Say("the place of %s", stop)
	default:
		return u.Say("place and count of %s", stop)
	}
}

func stopOf(row survey.Unread, u figures.Units) string {
	switch {
	case row.Shifted:
		return u.Text("a row")
	case row.Row.Stop == "":
		return u.Text("a stop")
	}
	return u.Say("stop %s", row.Row.Stop)
}

// rowName is where a row stands and what stands in it.
func rowName(u survey.Unread) string {
	switch {
	case u.Column == "":
		return fmt.Sprintf("(%s:%d)", u.File, u.Line)
	case u.Value == "":
		return fmt.Sprintf("(%s:%d, blank)", u.File, u.Line)
	}
	return fmt.Sprintf("(%s:%d, %q)", u.File, u.Line, firstOf(u.Value))
}

// firstOf keeps a cell from taking over a heading.
func firstOf(text string) string {
	const most = 24
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// unreadRows are those that could not be read: not those of stops out of place.
func unreadRows(all []assess.Unread) (rows []survey.Unread) {
	for _, u := range all {
		if u.PlaceOf == "" {
			rows = append(rows, u.Rows...)
		}
	}
	return rows
}

// displaced are the stops that stand at the place of another.
func displaced(all []assess.Unread) (out []assess.Unread) {
	for _, u := range all {
		if u.PlaceOf != "" {
			out = append(out, u)
		}
	}
	return out
}

// inDoubt are all rows that an answer goes without.
func inDoubt(all []assess.Unread) (rows []survey.Unread) {
	for _, u := range all {
		rows = append(rows, u.Rows...)
	}
	return rows
}

// rowsNotRead names the rows that were not read, and what the others say alone.
func rowsNotRead(v verdict.Verdict) (reasons []string) {
	rows := unreadRows(v.Unread)
	for i, u := range rows {
		if i == mostNamed {
			reasons = append(reasons, fmt.Sprintf("and %s more not read, in summary.json", figures.Counted(len(rows)-i, "row")))
			break
		}
		reasons = append(reasons, "not read: "+u.String())
	}
	for i, l := range displaced(v.Unread) {
		if i == mostNamed {
			break
		}
		reasons = append(reasons, "nobody knows where: "+l.Rows[0].String())
	}
	if v.Without != verdict.None {
		reasons = append(reasons, because(fmt.Sprintf("the other stops alone say %q", v.Without), v.Says))
	}
	if len(v.Unread) > 0 && v.Kind == verdict.SpotSpray {
		reasons = append(reasons, "what was not read may make the treat ground larger")
	}
	return reasons
}

// notRead says how many of the stops were used, and which rows were not read of those
// that were, and how many stops lie in no field; nothing where all was read.
func notRead(v verdict.Verdict) (parts []string) {
	parts = stopsUsed(v.Stats.Stops, v.Stats.Extra, v.Away, v.AwayLoose, v.Unread, figures.Both)
	if v.Undated > 0 {
		parts = append(parts, "the day of "+figures.Counted(v.Undated, "row")+" not read")
	}
	return parts
}

// StopsUsed says how many of the stops of a field were used; "" where all were read and
// are in the mean.
func StopsUsed(f *assess.Field, u figures.Units) string {
	extra := f.ExtraStops()
	parts := stopsUsed(len(f.Stops)-extra, extra, 0, false, f.Unread, u)
	if lost, _, _ := assess.Lost(f.Unread); lost == 0 && extra > 0 {
		parts = append([]string{Stops(f, u)}, parts...)
	}
	return strings.Join(parts, "; ")
}

// stopsUsed says how many of the stops were used, how many lie in no field, perhaps
// another's where that is loose, and how many rows of those used were not read.
func stopsUsed(used, extra, away int, looseAway bool, unread []assess.Unread, u figures.Units) (parts []string) {
	lost, rows, loose := assess.Lost(unread)
	if of := ofStops(used, lost+away, loose || looseAway, u); of != "" {
		parts = append(parts, stopsOfAll(used, extra, of, u)+inNoField(away, u))
	}
	if rows > 0 {
		parts = append(parts, u.Say("%s of the stops used not read", u.Counted(rows, "row")))
	}
	return parts
}

// inNoField adds how many of the stops lie in none.
func inNoField(stops int, u figures.Units) string {
	switch stops {
	case 0:
		return ""
	case 1:
		return u.Text(", 1 lies in no field")
	}
	return u.Say(", %d lie in no field", stops)
}
