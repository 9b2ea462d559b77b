//go:build !js && !nosqlite

package season

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// List returns the visits in the order of their days, then of their numbers, without
// those that others have taken the place of.
func (s *Season) List() ([]Line, error) {
	rows, err := s.q.Query(`SELECT id, date, pest, unit, ` + s.since(5, "author") + `, coalesce(n, 0) FROM visits
		LEFT JOIN (SELECT visit_id, count(*) AS n FROM stops GROUP BY visit_id) AS counted ON counted.visit_id = visits.id
		WHERE ` + s.live(`visits.id`))
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	var lines []Line
	for rows.Next() {
		var l Line
		if err := rows.Scan(&l.ID, &l.Date, &l.Pest, &l.Unit, &l.Author, &l.Stops); err != nil {
			return nil, s.wrap(err)
		}
		lines = append(lines, l)
	}
	if err := rows.Err(); err != nil {
		return nil, s.wrap(err)
	}
	rows.Close() // the one connection is wanted below
	names, err := s.names()
	if err != nil {
		return nil, s.wrap(err)
	}
	for i := range lines {
		lines[i].Files = names[lines[i].ID]
	}
	// Databases order texts by rules of their own.
	slices.SortFunc(lines, func(a, b Line) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID)) })
	return lines, nil
}

// names are the names of the files of all visits.
func (s *Season) names() (names map[int64][]string, err error) {
	rows, err := s.q.Query(`SELECT visit_id, name FROM files ORDER BY id`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	names = map[int64][]string{}
	for rows.Next() {
		var visit int64
		var name string
		if err := rows.Scan(&visit, &name); err != nil {
			return nil, err
		}
		names[visit] = append(names[visit], name)
	}
	return names, rows.Err()
}

// Visit returns a visit with its counts as they came in, the files that its settings
// name, and the fields that it was assessed with. Bytes that are not those that were
// stored are an error. Of a file of format 1 or 2 the files of settings were not kept,
// and the fields are those that the visit has zones of.
func (s *Season) Visit(id int64) (v Visit, err error) {
	v.ID = id
	var want, sum string
	err = s.q.QueryRow(`SELECT date, pest, unit, settings, digest, `+s.stored("sha256")+`, `+s.since(5, "author")+` FROM visits WHERE id = $1`, id).Scan(&v.Date, &v.Pest, &v.Unit, &v.Settings, &want, &sum, &v.Author)
	if errors.Is(err, sql.ErrNoRows) {
		return v, fmt.Errorf("%s: there is no visit %d; season list shows those there are", s.name, id)
	}
	if err != nil {
		return v, s.wrap(err)
	}
	if v.Files, err = s.files(id); err != nil {
		return v, s.wrap(err)
	}
	if v.SettingsFiles, err = s.settingsFiles(id); err != nil {
		return v, s.wrap(err)
	}
	of, order := `visit_fields`, `v.id`
	if s.format < 3 {
		of, order = `(`+fieldsByZones+`)`, `fields.id`
	}
	v.Fields, v.Kept, err = s.fields(s.wrap, `SELECT coalesce(name, ''), geom`+s.known()+` FROM `+of+` AS v LEFT JOIN fields ON fields.id = v.field_id WHERE v.visit_id = $1 ORDER BY `+order, id)
	if err == nil && (s.digestOf(v) != want || sum != "" && !v.has(sum)) {
		err = s.wrap(fmt.Errorf("visit %d: its day, pest, author, fields, settings or the names of its files are not what was stored", id))
	}
	return v, err
}

// known are the columns of what is known of a field at a visit v.
func (s *Season) known() (columns string) {
	for _, c := range fieldColumns {
		columns += `, ` + s.stored(`coalesce(v.`+c+`, '')`)
	}
	return columns
}

// stored is a column that formats before 4 do not have; "" there.
func (s *Season) stored(column string) string { return s.since(4, column) }

// since is a column that formats before one do not have; "" there.
func (s *Season) since(format int, column string) string {
	if s.format < format {
		return `''`
	}
	return column
}

func (s *Season) files(visit int64) (files []File, err error) {
	named, err := s.contents(visit, `SELECT '', name, sha256, content FROM files WHERE visit_id = $1 ORDER BY id`)
	for _, f := range named {
		files = append(files, f.File)
	}
	return files, err
}

func (s *Season) settingsFiles(visit int64) ([]SettingsFile, error) {
	if s.format < 3 {
		return nil, nil
	}
	return s.contents(visit, `SELECT setting, name, sha256, content FROM settings_files WHERE visit_id = $1 ORDER BY id`)
}

// contents reads files of a visit and compares them with their digests.
func (s *Season) contents(visit int64, query string) (files []SettingsFile, err error) {
	rows, err := s.q.Query(query, visit)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var f SettingsFile
		var want string
		if err := rows.Scan(&f.Setting, &f.Name, &want, &f.Content); err != nil {
			return nil, err
		}
		if f.sum() != want {
			return nil, fmt.Errorf("visit %d: %s is not what was stored", visit, f.Name)
		}
		files = append(files, f)
	}
	return files, rows.Err()
}

