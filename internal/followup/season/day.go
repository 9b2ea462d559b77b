//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"slices"
)

// AddDay stores a visit as [Season.Add] does, but no second one of a field's day, as two
// cannot be compared, and no second one of the same counts read as another day: that is a
// [HeldError]. With replace these visits make room for it, all at once; one that tells of
// a field besides is an error.
func (s *Season) AddDay(v Visit, replace bool) (id int64, replaced []int64, err error) {
	id, err = s.add(v, func(tx *sql.Tx) error {
		replaced, err = rivals(tx, v, replace)
		return err
	})
	if err != nil {
		replaced = nil
	}
	return id, replaced, err
}

// A span is the days on which a field was counted.
type span struct{ first, last string }

func (d span) String() string {
	if d.first == d.last {
		return d.first
	}
	return d.first + "/" + d.last
}

// daysOf are the days of a visit's fields, less those that tell none.
func daysOf(v Visit) map[string]span {
	days := map[string]span{}
	for _, stop := range v.Stops {
		name, _ := stop.Properties.Get("field")
		on, _ := stop.Properties.Get("date")
		field, _ := name.(string)
		date, _ := on.(string)
		if field == "" || date == "" {
			continue
		}
		d, known := days[field]
		if !known {
			d = span{date, date}
		}
		days[field] = span{min(d.first, date), max(d.last, date)}
	}
	return days
}

// heldDays are the fields that visits tell of on the days given.
func heldDays(tx *sql.Tx, days map[string]span) (held []HeldError, err error) {
	rows, err := tx.Query(`SELECT visit_id, field, min(date), max(date) FROM stops WHERE field <> '' AND date <> '' GROUP BY visit_id, field ORDER BY visit_id, field`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var h HeldError
		var d span
		if err := rows.Scan(&h.Visit, &h.Field, &d.first, &d.last); err != nil {
			return nil, err
		}
		if own, known := days[h.Field]; known && own == d {
			h.Date = d.String()
			held = append(held, h)
		}
	}
	return held, rows.Err()
}

// leaves is an error where a visit tells of a field that the one in its place does not.
func leaves(tx *sql.Tx, visit int64, by Visit) error {
	in := scouted(by)
	rows, err := tx.Query(`SELECT DISTINCT coalesce(field, '') FROM stops WHERE visit_id = ? ORDER BY 1`, visit)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var field string
		if err := rows.Scan(&field); err != nil {
			return err
		}
		if field != "" && !slices.Contains(in, field) {
			return &HeldError{Visit: visit, Left: field}
		}
	}
	return rows.Err()
}

// remove takes a visit out with all that is of it; fields stay.
func remove(tx *sql.Tx, visit int64) error {
	for _, table := range parts {
		if _, err := tx.Exec(`DELETE FROM `+table+` WHERE visit_id = ?`, visit); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`DELETE FROM visits WHERE id = ?`, visit)
	return err
}
