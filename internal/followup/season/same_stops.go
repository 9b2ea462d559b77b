//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// sameStops are the visits whose stops are those of v but for their days, such as where a
// day was put right in the file. Counts of hardly any pests may be alike week after week at
// the stops of a plan, so they are not taken for the same.
func (s *Season) sameStops(tx *sql.Tx, v Visit) (same []HeldError, err error) {
	if !telling(v.Stops) {
		return nil, nil
	}
	others, err := s.ofAsManyStops(tx, v)
	if err != nil {
		return nil, err
	}
	own := textsOf(v.Stops)
	within := &Season{q: tx, name: s.name, format: s.format, store: s.store}
	for _, h := range others {
		stops, err := within.drawn(drawn{name: "stops", columns: stopColumns[:]}, h.Visit)
		if err != nil {
			return nil, err
		}
		if slices.Equal(textsOf(stops), own) {
			same = append(same, h)
		}
	}
	return same, nil
}

// telling reports whether counts are too many to be alike by chance: three stops with
// pests, of which two differ.
func telling(stops []geo.Feature) bool {
	var some []float64
	for _, stop := range stops {
		value, _ := stop.Properties.Get("value")
		if n, _ := value.(float64); n > 0 {
			some = append(some, n)
		}
	}
	return len(some) >= 3 && slices.Min(some) < slices.Max(some)
}

// ofAsManyStops are the visits of another day, and of one pest, that have as many stops, and
// one in the field of the hottest of v with its value: few of many thousands.
func (s *Season) ofAsManyStops(tx *sql.Tx, v Visit) (all []HeldError, err error) {
	field, value := hottest(v.Stops)
	in := `field = $5` // which an index may tell
	if field == "" {
		in = `coalesce(field, '') = $5`
	}
	rows, err := tx.Query(`SELECT id, date, author FROM visits WHERE date <> $1 AND pest = $2 AND unit = $3 AND `+s.live(`visits.id`)+`
		AND id IN (SELECT visit_id FROM stops WHERE `+in+` AND value = $6)
		AND (SELECT count(*) FROM stops WHERE visit_id = visits.id) = $4 ORDER BY id`, v.Date, v.Pest, v.Unit, len(v.Stops), field, value)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		h := HeldError{Same: true}
		if err := rows.Scan(&h.Visit, &h.Date, &h.By); err != nil {
			return nil, err
		}
		all = append(all, h)
	}
	return all, rows.Err()
}

// hottest is the field, or "" for none, and the value of the first stop with the largest one.
func hottest(stops []geo.Feature) (field string, value float64) {
	for _, stop := range stops {
		v, _ := stop.Properties.Get("value")
		if n, _ := v.(float64); n > value {
			in, _ := stop.Properties.Get("field")
			field, _ = in.(string)
			value = n
		}
	}
	return field, value
}

// textsOf are stops as texts, less their days, in one order.
func textsOf(stops []geo.Feature) (all []string) {
	for _, stop := range stops {
		text := fmt.Sprint(stop.Geometry)
		for _, c := range [...]string{"field", "stop", "value", "count", "leaves"} {
			value, _ := stop.Properties.Get(c)
			if n, ok := value.(int); ok {
				value = float64(n)
			}
			text += fmt.Sprintf("\x00%v", value)
		}
		all = append(all, text)
	}
	slices.Sort(all)
	return all
}
