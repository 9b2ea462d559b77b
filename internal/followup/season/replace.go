//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
)

// AddInPlace stores a visit as [Season.AddDay] does, in place of the visits of the numbers
// given, whatever their days, all at once. Where another visit is the same already, those
// are taken out and its number is returned. replaced are all that were taken out.
func (s *Season) AddInPlace(v Visit, replace bool, visits ...int64) (id int64, replaced []int64, err error) {
	err = s.update(func(tx *sql.Tx) error {
		id, err = known(tx, v)
		twin := errors.Is(err, ErrKnown)
		if err != nil && (!twin || slices.Contains(visits, id)) {
			return err
		}
		for _, n := range visits {
			if err := makeRoom(tx, n, v); err != nil {
				return err
			}
		}
		if twin {
			return describe(tx)
		}
		if replaced, err = rivals(tx, v, replace); err != nil {
			return err
		}
		if id, err = insert(tx, 0, v); err != nil {
			return err
		}
		return describe(tx)
	})
	if id, err = s.added(id, err); err != nil {
		return id, nil, err
	}
	return id, slices.Concat(visits, replaced), nil
}

// rivals are the visits that tell of a day of a visit's fields, or hold its counts under
// another day. With replace they are taken out; else the first is a [HeldError].
func rivals(tx *sql.Tx, v Visit, replace bool) (numbers []int64, err error) {
	held, err := heldDays(tx, daysOf(v))
	if err != nil {
		return nil, err
	}
	same, err := sameCounts(tx, v)
	if err != nil {
		return nil, err
	}
	held = append(held, same...)
	switch {
	case len(held) == 0:
		return nil, nil
	case !replace:
		held[0].By = ""
		return nil, &held[0]
	}
	if held, err = replaceable(held, v.Author); err != nil {
		return nil, err
	}
	for _, h := range held {
		if slices.Contains(numbers, h.Visit) {
			continue
		}
		if err := makeRoom(tx, h.Visit, v); err != nil {
			return nil, err
		}
		numbers = append(numbers, h.Visit)
	}
	return numbers, nil
}

// makeRoom takes a visit out for another one that tells of all its fields.
func makeRoom(tx *sql.Tx, visit int64, by Visit) error {
	var there bool
	if err := tx.QueryRow(`SELECT count(*) FROM visits WHERE id = ?`, visit).Scan(&there); err != nil {
		return err
	}
	if !there {
		return fmt.Errorf("there is no visit %d; season list shows those there are", visit)
	}
	if err := leaves(tx, visit, by); err != nil {
		return err
	}
	return remove(tx, visit)
}

// sameCounts are the visits of a field of v whose files are those of v byte for byte, read
// as another day.
func sameCounts(tx *sql.Tx, v Visit) (same []HeldError, err error) {
	rows, err := tx.Query(`SELECT visits.id, visits.date, visits.author, files.sha256 FROM visits JOIN files ON files.visit_id = visits.id ORDER BY visits.id, files.sha256`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	sums, days, by := map[int64][]string{}, map[int64]string{}, map[int64]string{}
	var order []int64
	for rows.Next() {
		var n int64
		var day, author, sum string
		if err := rows.Scan(&n, &day, &author, &sum); err != nil {
			return nil, err
		}
		if days[n], by[n] = day, author; len(sums[n]) == 0 {
			order = append(order, n)
		}
		sums[n] = append(sums[n], sum)
	}
	var own []string
	for _, f := range v.Files {
		own = append(own, f.sum())
	}
	slices.Sort(own)
	for _, n := range order {
		if days[n] == v.Date || !slices.Equal(sums[n], own) {
			continue
		}
		if shared, err := sharesField(tx, n, v); err != nil {
			return nil, err
		} else if shared {
			same = append(same, HeldError{Visit: n, Date: days[n], By: by[n], Same: true})
		}
	}
	return same, rows.Err()
}

// sharesField reports whether two visits tell of one field.
func sharesField(tx *sql.Tx, visit int64, v Visit) (shared bool, err error) {
	for _, field := range scouted(v) {
		if err := tx.QueryRow(`SELECT count(*) > 0 FROM stops WHERE visit_id = ? AND field = ?`, visit, field).Scan(&shared); err != nil || shared {
			return shared, err
		}
	}
	return false, nil
}

// scouted are the names of the fields that a visit has stops in.
func scouted(v Visit) (fields []string) {
	for _, stop := range v.Stops {
		name, _ := stop.Properties.Get("field")
		if field, _ := name.(string); field != "" && !slices.Contains(fields, field) {
			fields = append(fields, field)
		}
	}
	return fields
}
