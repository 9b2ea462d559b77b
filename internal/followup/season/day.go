//go:build !js && !nosqlite

package season

import (
	"cmp"
	"database/sql"
	"maps"
	"slices"
)

// AddDay stores a visit as [Season.Add] does, but no second one of a field's days, from the
// first to the last, as two cannot be compared, and no second one of the same counts read as another day: that is a
// [HeldError]. With replace those of its author make room for it, all at once; one that
// tells of a field besides is an error, and so is it where all are another's.
func (s *Season) AddDay(v Visit, replace bool) (id int64, replaced []int64, err error) {
	id, err = s.add(v, func(tx *sql.Tx, v Visit) ([]outgoing, error) {
		out, err := s.rivals(tx, v, replace, nil)
		replaced = numbersOf(out)
		return out, err
	})
	if err != nil {
		replaced = nil
	}
	return id, replaced, err
}

// replaceable are those of the visits of a day that another may take the place of: those of
// its author. Where nobody says who brought one, it is anybody's; who does not say whose the
// new one is replaces none beside another's.
func replaceable(held []HeldError, author string) (own []HeldError, err error) {
	for _, h := range held {
		if h.By == author || h.By == "" {
			own = append(own, h)
		}
	}
	anothers := slices.IndexFunc(held, func(h HeldError) bool { return h.By != "" && h.By != author })
	if len(own) == 0 || author == "" && anothers >= 0 {
		return nil, &held[anothers]
	}
	return own, nil
}

// A span is the days on which a field was counted.
type span struct{ first, last string }

func (d span) String() string { return Days(d.first, d.last) }

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

// heldDays are the fields that visits tell of on any of the days given, in the order of the
// numbers of the visits, then of names: half of a walk shares its days with all of it.
func (s *Season) heldDays(tx *sql.Tx, days map[string]span) (held []HeldError, err error) {
	for names := range slices.Chunk(slices.Sorted(maps.Keys(days)), atOnce) {
		err := s.eachDay(tx, names, func(visit int64, field, author string, d span) {
			if own := days[field]; own.first <= d.last && d.first <= own.last {
				held = append(held, HeldError{Visit: visit, Field: field, Date: d.String(), By: author})
			}
		})
		if err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(held, func(a, b HeldError) int { return cmp.Or(cmp.Compare(a.Visit, b.Visit), cmp.Compare(a.Field, b.Field)) })
	return held, nil
}

// atOnce is for how many names or numbers one query asks; databases bound its parameters.
const atOnce = 500

// eachDay calls for each field of each visit, in the order of their numbers, with its days
// and who brought it: for the fields named, or, with none, for all.
func (s *Season) eachDay(q querier, names []string, f func(visit int64, field, author string, d span)) error {
	which, args := ``, make([]any, len(names))
	for i, name := range names {
		args[i] = name
	}
	if len(names) > 0 {
		which = ` AND field IN (` + places(1, len(names)) + `)`
	}
	rows, err := q.Query(`SELECT visit_id, field, `+s.since(5, `max(author)`)+`, min(stops.date), max(stops.date) FROM stops JOIN visits ON visits.id = visit_id
		WHERE field <> '' AND stops.date <> ''`+which+` AND `+s.live(`stops.visit_id`)+` GROUP BY visit_id, field ORDER BY visit_id`, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var visit int64
		var field, author string
		var d span
		if err := rows.Scan(&visit, &field, &author, &d.first, &d.last); err != nil {
			return err
		}
		f(visit, field, author, d)
	}
	return rows.Err()
}

// Beside are the fields of which several visits tell on one day, by their days and names, and
// whether these are parts of one walk.
func (s *Season) Beside() (all []Beside, err error) {
	type key struct {
		field string
		days  span
	}
	visits := map[key][]int64{}
	err = s.eachDay(s.q, nil, func(visit int64, field, _ string, d span) {
		visits[key{field, d}] = append(visits[key{field, d}], visit)
	})
	if err != nil {
		return nil, s.wrap(err)
	}
	for k, ids := range visits {
		if len(ids) > 1 {
			all = append(all, Beside{Field: k.field, Date: k.days.String(), Visits: ids})
		}
	}
	if err := s.tellApart(all); err != nil {
		return nil, s.wrap(err)
	}
	slices.SortFunc(all, func(a, b Beside) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Field, b.Field))
	})
	return all, nil
}

// leaves is an error where a visit tells of a field that the one in its place does not.
func leaves(tx *sql.Tx, visit int64, by Visit) error {
	in := scouted(by)
	rows, err := tx.Query(`SELECT DISTINCT coalesce(field, '') FROM stops WHERE visit_id = $1 ORDER BY 1`, visit)
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
