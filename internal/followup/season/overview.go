//go:build !js && !nosqlite

package season

// Zones are the zones of a visit as they were when it was added, in the order of the
// file. Nothing is worked out for it, so it is quick, whatever the season holds.
func (s *Season) Zones(visit int64) (zones []Zone, err error) {
	rows, err := s.q.Query(`SELECT coalesce(field, ''), coalesce(zone, ''), coalesce(area_ha, 0), geom FROM zones WHERE visit_id = $1 ORDER BY id`, visit)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var z Zone
		var data []byte
		if err := rows.Scan(&z.Field, &z.Zone, &z.Hectares, &data); err != nil {
			return nil, s.wrap(err)
		}
		if z.Ground, _, err = s.ground(data); err != nil {
			return nil, s.wrap(err)
		}
		zones = append(zones, z)
	}
	return zones, rows.Err()
}

// StopsOf are how many stops of a visit lie in each field.
func (s *Season) StopsOf(visit int64) (stops map[string]int, err error) {
	rows, err := s.q.Query(`SELECT coalesce(field, ''), count(*) FROM stops WHERE visit_id = $1 GROUP BY field`, visit)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	stops = map[string]int{}
	for rows.Next() {
		var field string
		var n int
		if err := rows.Scan(&field, &n); err != nil {
			return nil, s.wrap(err)
		}
		stops[field] = n
	}
	return stops, rows.Err()
}

// VisitsTo are the numbers of the visits that were assessed with a field, in their order.
func (s *Season) VisitsTo(field string) (ids []int64, err error) {
	of := `visit_fields`
	if s.format < 3 {
		of = `(` + fieldsByZones + `)`
	}
	return s.ids(`SELECT DISTINCT v.visit_id FROM `+of+` AS v JOIN fields ON fields.id = v.field_id WHERE fields.name = $1 AND `+s.live(`v.visit_id`)+` ORDER BY v.visit_id`, field)
}

// ids are the numbers that a query gives.
func (s *Season) ids(query string, args ...any) (ids []int64, err error) {
	rows, err := s.q.Query(query, args...)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return nil, s.wrap(err)
		}
		ids = append(ids, id)
	}
	return ids, rows.Err()
}
