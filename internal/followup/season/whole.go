//go:build !js && !nosqlite

package season

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// Whole is a visit as [Season.Visit] gives it, with its stops, zones and verdicts as they
// were when it was added. Properties that were not given are left out.
func (s *Season) Whole(id int64) (Visit, error) {
	v, err := s.Visit(id)
	if err != nil {
		return v, err
	}
	for _, l := range v.layers() {
		if l.name == "verdicts" && s.format < 5 {
			continue
		}
		if *l.features, err = s.drawn(l, id); err != nil {
			return v, s.wrap(fmt.Errorf("visit %d: %s: %w", id, l.name, err))
		}
	}
	return v, nil
}

func (s *Season) drawn(l drawn, visit int64) (features []geo.Feature, err error) {
	rows, err := s.q.Query(`SELECT geom, `+strings.Join(l.columns, ", ")+` FROM `+l.name+` WHERE visit_id = $1 ORDER BY id`, visit)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var data []byte
		values, into := make([]any, len(l.columns)), []any{&data}
		for i := range values {
			into = append(into, &values[i])
		}
		if err := rows.Scan(into...); err != nil {
			return nil, err
		}
		var f geo.Feature
		if data, err = s.decode(data); err != nil {
			return nil, err
		}
		if f.Geometry, err = unblob(data); err != nil {
			return nil, err
		}
		for i, value := range values {
			if value != nil {
				f.Properties = append(f.Properties, geo.Property{Name: l.columns[i], Value: value})
			}
		}
		features = append(features, f)
	}
	return features, rows.Err()
}
