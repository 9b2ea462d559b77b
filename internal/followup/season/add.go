//go:build !js && !nosqlite

package season

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// Add stores a visit, and returns its number once it is on disk. Fields that the
// season knows under a name must have the same boundary, as all visits share the
// field's lattice.
func (s *Season) Add(v Visit) (id int64, err error) {
	return s.add(v, func(*sql.Tx, Visit) ([]outgoing, error) { return nil, nil })
}

// add stores a visit in place of those that make room for it in the same transaction.
func (s *Season) add(v Visit, room func(*sql.Tx, Visit) ([]outgoing, error)) (id int64, err error) {
	err = s.update(func(tx *sql.Tx) error {
		if v.Author, err = s.signed(tx, v.Author); err != nil {
			return err
		}
		if id, err = s.already(tx, v); err != nil {
			return err
		}
		replaced, err := room(tx, v)
		if err != nil {
			return err
		}
		if id, err = s.insert(tx, 0, v); err != nil {
			return err
		}
		if err := s.allReplaced(tx, replaced, id, digest(v)); err != nil {
			return err
		}
		return s.describe(tx, change{added: []int64{id}, all: len(replaced) > 0})
	})
	return s.added(id, err)
}

// outgoing is a visit that another takes the place of.
type outgoing struct {
	visit  int64
	digest string
}

func numbersOf(all []outgoing) (numbers []int64) {
	for _, o := range all {
		numbers = append(numbers, o.visit)
	}
	return numbers
}

