//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"modernc.org/sqlite" // its driver is registered as sqlite
	sqlite3 "modernc.org/sqlite/lib"

	"github.com/geocoris/geocoris/internal/files/gpkg"
)

// noChange stands where GeoPackage asks for the time of the last change before
// any visit tells a day.
const noChange = "2000-01-01T00:00:00.000Z"

// A geopackage is a season in a file.
type geopackage struct{}

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
	return &Season{db: db, q: db, name: filepath.Base(path), store: geopackage{}}, nil
}

func (geopackage) told() []string { return nil }

// passes over nothing: a file that is damaged is put right by a copy of it.
func (geopackage) passes(string) bool { return false }

// Is tells by its content whether a file is a season, of whatever format; a file that
// cannot be read is none. It changes nothing, and asks no view, which need not end.
func Is(path string) bool {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return false // a pipe gives its bytes once
	}
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

// lock does nothing, as a transaction begins with the lock on the file.
func (geopackage) lock(*sql.Tx) error { return nil }

func (geopackage) holds(q queryer) (bool, error) {
	var tables, seasons int
	err := q.QueryRow(`SELECT count(*), count(*) FILTER (WHERE name = 'season') FROM sqlite_master WHERE type = 'table'`).Scan(&tables, &seasons)
	if err == nil && tables > 0 && seasons == 0 {
		err = errors.New("is no season file: it holds other tables")
	}
	return seasons > 0, err
}

func (geopackage) begin(tx *sql.Tx) error {
	for _, statement := range slices.Concat(gpkg.Marks[:], gpkg.Tables[:]) {
		if _, err := tx.Exec(statement); err != nil {
			return err
		}
	}
	return nil
}

func (geopackage) layer(tx *sql.Tx, l layer) error {
	if _, err := tx.Exec(l.ddl); err != nil {
		return err
	}
	kind, srs := "attributes", any(nil)
	if l.geometry != "" {
		kind, srs = "features", wgs84ID
	}
	_, err := tx.Exec(`INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id) VALUES ($1, $2, $3, $4, $5, $6)`,
		l.name, kind, l.name, l.what, noChange, srs)
	if err != nil || l.geometry == "" {
		return err
	}
	_, err = tx.Exec(`INSERT INTO gpkg_geometry_columns VALUES ($1, 'geom', $2, 4326, 0, 0)`, l.name, l.geometry)
	return err
}

// migrate does nothing: a file has its tables and no more.
func (geopackage) migrate(*sql.Tx) error { return nil }

// describe keeps extents and the day of the last change in the table of contents.
// The day is that of the latest visit or treatment: no clock is read.
func (g geopackage) describe(tx *sql.Tx, c change) error {
	var day string
	if err := tx.QueryRow(`SELECT coalesce(max(substr(date, -10)), '') FROM (SELECT date FROM visits UNION ALL SELECT date FROM records)`).Scan(&day); err != nil {
		return err
	}
	change := noChange
	if day != "" {
		change = day + "T00:00:00.000Z"
	}
	if _, err := tx.Exec(`UPDATE gpkg_contents SET last_change = $1`, change); err != nil {
		return err
	}
	for _, table := range []string{"fields", "stops", "zones", "verdicts", "records"} {
		if err := g.widen(tx, table, c); err != nil {
			return err
		}
	}
	return nil
}

// widen keeps up the extent of a table: by the visits that were added alone where no others
// have changed, as there may be many thousands.
func (g geopackage) widen(tx *sql.Tx, table string, c change) error {
	known, err := g.extentOf(tx, shown{}, table)
	if err != nil {
		return err
	}
	of, where, bound := []int64{0}, `$1 = 0`, orb.MultiPoint{}.Bound() // all of it; empty
	few := table == "fields" || table == "records"
	if !few && !c.all && known[0].Valid {
		of, where = c.added, `visit_id = $1`
		bound = orb.Bound{Min: orb.Point{known[0].Float64, known[1].Float64}, Max: orb.Point{known[2].Float64, known[3].Float64}}
	}
	for _, visit := range of {
		more, err := g.extent(tx, table, where, visit)
		if err != nil {
			return err
		}
		bound = bound.Union(more)
	}
	if bound.IsEmpty() {
		return nil
	}
	_, err = tx.Exec(`UPDATE gpkg_contents SET min_x = $1, min_y = $2, max_x = $3, max_y = $4 WHERE table_name = $5`,
		bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1], table)
	return err
}

