//go:build !js && !nosqlite

package season

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Add stores a visit, and returns its number once it is on disk. Fields that the
// season knows under a name must have the same boundary, as all visits share the
// field's lattice.
func (s *Season) Add(v Visit) (id int64, err error) {
	return s.add(v, func(*sql.Tx) error { return nil })
}

// add stores a visit after what is to be done first in the same transaction.
func (s *Season) add(v Visit, first func(*sql.Tx) error) (id int64, err error) {
	err = s.update(func(tx *sql.Tx) error {
		if id, err = known(tx, v); err != nil {
			return err
		}
		if err := first(tx); err != nil {
			return err
		}
		if id, err = insert(tx, 0, v); err != nil {
			return err
		}
		return describe(tx)
	})
	return s.added(id, err)
}

// added is the number of a visit, or why there is none; of one that is known its number too.
func (s *Season) added(id int64, err error) (int64, error) {
	if errors.Is(err, ErrKnown) {
		return id, ErrKnown
	}
	var held *HeldError
	if errors.As(err, &held) {
		return 0, held
	}
	if err != nil {
		return 0, s.wrap(err)
	}
	return id, nil
}

// insert stores a visit with all that belongs to it, under a number, or under the next one
// where that is 0.
func insert(tx *sql.Tx, as int64, v Visit) (id int64, err error) {
	if len(v.Files) == 0 {
		return 0, errors.New("a visit without counts")
	}
	if id, err = insertVisit(tx, as, v); err != nil {
		return 0, err
	}
	if err := insertFields(tx, id, v); err != nil {
		return 0, err
	}
	for _, f := range v.Files {
		if _, err := tx.Exec(`INSERT INTO files (visit_id, name, sha256, content) VALUES (?, ?, ?, ?)`, id, f.Name, f.sum(), nonNil(f.Content)); err != nil {
			return 0, err
		}
	}
	for _, f := range v.SettingsFiles {
		if _, err := tx.Exec(`INSERT INTO settings_files (visit_id, setting, name, sha256, content) VALUES (?, ?, ?, ?, ?)`, id, f.Setting, f.Name, f.sum(), nonNil(f.Content)); err != nil {
			return 0, err
		}
	}
	for _, l := range v.layers() {
		if err := insertFeatures(tx, l.name, l.columns, id, *l.features); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// A drawn layer is what a visit has of a table for map programs.
type drawn struct {
	name     string
	columns  []string
	features *[]geo.Feature
}

func (v *Visit) layers() []drawn {
	return []drawn{{"stops", stopColumns[:], &v.Stops}, {"zones", zoneColumns[:], &v.Zones}, {"verdicts", verdictColumns[:], &v.Verdicts}}
}

// nonNil keeps an empty file apart from NULL.
func nonNil(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

var (
	stopColumns    = [...]string{"stop", "field", "date", "pest", "unit", "value", "count", "leaves", "zone", "observer", "stage", "rows"}
	verdictColumns = [...]string{"field", "date", "pest", "verdict", "advice", "look_again", "good_until", "if_not_today", "not_read", "area_ha", "threshold"}
	zoneColumns    = [...]string{"zone", "field", "date", "pest", "unit", "area_ha", "area_ac", "share", "mean", "max", "stops", "cut", "threshold", "trust"}
)

// known is [ErrKnown], with the number, for a visit that is stored already.
func known(tx *sql.Tx, v Visit) (id int64, err error) {
	if err := tx.QueryRow(`SELECT id FROM visits WHERE digest = ?`, digest(v)).Scan(&id); err == nil {
		return id, ErrKnown
	} else if !errors.Is(err, sql.ErrNoRows) {
		return 0, err
	}
	return 0, nil
}

func insertVisit(tx *sql.Tx, as int64, v Visit) (id int64, err error) {
	result, err := tx.Exec(`INSERT INTO visits (id, date, pest, unit, settings, digest, sha256, author) VALUES (nullif(?, 0), ?, ?, ?, ?, ?, ?, ?)`, as, v.Date, v.Pest, v.Unit, v.Settings, digest(v), v.sum(), v.Author)
	if err != nil {
		return 0, err
	}
	return result.LastInsertId()
}

// digest tells whether a visit is the same: names and bytes of its files, the
// settings, and the bytes of the files that those name. Lengths stand before, so that
// no two lists look alike.
func digest(v Visit) string {
	h := sha256.New()
	fmt.Fprintf(h, "%d:%s", len(v.Settings), v.Settings)
	for _, f := range v.Files {
		fmt.Fprintf(h, "%d:%s%d:", len(f.Name), f.Name, len(f.Content))
		h.Write(f.Content)
	}
	for _, f := range v.SettingsFiles {
		fmt.Fprintf(h, "%s:%d:%s%d:", f.Setting, len(f.Name), f.Name, len(f.Content))
		h.Write(f.Content)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// insertFields stores the fields that are not known yet, and which ones a visit has, with
// what is known of them.
func insertFields(tx *sql.Tx, visit int64, v Visit) error {
	for _, f := range v.Fields {
		geom, err := blob(f.Boundary)
		if err != nil {
			return fmt.Errorf("field %q: %w", f.Name, err)
		}
		id, err := fieldID(tx, f.Name, geom)
		if err != nil {
			return err
		}
		rows, grower := v.kept(f.Name, "rows"), v.kept(f.Name, "grower")
		if _, err := tx.Exec(`INSERT INTO visit_fields (visit_id, field_id, customer, farm, rows, grower, sha256) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			visit, id, f.Customer, f.Farm, rows, grower, fieldSum(f, rows, grower, geom)); err != nil {
			return err
		}
	}
	return nil
}

// kept is a property of a field as a text, "" for none.
func (v Visit) kept(field, name string) string {
	value, _ := v.Kept[field].Get(name)
	text, _ := value.(string)
	return text
}

func fieldID(tx *sql.Tx, name string, geom []byte) (id int64, err error) {
	var known []byte
	switch err := tx.QueryRow(`SELECT id, geom FROM fields WHERE name = ?`, name).Scan(&id, &known); {
	case errors.Is(err, sql.ErrNoRows):
		result, err := tx.Exec(`INSERT INTO fields (geom, name) VALUES (?, ?)`, geom, name)
		if err != nil {
			return 0, err
		}
		return result.LastInsertId()
	case err != nil:
		return 0, err
	case string(known) != string(geom):
		return 0, fmt.Errorf("field %q has another boundary in the season: name it otherwise, or begin a new season", name)
	}
	return id, nil
}

// insertFeatures stores features with the columns that their properties have.
func insertFeatures(tx *sql.Tx, table string, columns []string, visit int64, features []geo.Feature) error {
	if len(features) == 0 {
		return nil
	}
	statement, err := tx.Prepare(fmt.Sprintf(`INSERT INTO %s (geom, visit_id, %s) VALUES (?, ?%s)`, table, strings.Join(columns, ", "), strings.Repeat(", ?", len(columns))))
	if err != nil {
		return err
	}
	defer statement.Close()
	for _, f := range features {
		geom, err := blob(f.Geometry)
		if err != nil {
			return fmt.Errorf("%s: %w", table, err)
		}
		values := []any{geom, visit}
		for _, c := range columns {
			v, _ := f.Properties.Get(c)
			values = append(values, v)
		}
		if _, err := statement.Exec(values...); err != nil {
			return err
		}
	}
	return nil
}

// AddRecord stores a treatment, and returns its number once it is on disk.
func (s *Season) AddRecord(r Record) (id int64, err error) {
	geom, err := blob(r.Ground)
	if err != nil {
		return 0, fmt.Errorf("season: treatment of %s: %w", r.Date, err)
	}
	err = s.update(func(tx *sql.Tx) error {
		result, err := tx.Exec(`INSERT INTO records (geom, date, note, reentry_hours, sha256) VALUES (?, ?, ?, ?, ?)`, geom, r.Date, r.Note, r.ReentryHours, r.sum(geom))
		if err != nil {
			return err
		}
		if id, err = result.LastInsertId(); err != nil {
			return err
		}
		return describe(tx)
	})
	if err != nil {
		return 0, s.wrap(err)
	}
	return id, nil
}

// describe keeps extents and the day of the last change in the table of contents.
// The day is that of the latest visit or treatment: no clock is read.
func describe(tx *sql.Tx) error {
	var day string
	if err := tx.QueryRow(`SELECT coalesce(max(substr(date, -10)), '') FROM (SELECT date FROM visits UNION ALL SELECT date FROM records)`).Scan(&day); err != nil {
		return err
	}
	change := noChange
	if day != "" {
		change = day + "T00:00:00.000Z"
	}
	if _, err := tx.Exec(`UPDATE gpkg_contents SET last_change = ?`, change); err != nil {
		return err
	}
	for _, table := range []string{"fields", "stops", "zones", "verdicts", "records"} {
		bound, err := extent(tx, table)
		if err != nil {
			return err
		}
		if bound.IsEmpty() {
			continue
		}
		if _, err := tx.Exec(`UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?`,
			bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1], table); err != nil {
			return err
		}
	}
	return nil
}

func extent(tx *sql.Tx, table string) (bound orb.Bound, err error) {
	bound = orb.MultiPoint{}.Bound() // empty
	rows, err := tx.Query(`SELECT geom FROM ` + table)
	if err != nil {
		return bound, err
	}
	defer rows.Close()
	for rows.Next() {
		var data []byte
		if err := rows.Scan(&data); err != nil {
			return bound, err
		}
		g, err := unblob(data)
		if err != nil {
			return bound, err
		}
		bound = bound.Union(g.Bound())
	}
	return bound, rows.Err()
}
