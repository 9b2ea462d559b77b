//go:build !js && !nosqlite

package season

// Zones are the zones of a visit as they were when it was added, in the order of the
// file. Nothing is worked out for it, so it is quick, whatever the season holds.
func (s *Season) Zones(visit int64) ([]Zone, error) {
	all, err := s.zonesOf(` WHERE visit_id = $1`, visit)
	return all[visit], err
}

// KeptZones are the zones of all visits, by their numbers, those of each in the order of the
// file. A database is asked once.
func (s *Season) KeptZones() (map[int64][]Zone, error) {
	return s.zonesOf(` WHERE ` + s.live(`zones.visit_id`))
}

func (s *Season) zonesOf(which string, args ...any) (zones map[int64][]Zone, err error) {
	rows, err := s.q.Query(`SELECT visit_id, coalesce(field, ''), coalesce(zone, ''), coalesce(area_ha, 0), geom FROM zones`+which+` ORDER BY id`, args...)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	zones = map[int64][]Zone{}
	for rows.Next() {
		var visit int64
		var z Zone
		var data []byte
		if err := rows.Scan(&visit, &z.Field, &z.Zone, &z.Hectares, &data); err != nil {
			return nil, s.wrap(err)
		}
		if z.Ground, _, err = s.ground(data); err != nil {
			return nil, s.wrap(err)
		}
		zones[visit] = append(zones[visit], z)
	}
	return zones, rows.Err()
}

// StopsOf are how many stops of a visit lie in each field.
func (s *Season) StopsOf(visit int64) (map[string]int, error) {
	all, err := s.stopsOf(` WHERE visit_id = $1`, visit)
	return all[visit], err
}

// KeptStops are how many stops of each visit, by its number, lie in each field.
func (s *Season) KeptStops() (map[int64]map[string]int, error) {
	return s.stopsOf(` WHERE ` + s.live(`stops.visit_id`))
}

func (s *Season) stopsOf(which string, args ...any) (stops map[int64]map[string]int, err error) {
	rows, err := s.q.Query(`SELECT visit_id, coalesce(field, ''), count(*) FROM stops`+which+` GROUP BY visit_id, field`, args...)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	stops = map[int64]map[string]int{}
	for rows.Next() {
		var visit int64
		var field string
		var n int
		if err := rows.Scan(&visit, &field, &n); err != nil {
			return nil, s.wrap(err)
		}
		if stops[visit] == nil {
			stops[visit] = map[string]int{}
		}
		stops[visit][field] = n
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
