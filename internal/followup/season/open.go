//go:build !js && !nosqlite

package season

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strconv"
	"time"

	"github.com/paulmach/orb"
)

// patience is how long one process waits for another that is adding.
const patience = 30 * time.Second

// A Season is an open season, in a file or in a database.
type Season struct {
	db     *sql.DB
	q      querier // db, or a transaction of it
	name   string  // for messages
	format int
	store
}

// A change is what was done to a season: visits were added, and nothing was taken out, or
// else all may be another.
type change struct {
	added []int64
	all   bool
}

// A store is where a season is kept: what a file and a database do each in its own way.
// Parameters ($1), tables and their columns are the same in both.
type store interface {
	// lock keeps other writers out until the transaction ends.
	lock(tx *sql.Tx) error
	// holds tells whether there are tables of a season; others in its place are an error.
	holds(q queryer) (bool, error)
	// begin makes what has to stand before the first table.
	begin(tx *sql.Tx) error
	// layer makes a table.
	layer(tx *sql.Tx, l layer) error
	// migrate brings up what this kind has besides the tables.
	migrate(tx *sql.Tx) error
	// describe keeps up what tells of the tables, after a change: of all that is there, or
	// where no more was done than to add visits, or treatments alone, of these.
	describe(tx *sql.Tx, c change) error
	// encode is a geometry as a parameter, decode one as it was read, as [blob] makes it.
	encode(blob []byte) any
	decode(read []byte) (blob []byte, err error)
	// envelope is what tells where a geometry is without all of it, and around reads it: a box
	// that holds the geometry; known is false where none is told.
	envelope(geom string) string
	around(read []byte) (box orb.Bound, known bool)
	// meets leaves out of what is asked for, where that saves work, what is beyond all boxes.
	meets(c *condition, geom string, boxes []orb.Bound)
	// extentOf is west, south, east and north of a layer; NULL where it is empty.
	extentOf(q queryer, l shown, name string) ([4]sql.NullFloat64, error)
	// signed is who brought a visit that is added: who is named, else who the store knows.
	signed(q queryer, by string) (string, error)
	// ordered tells whether a merged season is numbered anew by what it holds; else numbers
	// stay as they were given.
	ordered() bool
	// numbers tells whether who is here may give what is copied its number.
	numbers(q queryer) (bool, error)
	// live is the condition for the visits that none has taken the place of.
	live(id string) string
	// replace makes room for a visit in the place of others, before it is added;
	// replaced tells of it afterwards.
	replace(tx *sql.Tx, old int64) error
	replaced(tx *sql.Tx, old, by int64) error
	// check asks whether all of it is whole, and of the format that it says.
	check(q queryer, format int) error
	// passes takes a note of a row that is not what was stored, and leaves the row out; false
	// where that is an error. One row of one of many must not stop all who read.
	passes(note string) bool
	// told are notes for who opened it to add.
	told() []string
	// explain says what to do about an error of its own.
	explain(name string, err error) error
}

// Open opens a season for reading: a file, or a database by its address. What is
// missing, is no season, or is of a later format is an error; one of an earlier format
// is read as it is.
func Open(path string) (*Season, error) {
	s, err := reach(path)
	if err != nil {
		return nil, err
	}
	if s.format, err = s.formatOf(s.db); err == nil && s.format == 0 {
		err = errors.New("is empty, no season yet")
	}
	return s.checked(err)
}

// reach connects to what is there.
func reach(path string) (*Season, error) {
	if IsAddress(path) {
		return dial(path)
	}
	if _, err := os.Stat(path); err != nil {
		return nil, err
	}
	return connect(path, patience)
}

// OpenToAdd opens a season to add to it, and makes it where there is none. A
// file of an earlier format is brought up to this one; a damaged one is [ErrBroken].
func OpenToAdd(path string) (*Season, error) {
	open := func() (*Season, error) { return connect(path, patience) }
	if IsAddress(path) {
		open = func() (*Season, error) { return dial(path) }
	}
	s, err := open()
	if err != nil {
		return nil, err
	}
	err = s.update(func(tx *sql.Tx) error {
		format, err := s.formatOf(tx)
		if err != nil {
			return err
		}
		if err := s.check(tx, format); err != nil {
			return err
		}
		s.format = Format
		return s.bringUp(tx, format)
	})
	return s.checked(err)
}

func (s *Season) checked(err error) (*Season, error) {
	if err == nil {
		return s, nil
	}
	s.db.Close()
	return nil, s.wrap(err)
}

// wrap names the season, and says what to do where that is known.
func (s *Season) wrap(err error) error { return s.explain(s.name, err) }

