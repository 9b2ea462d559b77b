//go:build !js && !nosqlite

package season

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A column of a layer is a property by its name, and where its value stands.
type column struct{ name, value string }

// A shown layer is what a season shows map programs as it was kept.
type shown struct {
	from    string // tables; the features are t
	live    string // what of them counts
	date    string // where their day stands; "" for none
	columns []column
}

// A condition is what features are asked for, with its parameters in their order.
type condition struct {
	text string
	args []any
}

// and adds a condition; each ? of it is one of the parameters.
func (c *condition) and(text string, args ...any) {
	for _, arg := range args {
		c.args = append(c.args, arg)
		text = strings.Replace(text, `?`, fmt.Sprintf("$%d", len(c.args)), 1)
	}
	c.text += ` AND ` + text
}

// shows are the layers by their names.
func (s *Season) shows(layer string) (l shown, ok bool) {
	ofVisit := func(table string, names []string) shown {
		l := shown{from: table + ` AS t JOIN visits ON visits.id = t.visit_id`, live: s.live(`t.visit_id`), date: `coalesce(t.date, '')`}
		l.columns = []column{{"visit", `t.visit_id`}, {"author", s.since(5, `visits.author`)}}
		for _, name := range names {
			l.columns = append(l.columns, column{name, `t.` + name})
		}
		return l
	}
	switch layer {
	case "fields":
		l = shown{from: `fields AS t LEFT JOIN visit_fields AS v ON v.id = (SELECT max(id) FROM visit_fields WHERE field_id = t.id AND ` + s.live(`visit_fields.visit_id`) + `)`, live: `true`, columns: []column{{"name", `t.name`}}}
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
		l = shown{from: `records AS t`, live: `true`, date: `t.date`, columns: []column{{"date", `t.date`}, {"note", `t.note`}, {"reentry_hours", `t.reentry_hours`}}}
		if s.format < 2 {
			l.from, l.date, l.columns = `(SELECT * FROM fields WHERE false) AS t`, "", nil
		}
	default:
		return l, false
	}
	return l, true
}

// in is the condition of what counts in a window's days.
func (l shown) in(w Window) condition {
	c := condition{text: l.live}
	date := l.date
	if date == "" {
		date = `''`
	}
	if w.From != "" {
		c.and(date+` <> '' AND `+lastDay(date)+` >= ?`, w.From)
	}
	if w.To != "" {
		c.and(date+` <> '' AND substr(`+date+`, 1, 10) <= ?`, w.To)
	}
	return c
}

// lastDay is that of a day or of first/last day.
func lastDay(date string) string { return `substr(` + date + `, length(` + date + `) - 9)` }

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
	c := l.in(w)
	if err := s.q.QueryRow(`SELECT count(*) FROM `+l.from+` WHERE `+c.text, c.args...).Scan(&p.Matched); err != nil {
		return p, s.wrap(err)
	}
	c.and(`t.id > ?`, w.After)
	c.text += ` ORDER BY t.id`
	if w.Limit > 0 {
		c.text += fmt.Sprintf(` LIMIT %d`, w.Limit+1)
	}
	p.Features, err = s.featuresOf(l, c)
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
	features, err := s.featuresOf(l, l.numbered(id))
	if err != nil || len(features) == 0 {
		return f, false, err
	}
	return features[0], true, nil
}

// numbered is the condition of features by their numbers, in the order of those.
func (l shown) numbered(ids ...int64) condition {
	c := condition{text: l.live + ` AND t.id IN (` + places(1, len(ids)) + `) ORDER BY t.id`}
	for _, id := range ids {
		c.args = append(c.args, id)
	}
	return c
}