// allReplaced tells of visits that one, by its number and digest, took the place of.
func (s *Season) allReplaced(tx *sql.Tx, old []outgoing, by int64, as string) error {
	var digests []string
	for _, o := range old {
		if err := s.replaced(tx, o.visit, by); err != nil {
			return err
		}
		digests = append(digests, o.digest)
	}
	return s.corrected(tx, digests, as)
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
func (s *Season) insert(tx *sql.Tx, as int64, v Visit) (id int64, err error) {
	if len(v.Files) == 0 {
		return 0, errors.New("a visit without counts")
	}
	if id, err = s.insertVisit(tx, as, v); err != nil {
		return 0, err
	}
	if err := s.insertFields(tx, id, v); err != nil {
		return 0, err
	}
	if err := insertContents(tx, id, v); err != nil {
		return 0, err
	}
	for _, l := range v.layers() {
		if err := s.insertFeatures(tx, l.name, l.columns, id, *l.features); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// insertContents stores the counts of a visit and the files of its settings.
func insertContents(tx *sql.Tx, id int64, v Visit) error {
	for _, f := range v.Files {
		if _, err := tx.Exec(`INSERT INTO files (visit_id, name, sha256, content) VALUES ($1, $2, $3, $4)`, id, f.Name, f.sum(), nonNil(f.Content)); err != nil {
			return err
		}
	}
	for _, f := range v.SettingsFiles {
		if _, err := tx.Exec(`INSERT INTO settings_files (visit_id, setting, name, sha256, content) VALUES ($1, $2, $3, $4, $5)`, id, f.Setting, f.Name, f.sum(), nonNil(f.Content)); err != nil {
			return err
		}
	}
	return nil
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

// already is [ErrKnown], with the number, for a visit that is stored already.
func (s *Season) already(tx *sql.Tx, v Visit) (id int64, err error) {
	return s.withDigest(tx, digest(v))
}

// withDigest is [ErrKnown], with the number, where a visit has a digest.
func (s *Season) withDigest(tx *sql.Tx, digest string) (id int64, err error) {
	err = tx.QueryRow(`SELECT id FROM visits WHERE digest = $1 AND `+s.live(`visits.id`), digest).Scan(&id)
	switch {
	case err == nil:
		return id, ErrKnown
	case errors.Is(err, sql.ErrNoRows):
		return 0, nil
	}
	return 0, err
}

func (s *Season) insertVisit(tx *sql.Tx, as int64, v Visit) (id int64, err error) {
	columns, args := []string{"date", "pest", "unit", "settings", "digest", "sha256", "author"}, []any{v.Date, v.Pest, v.Unit, v.Settings, digest(v), v.sum(), v.Author}
	return insertRow(tx, "visits", as, columns, args)
}

// places are n parameters, the first of them of a number.
func places(first, n int) string {
	all := make([]string, n)
	for i := range all {
		all[i] = fmt.Sprintf("$%d", first+i)
	}
	return strings.Join(all, ", ")
}

// insertFields stores the fields that are not known yet, and which ones a visit has, with
// what is known of them.
func (s *Season) insertFields(tx *sql.Tx, visit int64, v Visit) error {
	for _, f := range v.Fields {
		geom, err := blob(f.Boundary)
		if err != nil {
			return fmt.Errorf("field %q: %w", f.Name, err)
		}
		id, err := s.fieldID(tx, f.Name, geom)
		if err != nil {
			return err
		}
		rows, grower := v.kept(f.Name, "rows"), v.kept(f.Name, "grower")
		if _, err := tx.Exec(`INSERT INTO visit_fields (visit_id, field_id, customer, farm, rows, grower, sha256) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
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

func (s *Season) fieldID(tx *sql.Tx, name string, geom []byte) (id int64, err error) {
	var known []byte
	switch err := tx.QueryRow(`SELECT id, geom FROM fields WHERE name = $1`, name).Scan(&id, &known); {
	case errors.Is(err, sql.ErrNoRows):
		err := tx.QueryRow(`INSERT INTO fields (geom, name) VALUES ($1, $2) RETURNING id`, s.encode(geom), name).Scan(&id)
		return id, err
	case err != nil:
		return 0, err
	}
	if known, err = s.decode(known); err != nil {
		return 0, fmt.Errorf("field %q: %w", name, err)
	}
	if string(known) != string(geom) {
		return 0, fmt.Errorf("field %q has another boundary in the season: name it otherwise, or begin a new season", name)
	}
	return id, nil
}

// insertFeatures stores features with the columns that their properties have.
func (s *Season) insertFeatures(tx *sql.Tx, table string, columns []string, visit int64, features []geo.Feature) error {
	if len(features) == 0 {
		return nil
	}
	statement, err := tx.Prepare(fmt.Sprintf(`INSERT INTO %s (geom, visit_id, %s) VALUES ($1, $2, %s)`, table, strings.Join(columns, ", "), places(3, len(columns))))
	if err != nil {
		return err
	}
	defer statement.Close()
	for _, f := range features {
		geom, err := blob(f.Geometry)
		if err != nil {
			return fmt.Errorf("%s: %w", table, err)
		}
		values := []any{s.encode(geom), visit}
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
	return s.addRecord(r, false)
}

// AddTreatment stores a treatment as [Season.AddRecord] does, but none that is there
// already, though its ground be drawn in another order: that is [ErrKnown], with its number.
func (s *Season) AddTreatment(r Record) (id int64, err error) {
	return s.addRecord(r, true)
}

func (s *Season) addRecord(r Record, once bool) (id int64, err error) {
	geom, err := blob(r.Ground)
	if err != nil {
		return 0, fmt.Errorf("season: treatment of %s: %w", r.Date, err)
	}
	err = s.update(func(tx *sql.Tx) error {
		if once {
			if id, err = s.sameRecord(tx, r); err != nil || id != 0 {
				return cmp.Or(err, ErrKnown)
			}
		}
		if id, err = s.insertRecord(tx, 0, r, geom); err != nil {
			return err
		}
		return s.describe(tx, change{})
	})
	return s.added(id, err)
}

// sameRecord is the number of a treatment that is the same, however its ground is drawn; 0
// where there is none.
func (s *Season) sameRecord(tx *sql.Tx, r Record) (id int64, err error) {
	want, err := r.same()
	if err != nil {
		return 0, err
	}
	rows, err := tx.Query(`SELECT id, geom FROM records WHERE date = $1 AND note = $2 AND reentry_hours = $3 ORDER BY id`, r.Date, r.Note, r.ReentryHours)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	for rows.Next() {
		var number int64
		var data []byte
		if err := rows.Scan(&number, &data); err != nil {
			return 0, err
		}
		other := r
		if other.Ground, _, err = s.ground(data); err != nil { // not what was stored: none of ours
			continue
		}
		if sum, err := other.same(); err == nil && sum == want && id == 0 {
			id = number
		}
	}
	return id, rows.Err()
}

// insertRecord stores a treatment with its ground as a file has it, under a number, or under
// the next one where that is 0.
func (s *Season) insertRecord(tx *sql.Tx, as int64, r Record, ground []byte) (id int64, err error) {
	columns, args := []string{"geom", "date", "note", "reentry_hours", "sha256"}, []any{s.encode(ground), r.Date, r.Note, r.ReentryHours, r.sum(ground)}
	return insertRow(tx, "records", as, columns, args)
}

// insertRow adds a row to a table under a number, or under the next one where that is 0.
func insertRow(tx *sql.Tx, table string, as int64, columns []string, args []any) (id int64, err error) {
	if as != 0 {
		columns, args = append(columns, "id"), append(args, as)
	}
	err = tx.QueryRow(`INSERT INTO `+table+` (`+strings.Join(columns, ", ")+`) VALUES (`+places(1, len(columns))+`) RETURNING id`, args...).Scan(&id)
	return id, err
}