// spoilt is the error that a row makes which is not what was stored, or nil where it is
// passed over with a note.
func (s *Season) spoilt(err error) error {
	err = s.wrap(err)
	if s.passes(err.Error() + "; left out") {
		return nil
	}
	return err
}

// Notes are for who opened the season: of what was left out, and, to add to it, of what
// could not be made.
func (s *Season) Notes() []string { return s.told() }

// Close closes the file.
func (s *Season) Close() error { return s.db.Close() }

// update runs one transaction; nothing of it stays where it fails.
func (s *Season) update(f func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	err = s.lock(tx)
	if err == nil {
		err = f(tx)
	}
	if err != nil {
		_ = tx.Rollback() // where the connection is gone, it is undone already
		return err
	}
	return tx.Commit()
}

// queryer is a database or a transaction.
type queryer interface {
	QueryRow(query string, args ...any) *sql.Row
}

// querier is a queryer that gives many rows.
type querier interface {
	queryer
	Query(query string, args ...any) (*sql.Rows, error)
}

// formatOf tells the format of a season: 0 where there is none yet. What holds
// something else is an error, and so is a later format.
func (s *Season) formatOf(q queryer) (format int, err error) {
	if there, err := s.holds(q); err != nil || !there {
		return 0, err
	}
	var text string
	if err := q.QueryRow(`SELECT value FROM season WHERE key = 'format'`).Scan(&text); err != nil {
		return 0, fmt.Errorf("is no season file: %w", err)
	}
	if format, err = strconv.Atoi(text); err != nil || format < 1 {
		return 0, fmt.Errorf("format %q of the season is not known", text)
	}
	if format > Format {
		return 0, fmt.Errorf("has format %d, this program knows formats up to %d: use a newer geocoris", format, Format)
	}
	return format, nil
}

// bringUp brings a season from a format to this one.
func (s *Season) bringUp(tx *sql.Tx, from int) error {
	if from < Format {
		if err := s.bringTables(tx, from); err != nil {
			return err
		}
	}
	return s.migrate(tx)
}

func (s *Season) bringTables(tx *sql.Tx, from int) error {
	if from < 1 {
		if err := s.create(tx); err != nil {
			return err
		}
	}
	if from < 2 {
		if err := s.addLayers(tx, layersOfFormat2[:]); err != nil {
			return err
		}
	}
	if from < 3 {
		if err := s.addLayers(tx, layersOfFormat3[:]); err != nil {
			return err
		}
		if _, err := tx.Exec(`INSERT INTO visit_fields (visit_id, field_id) ` + fieldsByZones); err != nil {
			return err
		}
	}
	if from < 4 {
		for _, to := range columnsOfFormat4 {
			for _, column := range to.columns {
				if _, err := tx.Exec(`ALTER TABLE ` + to.table + ` ADD COLUMN ` + column + ` TEXT NOT NULL DEFAULT ''`); err != nil {
					return err
				}
			}
		}
	}
	if from < 5 {
		if err := s.toFormat5(tx); err != nil {
			return err
		}
	}
	if from < 6 {
		if err := s.addLayers(tx, layersOfFormat6[:]); err != nil {
			return err
		}
		if err := s.redigest(tx); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`UPDATE season SET value = $1 WHERE key = 'format'`, strconv.Itoa(Format))
	return err
}

// toFormat5 adds authors, verdicts, and what finds the rows of a visit quickly.
func (s *Season) toFormat5(tx *sql.Tx) error {
	if _, err := tx.Exec(`ALTER TABLE visits ADD COLUMN author TEXT NOT NULL DEFAULT ''`); err != nil {
		return err
	}
	if err := s.addLayers(tx, layersOfFormat5[:]); err != nil {
		return err
	}
	for _, part := range parts {
		if _, err := tx.Exec(`CREATE INDEX ` + part + `_of_visit ON ` + part + ` (visit_id)`); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`CREATE INDEX visits_of_field ON visit_fields (field_id)`)
	return err
}

// create makes a season of format 1.
func (s *Season) create(tx *sql.Tx) error {
	if err := s.begin(tx); err != nil {
		return err
	}
	if err := s.addLayers(tx, layersOfFormat1[:]); err != nil {
		return err
	}
	_, err := tx.Exec(`INSERT INTO season (key, value) VALUES ('program', 'geocoris'), ('format', '1')`)
	return err
}

func (s *Season) addLayers(tx *sql.Tx, layers []layer) error {
	for _, l := range layers {
		if err := s.layer(tx, l); err != nil {
			return err
		}
	}
	return nil
}