func (s *Season) featuresOf(l shown, c condition) (features []geo.Feature, err error) {
	columns := `t.id, t.geom`
	for _, c := range l.columns {
		columns += `, ` + c.value
	}
	rows, err := s.q.Query(`SELECT `+columns+` FROM `+l.from+` WHERE `+c.text, c.args...)
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
		if f.Geometry, err = s.drawing(data); err != nil {
			return nil, s.wrap(fmt.Errorf("feature %d: %w", id, err))
		}
		for i, c := range l.columns {
			f.Properties = append(f.Properties, geo.Property{Name: c.name, Value: values[i]})
		}
		features = append(features, f)
	}
	return features, rows.Err()
}

// drawing is a geometry as it was read.
func (s *Season) drawing(read []byte) (orb.Geometry, error) {
	blob, err := s.decode(read)
	if err != nil {
		return nil, err
	}
	return unblob(blob)
}

// pageWithin is Page where boxes are asked for: those first whose envelope touches one, as
// that is soon read. A database far away is asked few times.
func (s *Season) pageWithin(l shown, w Window) (p Page, err error) {
	boxes := boundsOf(w.Boxes)
	ids, doubtful, err := s.near(l, w, boxes)
	if err != nil {
		return p, err
	}
	touching := map[string]bool{}
	for _, id := range doubtful {
		touching[fmt.Sprint(id)] = false
	}
	err = s.eachOf(l, doubtful, func(f geo.Feature) { touching[f.ID] = touchesAny(f.Geometry, boxes) })
	if err != nil {
		return p, err
	}
	ids = slices.DeleteFunc(ids, func(id int64) bool {
		touches, asked := touching[fmt.Sprint(id)]
		return asked && !touches
	})
	p.Matched = len(ids)
	ids = slices.DeleteFunc(ids, func(id int64) bool { return id <= w.After })
	if w.Limit > 0 && len(ids) > w.Limit {
		ids, p.More = ids[:w.Limit], true
	}
	err = s.eachOf(l, ids, func(f geo.Feature) { p.Features = append(p.Features, f) })
	return p, err
}

// eachOf calls for the features of a layer by their numbers, in their order.
func (s *Season) eachOf(l shown, ids []int64, call func(geo.Feature)) error {
	for some := range slices.Chunk(ids, atOnce) {
		features, err := s.featuresOf(l, l.numbered(some...))
		if err != nil {
			return err
		}
		for _, f := range features {
			call(f)
		}
	}
	return nil
}

// near are features whose envelope touches a box, and of which of them that is not enough
// to tell.
func (s *Season) near(l shown, w Window, boxes []orb.Bound) (ids, doubtful []int64, err error) {
	c := l.in(w)
	s.meets(&c, `t.geom`, boxes)
	rows, err := s.q.Query(`SELECT t.id, `+s.envelope(`t.geom`)+` FROM `+l.from+` WHERE `+c.text+` ORDER BY t.id`, c.args...)
	if err != nil {
		return nil, nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		var head []byte
		if err := rows.Scan(&id, &head); err != nil {
			return nil, nil, s.wrap(err)
		}
		envelope, known := s.around(head)
		touched, inside := !known, false
		for _, box := range boxes {
			touched = touched || envelope.Intersects(box)
			inside = inside || known && box.Contains(envelope.Min) && box.Contains(envelope.Max)
		}
		if touched {
			ids = append(ids, id)
		}
		if touched && !inside {
			doubtful = append(doubtful, id)
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
	box, err := s.extentOf(s.q, l, layer)
	if err != nil {
		return nil, s.wrap(err)
	}
	if !box[0].Valid {
		return nil, nil
	}
	var e Extent
	for i, side := range box {
		e.Box[i] = side.Float64
	}
	if l.date == "" {
		return &e, nil
	}
	err = s.q.QueryRow(`SELECT coalesce(min(substr(d, 1, 10)), ''), coalesce(max(`+lastDay(`d`)+`), '') FROM (SELECT DISTINCT `+l.date+` AS d FROM `+l.from+` WHERE `+l.live+`) AS days WHERE d <> ''`).Scan(&e.First, &e.Last)
	if err != nil {
		return nil, s.wrap(err)
	}
	return &e, nil
}
