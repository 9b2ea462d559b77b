//go:build !js && !nosqlite

package season

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// stoodIn are the stops of some visits by their numbers and fields.
func (s *Season) stoodIn(q querier, visits []int64) (at map[int64]map[string][]Stood, err error) {
	at = map[int64]map[string][]Stood{}
	for some := range slices.Chunk(visits, atOnce) {
		if err := s.addStood(q, some, at); err != nil {
			return nil, err
		}
	}
	return at, nil
}

func (s *Season) addStood(q querier, visits []int64, to map[int64]map[string][]Stood) error {
	args := make([]any, len(visits))
	for i, id := range visits {
		args[i] = id
	}
	rows, err := q.Query(`SELECT visit_id, field, geom, coalesce(stop, ''), coalesce(value, 0) FROM stops WHERE field <> '' AND visit_id IN (`+places(1, len(visits))+`) ORDER BY id`, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var visit int64
		var field string
		var data []byte
		var one Stood
		if err := rows.Scan(&visit, &field, &data, &one.Name, &one.Value); err != nil {
			return err
		}
		if to[visit] == nil {
			to[visit] = map[string][]Stood{}
		}
		if data, err = s.decode(data); err != nil {
			return err
		}
		if g, err := unblob(data); err == nil { // what is no place is at none
			var is bool
			if one.At, is = g.(orb.Point); is {
				to[visit][field] = append(to[visit][field], one)
			}
		}
	}
	return rows.Err()
}

// byField are stops of a visit by their fields.
func byField(stops []geo.Feature) map[string][]Stood {
	at := map[string][]Stood{}
	for _, stop := range stops {
		name, _ := stop.Properties.Get("field")
		called, _ := stop.Properties.Get("stop")
		value, _ := stop.Properties.Get("value")
		field, _ := name.(string)
		one := Stood{}
		one.Name, _ = called.(string)
		one.Value, _ = value.(float64)
		var is bool
		if one.At, is = stop.Geometry.(orb.Point); is && field != "" {
			at[field] = append(at[field], one)
		}
	}
	return at
}

// tellApart fills in which visits of a field's day have hardly a stop at the same place.
func (s *Season) tellApart(all []Beside) error {
	var ids []int64
	for _, b := range all {
		ids = append(ids, b.Visits...)
	}
	slices.Sort(ids)
	at, err := s.stoodIn(s.q, slices.Compact(ids))
	if err != nil {
		return err
	}
	for k, b := range all {
		for i, v := range b.Visits {
			for _, before := range b.Visits[:i] {
				if Elsewhere(at[before][b.Field], at[v][b.Field]) {
					all[k].Apart = append(all[k].Apart, [2]int64{before, v})
				}
			}
		}
	}
	return nil
}

// tellParts notes of the visits held by days of v those that are elsewhere than v in all fields
// of it that they tell of, with the files of their counts.
func (s *Season) tellParts(q querier, held []HeldError, v Visit) error {
	var ids []int64
	for _, h := range held {
		ids = append(ids, h.Visit)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	theirs, err := s.stoodIn(q, ids)
	if err != nil {
		return err
	}
	own, there := byField(v.Stops), map[int64]bool{} // whether they stand where v does
	for _, h := range held {
		there[h.Visit] = there[h.Visit] || h.Same || !Elsewhere(theirs[h.Visit][h.Field], own[h.Field])
	}
	for _, id := range ids {
		if there[id] {
			continue
		}
		names, err := s.fileNames(q, id)
		if err != nil {
			return err
		}
		for i := range held {
			if held[i].Visit == id {
				held[i].Parts = strings.Join(names, ", ")
			}
		}
	}
	return nil
}

// fileNames are the names of the files of a visit.
func (s *Season) fileNames(q querier, visit int64) (names []string, err error) {
	rows, err := q.Query(`SELECT name FROM files WHERE visit_id = $1 ORDER BY id`, visit)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return nil, err
		}
		names = append(names, name)
	}
	return names, rows.Err()
}
