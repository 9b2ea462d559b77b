//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A column of a layer is a property by its name, and where its value stands.
type column struct{ name, value string }

// A shown layer is what a season shows map programs as it was kept.
type shown struct {
	from    string // tables; the features are t
	date    string // where their day stands; "" for none
	columns []column
}

// shows are the layers by their names.
func (s *Season) shows(layer string) (l shown, ok bool) {
	ofVisit := func(table string, names []string) shown {
		l := shown{from: table + ` AS t JOIN visits ON visits.id = t.visit_id`, date: `coalesce(t.date, '')`}
		l.columns = []column{{"visit", `t.visit_id`}, {"author", s.since(5, `visits.author`)}}
		for _, name := range names {
			l.columns = append(l.columns, column{name, `t.` + name})
		}
		return l
	}
	switch layer {
	case "fields":
		l = shown{from: `fields AS t LEFT JOIN visit_fields AS v ON v.id = (SELECT max(id) FROM visit_fields WHERE field_id = t.id)`, columns: []column{{"name", `t.name`}}}
		if s.format < 3 {
			l.from = `fields AS t`
		}
		for _, name := range fieldColumns[:len(fieldColumns)-1] { // less the digest
			l.columns = append(l.columns, column{name, s.stored(`coalesce(v.` + name + `, '')`)})
		}
	case "stops":
		l = ofVisit(layer, stopColumns[:])
	case "zones":
		l = ofVisit(layer, zoneColumns[:])
	case "verdicts":
		l = ofVisit(layer, verdictColumns[:])
		if s.format < 5 {
			l = ofVisit("zones", nil) // of which none is shown
			l.from = `(SELECT * FROM zones WHERE false)` + strings.TrimPrefix(l.from, "zones")
		}
	case "treatments":
		l = shown{from: `records AS t`, date: `t.date`, columns: []column{{"date", `t.date`}, {"note", `t.note`}, {"reentry_hours", `t.reentry_hours`}}}
		if s.format < 2 {
			l.from, l.date, l.columns = `(SELECT * FROM fields WHERE false) AS t`, "", nil
		}
	default:
		return l, false
	}
	return l, true
}

// where is the condition of a window's days.
func (l shown) where(w Window) (condition string, args []any) {
	condition = `true`
	if w.From == "" && w.To == "" {
		return condition, nil
	}
	date := l.date
	if date == "" {
		date = `''`
	}
	condition = date + ` <> ''`
	if w.From != "" {
		condition += ` AND substr(` + date + `, -10) >= ?`
		args = append(args, w.From)
	}
	if w.To != "" {
		condition += ` AND substr(` + date + `, 1, 10) <= ?`
		args = append(args, w.To)
	}
	return condition, args
}

// Page gives features of a layer: fields, stops, zones, verdicts or treatments. Nothing is
// worked out for it.
func (s *Season) Page(layer string, w Window) (p Page, err error) {
	l, ok := s.shows(layer)
	if !ok {
		return p, fmt.Errorf("season: no layer %q", layer)
	}
	if len(w.Boxes) > 0 {
		return s.pageWithin(l, w)
	}
	condition, args := l.where(w)
	if err := s.q.QueryRow(`SELECT count(*) FROM `+l.from+` WHERE `+condition, args...).Scan(&p.Matched); err != nil {
		return p, s.wrap(err)
	}
	limit := -1
	if w.Limit > 0 {
		limit = w.Limit + 1
	}
	p.Features, err = s.featuresOf(l, condition+` AND t.id > ? ORDER BY t.id LIMIT ?`, append(args, w.After, limit)...)
	if w.Limit > 0 && len(p.Features) > w.Limit {
		p.Features, p.More = p.Features[:w.Limit], true
	}
	return p, err
}

// Feature is a feature of a layer by its number; ok is false where there is none.
func (s *Season) Feature(layer string, id int64) (f geo.Feature, ok bool, err error) {
	l, ok := s.shows(layer)
	if !ok {
		return f, false, nil
	}
	features, err := s.featuresOf(l, `t.id = ?`, id)
	if err != nil || len(features) == 0 {
		return f, false, err
	}
	return features[0], true, nil
}

