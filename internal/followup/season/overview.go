//go:build !js && !nosqlite

package season

// Zones are the zones of a visit as they were when it was added, in the order of the
// file. Nothing is worked out for it, so it is quick, whatever the season holds.
func (s *Season) Zones(visit int64) (zones []Zone, err error) {
	rows, err := s.q.Query(`SELECT coalesce(field, ''), coalesce(zone, ''), coalesce(area_ha, 0), geom FROM zones WHERE visit_id = ? ORDER BY id`, visit)
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
		if z.Ground, err = multiPolygon(data); err != nil {
			return nil, s.wrap(err)
		}
		zones = append(zones, z)
	}
	return zones, rows.Err()
}

// StopsOf are how many stops of a visit lie in each field.
func (s *Season) StopsOf(visit int64) (stops map[string]int, err error) {
	rows, err := s.q.Query(`SELECT coalesce(field, ''), count(*) FROM stops WHERE visit_id = ? GROUP BY field`, visit)
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
