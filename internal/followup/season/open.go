//go:build !js && !nosqlite

package season

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"modernc.org/sqlite" // its driver is registered as sqlite
	sqlite3 "modernc.org/sqlite/lib"

	"github.com/geocoris/geocoris/internal/files/gpkg"
)

// patience is how long one process waits for another that is adding.
const patience = 30 * time.Second

// noChange stands where GeoPackage asks for the time of the last change before
// any visit tells a day.
const noChange = "2000-01-01T00:00:00.000Z"

// A Season is an open season file.
type Season struct {
	db     *sql.DB
	q      querier // db, or a transaction of it
	name   string  // for messages
	format int
}

// Open opens a season for reading. A file that is missing, that is no season, or
// of a later format is an error; one of an earlier format is read as it is.
func Open(path string) (*Season, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, err
	}
	s, err := connect(path, patience)
	if err != nil {
		return nil, err
	}
	if s.format, err = formatOf(s.db); err == nil && s.format == 0 {
		err = errors.New("is empty, no season yet")
	}
	return s.checked(err)
}

// Is tells by its content whether a file is a season, of whatever format; a file that
// cannot be read is none. It changes nothing, and asks no view, which need not end.
func Is(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	head := make([]byte, len(gpkg.Magic))
	_, err = io.ReadFull(f, head)
	if f.Close() != nil || err != nil || !gpkg.Is(head) {
		return false
	}
	dsn := url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath(), RawQuery: "immutable=1&mode=ro"}
	db, err := sql.Open("sqlite", dsn.String())
	if err != nil {
		return false
	}
	defer db.Close()
	var columns int
	err = db.QueryRow(`SELECT count(*) FROM pragma_table_list('season') l, pragma_table_info('season') c
		WHERE l.schema = 'main' AND l.type = 'table' AND c.name IN ('key', 'value')`).Scan(&columns)
	if err != nil || columns != 2 {
		return false
	}
	var program string
	err = db.QueryRow(`SELECT value FROM season WHERE key = 'program'`).Scan(&program)
	return err == nil && program == "geocoris"
}

// OpenToAdd opens a season to add to it, and makes it where there is none. A
// file of an earlier format is brought up to this one; a damaged one is [ErrBroken].
func OpenToAdd(path string) (*Season, error) {
	s, err := connect(path, patience)
	if err != nil {
		return nil, err
	}
	err = s.update(func(tx *sql.Tx) error {
		format, err := formatOf(tx)
		if err != nil {
			return err
		}
		if err := check(tx); err != nil {
			return err
		}
		s.format = Format
		return migrate(tx, format)
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

// wrap names the file, and says what to do where another process holds it.
func (s *Season) wrap(err error) error {
	if code := sqliteCode(err); code == sqlite3.SQLITE_BUSY {
		return fmt.Errorf("%s: another program is writing to it; try again when it is done", s.name)
	} else if code == sqlite3.SQLITE_NOTADB {
		return fmt.Errorf("%s: is no GeoPackage", s.name)
	}
	return fmt.Errorf("%s: %w", s.name, err)
}

func sqliteCode(err error) int {
	const primary = 0xff // the rest of the code tells more than we need
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & primary
	}
	return 0
}

// Close closes the file.
func (s *Season) Close() error { return s.db.Close() }

func connect(path string, wait time.Duration) (*Season, error) {
	dsn := url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath()}
	q := url.Values{"_txlock": {"immediate"}}
	// A transaction is on disk before it is reported as done.
	for _, pragma := range []string{fmt.Sprintf("busy_timeout(%d)", wait.Milliseconds()), "foreign_keys(1)", "synchronous(FULL)"} {
		q.Add("_pragma", pragma)
	}
	dsn.RawQuery = q.Encode()
	db, err := sql.Open("sqlite", dsn.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return &Season{db: db, q: db, name: filepath.Base(path)}, nil
}

// update runs one transaction; nothing of it stays where it fails.
func (s *Season) update(f func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	if err := f(tx); err != nil {
		return errors.Join(err, tx.Rollback())
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

// formatOf tells the format of a file: 0 for an empty one. A file that holds
// something else is an error, and so is a later format.
func formatOf(q queryer) (format int, err error) {
	var tables, seasons int
	if err := q.QueryRow(`SELECT count(*), count(*) FILTER (WHERE name = 'season') FROM sqlite_master WHERE type = 'table'`).Scan(&tables, &seasons); err != nil {
		return 0, err
	}
	switch {
	case tables == 0:
		return 0, nil
	case seasons == 0:
		return 0, errors.New("is no season file: it holds other tables")
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

// migrate brings a file from a format to this one.
func migrate(tx *sql.Tx, from int) error {
	if from == Format {
		return nil
	}
	if from < 1 {
		if err := create(tx); err != nil {
			return err
		}
	}
	if from < 2 {
		if err := addLayers(tx, layersOfFormat2[:]); err != nil {
			return err
		}
	}
	if from < 3 {
		if err := addLayers(tx, layersOfFormat3[:]); err != nil {
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
		if err := toFormat5(tx); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`UPDATE season SET value = ? WHERE key = 'format'`, strconv.Itoa(Format))
	return err
}

// toFormat5 adds authors, verdicts, and what finds the rows of a visit quickly.
func toFormat5(tx *sql.Tx) error {
	if _, err := tx.Exec(`ALTER TABLE visits ADD COLUMN author TEXT NOT NULL DEFAULT ''`); err != nil {
		return err
	}
	if err := addLayers(tx, layersOfFormat5[:]); err != nil {
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

// create makes a file of format 1.
func create(tx *sql.Tx) error {
	for _, statement := range slices.Concat(gpkg.Marks[:], gpkg.Tables[:]) {
		if _, err := tx.Exec(statement); err != nil {
			return err
		}
	}
	if err := addLayers(tx, layersOfFormat1[:]); err != nil {
		return err
	}
	_, err := tx.Exec(`INSERT INTO season (key, value) VALUES ('program', 'geocoris'), ('format', '1')`)
	return err
}

func addLayers(tx *sql.Tx, layers []layer) error {
	for _, l := range layers {
		if _, err := tx.Exec(l.ddl); err != nil {
			return err
		}
		kind, srs := "attributes", any(nil)
		if l.geometry != "" {
			kind, srs = "features", 4326
		}
		if _, err := tx.Exec(`INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id) VALUES (?, ?, ?, ?, ?, ?)`,
			l.name, kind, l.name, l.what, noChange, srs); err != nil {
			return err
		}
		if l.geometry == "" {
			continue
		}
		if _, err := tx.Exec(`INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, 4326, 0, 0)`, l.name, l.geometry); err != nil {
			return err
		}
	}
	return nil
}