func (s *Season) featuresOf(l shown, condition string, args ...any) (features []geo.Feature, err error) {
	columns := `t.id, t.geom`
	for _, c := range l.columns {
		columns += `, ` + c.value
	}
	rows, err := s.q.Query(`SELECT `+columns+` FROM `+l.from+` WHERE `+condition, args...)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		var data []byte
		values, into := make([]any, len(l.columns)), []any{&id, &data}
		for i := range values {
			into = append(into, &values[i])
		}
		if err := rows.Scan(into...); err != nil {
			return nil, s.wrap(err)
		}
		f := geo.Feature{ID: fmt.Sprint(id)}
		if f.Geometry, err = unblob(data); err != nil {
			return nil, s.wrap(fmt.Errorf("feature %d: %w", id, err))
		}
		for i, c := range l.columns {
			f.Properties = append(f.Properties, geo.Property{Name: c.name, Value: values[i]})
		}
		features = append(features, f)
	}
	return features, rows.Err()
}

// pageWithin is Page where boxes are asked for: those first whose envelope touches one, as
// it stands before each geometry and is soon read.
func (s *Season) pageWithin(l shown, w Window) (p Page, err error) {
	boxes := boundsOf(w.Boxes)
	ids, doubtful, err := s.near(l, w, boxes)
	if err != nil {
		return p, err
	}
	for _, id := range ids {
		var features []geo.Feature
		wanted := id > w.After && (w.Limit == 0 || len(p.Features) < w.Limit)
		if doubtful[id] || wanted {
			if features, err = s.featuresOf(l, `t.id = ?`, id); err != nil {
				return p, err
			}
		}
		if doubtful[id] && (len(features) == 0 || !touchesAny(features[0].Geometry, boxes)) {
			continue
		}
		p.Matched++
		switch {
		case wanted:
			p.Features = append(p.Features, features...)
		case id > w.After:
			p.More = true
		}
	}
	return p, nil
}

// near are features whose envelope touches a box, and of which of them that is not enough
// to tell.
func (s *Season) near(l shown, w Window, boxes []orb.Bound) (ids []int64, doubtful map[int64]bool, err error) {
	condition, args := l.where(w)
	rows, err := s.q.Query(fmt.Sprintf(`SELECT t.id, substr(t.geom, 1, %d) FROM %s WHERE %s ORDER BY t.id`, headerSize+xySize, l.from, condition), args...)
	if err != nil {
		return nil, nil, s.wrap(err)
	}
	defer rows.Close()
	doubtful = map[int64]bool{}
	for rows.Next() {
		var id int64
		var head []byte
		if err := rows.Scan(&id, &head); err != nil {
			return nil, nil, s.wrap(err)
		}
		envelope, known := envelopeOf(head)
		touched, inside := !known, false
		for _, box := range boxes {
			touched = touched || envelope.Intersects(box)
			inside = inside || known && box.Contains(envelope.Min) && box.Contains(envelope.Max)
		}
		if touched {
			ids = append(ids, id)
			doubtful[id] = !inside
		}
	}
	return ids, doubtful, rows.Err()
}

// Extent is that of a layer; nil where it is empty.
func (s *Season) Extent(layer string) (*Extent, error) {
	l, known := s.shows(layer)
	if !known {
		return nil, fmt.Errorf("season: no layer %q", layer)
	}
	table := layer
	if layer == "treatments" {
		table = "records"
	}
	var box [4]sql.NullFloat64
	err := s.q.QueryRow(`SELECT min_x, min_y, max_x, max_y FROM gpkg_contents WHERE table_name = ?`, table).Scan(&box[0], &box[1], &box[2], &box[3])
	if errors.Is(err, sql.ErrNoRows) || err == nil && !box[0].Valid {
		return nil, nil
	}
	if err != nil {
		return nil, s.wrap(err)
	}
	var e Extent
	for i, side := range box {
		e.Box[i] = side.Float64
	}
	if l.date == "" {
		return &e, nil
	}
	err = s.q.QueryRow(`SELECT coalesce(min(substr(d, 1, 10)), ''), coalesce(max(substr(d, -10)), '') FROM (SELECT DISTINCT `+l.date+` AS d FROM `+l.from+`) WHERE d <> ''`).Scan(&e.First, &e.Last)
	if err != nil {
		return nil, s.wrap(err)
	}
	return &e, nil
}
