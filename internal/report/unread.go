package report

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/survey"
	"github.com/geocoris/geocoris/internal/verdict"
)

// mostFirst is how many rows a heading names.
const mostFirst = 3

// readFirst names the rows to be read before anything is decided.
func readFirst(v verdict.Verdict) string {
	rows := unreadRows(v.Unread)
	var names []string
	for i, u := range rows {
		if i == mostFirst {
			names = append(names, fmt.Sprintf("%d more", len(rows)-i))
			break
		}
		names = append(names, rowName(u))
	}
	return fmt.Sprintf("read %s first: %s", theseRows(len(rows)), strings.Join(names, ", "))
}

func theseRows(n int) string {
	if n == 1 {
		return "this row"
	}
	return fmt.Sprintf("these %d rows", n)
}

// rowName is where a row stands and what stands in it.
func rowName(u survey.Unread) string {
	if u.Column == "" {
		return fmt.Sprintf("%s:%d", u.File, u.Line)
	}
	return fmt.Sprintf("%s:%d %s %q", u.File, u.Line, u.Column, firstOf(u.Value))
}

// firstOf keeps a cell from taking over a heading.
func firstOf(text string) string {
	const most = 24
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

func unreadRows(all []assess.Unread) (rows []survey.Unread) {
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
			reasons = append(reasons, fmt.Sprintf("and %s more not read, in summary.json", counted(len(rows)-i, "row")))
			break
		}
		reasons = append(reasons, "not read: "+u.String())
	}
	if v.Without != verdict.None {
		reasons = append(reasons, fmt.Sprintf("by the rows that were read alone it would be %q", v.Without))
	}
	if len(rows) > 0 && v.Kind == verdict.SpotSpray {
		reasons = append(reasons, "what was not read may make the treat ground larger")
	}
	return reasons
}

// notRead says how many of the stops were used, and which rows were not read of those
// that were; nothing where all was read.
func notRead(v verdict.Verdict) (parts []string) {
	lost, rows, loose := v.Lost()
	if lost > 0 {
		upTo := ""
		if loose {
			upTo = "up to "
		}
		parts = append(parts, fmt.Sprintf("%d of %s%d stops used", v.Stats.Stops, upTo, v.Stats.Stops+lost))
	}
	if rows > 0 {
		parts = append(parts, counted(rows, "row")+" of the stops used not read")
	}
	if v.Undated > 0 {
		parts = append(parts, "the day of "+counted(v.Undated, "row")+" not read")
	}
	return parts
}
