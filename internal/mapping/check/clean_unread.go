package check

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// notRead stands where a count could not be read, so that a map of the clean file tells
// of the row too; whoever finds the count out writes it over.
const notRead = "not read"

// unreadCells are the cells of a row that was set aside though somebody may have counted
// on it: what could be read of it. Without a place it stays set aside for that; else its
// count is left out, whatever it was set aside for.
func unreadCells(u survey.Unread, columns []CleanColumn) []string {
	rec := u.Row
	rec.File, rec.Line, rec.Units = u.File, u.Line, math.NaN()
	switch {
	case u.Offered: // to be offered anew
		rec.Longitude, rec.Latitude = u.Written[0], u.Written[1]
	case !u.Placed:
		rec.Longitude, rec.Latitude = math.NaN(), math.NaN()
	}
	if u.Units > 0 {
		rec.Units = u.Units
	}
	rec.Infested, rec.Notes = math.NaN(), fmt.Sprintf("%s %q: %s", u.Column, u.Value, u.What)
	cells := make([]string, len(columns))
	for i, column := range columns {
		switch column.Name {
		case "count", "mean_per_leaf":
			if cells[i] = notRead; !u.Placed && u.Counted() {
				cells[i] = column.cell(rec)
			}
		default:
			cells[i] = writable(column.cell(rec))
		}
	}
	return cells
}