// Fields returns all fields of the season in the order in which they came in, each as its
// last visit knows it, and what that does not tell, as those before it did.
func (s *Season) Fields() (fields []geo.Field, err error) {
	told := `fields ORDER BY fields.id`
	if s.format >= 4 { // each once that is told alike; joined by keys, as there may be thousands
		alike := `fields.id, visit_fields.` + strings.Join(fieldColumns[:], `, visit_fields.`)
		told = `(SELECT max(visit_fields.id) AS visit_field_id, ` + alike + `
			FROM fields LEFT JOIN visit_fields ON visit_fields.field_id = fields.id AND ` + s.live(`visit_fields.visit_id`) + `
			GROUP BY ` + alike + `) AS v
			JOIN fields ON fields.id = v.id ORDER BY fields.id, v.visit_field_id`
	}
	all, _, err := s.fields(s.spoilt, `SELECT name, geom`+s.known()+` FROM `+told)
	for _, f := range all {
		if last := len(fields) - 1; last >= 0 && fields[last].Name == f.Name {
			fields[last] = Known(fields[last], f)
		} else {
			fields = append(fields, f)
		}
	}
	return fields, err
}

// fields are the names, outlines, and what is known of fields; kept goes by their names.
// What is not what was stored is spoilt, and left out where that makes no error of it.
func (s *Season) fields(spoilt func(error) error, query string, args ...any) (fields []geo.Field, kept map[string]geo.Properties, err error) {
	rows, err := s.q.Query(query, args...)
	if err != nil {
		return nil, nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var f geo.Field
		var data []byte
		var along, grower, want string
		if err := rows.Scan(&f.Name, &data, &f.Customer, &f.Farm, &along, &grower, &want); err != nil {
			return nil, nil, s.wrap(err)
		}
		if f.Boundary, err = s.outline(f, along, grower, data, want); err != nil {
			if err = spoilt(err); err != nil {
				return nil, nil, err
			}
			continue
		}
		fields = append(fields, f)
		for _, p := range (geo.Properties{{Name: "rows", Value: along}, {Name: "grower", Value: grower}}) {
			if p.Value == "" {
				continue
			}
			if kept == nil {
				kept = map[string]geo.Properties{}
			}
			kept[f.Name] = append(kept[f.Name], p)
		}
	}
	return fields, kept, rows.Err()
}

// outline is the boundary of a field as it was read, held to its digest.
func (s *Season) outline(f geo.Field, along, grower string, read []byte, want string) (boundary orb.MultiPolygon, err error) {
	if read == nil {
		return nil, errors.New("the boundary of a field is missing: it is not what was stored")
	}
	boundary, data, err := s.ground(read)
	if err != nil {
		return nil, fmt.Errorf("field %q: %w", f.Name, err)
	}
	if want != "" && fieldSum(f, along, grower, data) != want {
		return nil, fmt.Errorf("field %q: its boundary, or whose it is, is not what was stored", f.Name)
	}
	return boundary, nil
}

// Records returns the treatments by day; a file of format 1 has none.
func (s *Season) Records() (records []Record, err error) {
	if s.format < 2 {
		return nil, nil
	}
	rows, err := s.q.Query(`SELECT date, note, reentry_hours, geom, ` + s.stored("sha256") + ` FROM records ORDER BY id`)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var r Record
		var data []byte
		var want string
		if err := rows.Scan(&r.Date, &r.Note, &r.ReentryHours, &data, &want); err != nil {
			return nil, s.wrap(err)
		}
		r.Ground, data, err = s.ground(data)
		if err == nil && want != "" && r.sum(data) != want {
			err = errors.New("it is not what was stored")
		}
		if err != nil {
			if err = s.spoilt(fmt.Errorf("treatment of %q: %w", r.Date, err)); err != nil {
				return nil, err
			}
			continue
		}
		records = append(records, r)
	}
	slices.SortStableFunc(records, func(a, b Record) int { return cmp.Compare(a.Date, b.Date) })
	return records, rows.Err()
}

// ground is a geometry as it was read, and as a file has it.
func (s *Season) ground(read []byte) (ground orb.MultiPolygon, blob []byte, err error) {
	if blob, err = s.decode(read); err != nil {
		return nil, nil, err
	}
	ground, err = multiPolygon(blob)
	return ground, blob, err
}

// Digests are those of all visits and treatments by their numbers, one a line: two seasons
// with the same have the same counts.
func (s *Season) Digests() ([]byte, error) {
	rows, err := s.q.Query(`SELECT id, 0 AS kind, digest FROM visits WHERE ` + s.live(`visits.id`) + ` UNION ALL SELECT id, 1, ` + s.stored("sha256") + ` FROM records ORDER BY kind, id`)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	var lines []byte
	for rows.Next() {
		var id, kind int64
		var digest string
		if err := rows.Scan(&id, &kind, &digest); err != nil {
			return nil, s.wrap(err)
		}
		lines = fmt.Appendf(lines, "%d %d %s\n", kind, id, digest)
	}
	return lines, rows.Err()
}

// Check asks whether the season is whole; a file that is not is [ErrBroken].
func (s *Season) Check() error {
	if err := s.check(s.db, s.format); err != nil {
		return s.wrap(err)
	}
	return nil
}