// extent is that of the rows of a table, by their envelopes where these tell.
func (g geopackage) extent(tx *sql.Tx, table, where string, visit int64) (bound orb.Bound, err error) {
	bound = orb.MultiPoint{}.Bound() // empty
	rows, err := tx.Query(`SELECT id, `+g.envelope(`geom`)+` FROM `+table+` WHERE `+where, visit)
	if err != nil {
		return bound, err
	}
	defer rows.Close()
	var bare []int64 // without an envelope
	for rows.Next() {
		var id int64
		var head []byte
		if err := rows.Scan(&id, &head); err != nil {
			return bound, err
		}
		if b, known := g.around(head); known {
			bound = bound.Union(b)
		} else {
			bare = append(bare, id)
		}
	}
	if err := rows.Err(); err != nil {
		return bound, err
	}
	rows.Close() // the one connection is wanted below
	for _, id := range bare {
		var data []byte
		if err := tx.QueryRow(`SELECT geom FROM `+table+` WHERE id = $1`, id).Scan(&data); err != nil {
			return bound, err
		}
		geometry, err := unblob(data)
		if err != nil {
			return bound, err
		}
		bound = bound.Union(geometry.Bound())
	}
	return bound, nil
}

func (geopackage) encode(blob []byte) any                      { return blob }
func (geopackage) decode(read []byte) (blob []byte, err error) { return read, nil }

// envelope is the header of a geometry, before its points.
func (geopackage) envelope(geom string) string {
	return fmt.Sprintf(`substr(%s, 1, %d)`, geom, headerSize+xySize)
}

func (geopackage) around(head []byte) (orb.Bound, bool) { return envelopeOf(head) }

// meets does nothing: SQL cannot read an envelope.
func (geopackage) meets(*condition, string, []orb.Bound) {}

// extentOf is as the table of contents has it.
func (geopackage) extentOf(q queryer, _ shown, name string) (box [4]sql.NullFloat64, err error) {
	if name == "treatments" {
		name = "records"
	}
	err = q.QueryRow(`SELECT min_x, min_y, max_x, max_y FROM gpkg_contents WHERE table_name = $1`, name).Scan(&box[0], &box[1], &box[2], &box[3])
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return box, err
}

// signed is who is named: a file knows nobody.
func (geopackage) signed(_ queryer, by string) (string, error) { return by, nil }

// ordered holds, so that files that hold the same are the same.
func (geopackage) ordered() bool { return true }

func (geopackage) numbers(queryer) (bool, error) { return true, nil }

// live holds for all, as what was replaced is gone.
func (geopackage) live(string) string { return `TRUE` }

// replace takes a visit out with all that is of it; fields stay.
func (geopackage) replace(tx *sql.Tx, visit int64) error {
	for _, table := range parts {
		if _, err := tx.Exec(`DELETE FROM `+table+` WHERE visit_id = $1`, visit); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`DELETE FROM visits WHERE id = $1`, visit)
	return err
}

func (geopackage) replaced(*sql.Tx, int64, int64) error { return nil }

func (geopackage) check(q queryer, format int) error {
	var answer string
	switch err := q.QueryRow(`PRAGMA integrity_check(1)`).Scan(&answer); {
	case sqliteCode(err) == sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("%w: %w", ErrBroken, err)
	case err != nil:
		return err
	case answer != "ok":
		return fmt.Errorf("%w: %s", ErrBroken, strings.Join(strings.Fields(answer), " "))
	}
	return noEarlier(q, format)
}

// noEarlier refuses a file that says that it is of an earlier format than its tables are, as
// less would be read of it.
func noEarlier(q queryer, format int) error {
	var made int
	err := q.QueryRow(`SELECT coalesce(max(format), 0) FROM (
		SELECT CASE name WHEN 'season' THEN 1 WHEN 'records' THEN 2 WHEN 'visit_fields' THEN 3 WHEN 'verdicts' THEN 5 WHEN 'corrections' THEN 6 END AS format FROM sqlite_master WHERE type = 'table'
		UNION ALL SELECT 4 FROM pragma_table_info('visits') WHERE name = 'sha256')`).Scan(&made)
	if err == nil && made > format {
		err = fmt.Errorf("%w: it says that it is of format %d, and has tables of format %d", ErrBroken, format, made)
	}
	return err
}

// explain names the file, and says what to do where another process holds it.
func (geopackage) explain(name string, err error) error {
	if code := sqliteCode(err); code == sqlite3.SQLITE_BUSY {
		return fmt.Errorf("%s: another program is writing to it; try again when it is done", name)
	} else if code == sqlite3.SQLITE_NOTADB {
		return fmt.Errorf("%s: is no GeoPackage", name)
	}
	return fmt.Errorf("%s: %w", name, err)
}

func sqliteCode(err error) int {
	const primary = 0xff // the rest of the code tells more than we need
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & primary
	}
	return 0
}
