//go:build !js && !nosqlite

package season

import (
	"context"
	"database/sql"
	"embed"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A postgis is a season in the schema geocoris of a PostgreSQL database.
type postgis struct {
	notes []string // on what could not be made, and what was left out
}

const (
	// dialTimeout is how long a server may take to answer, where the address tells no time.
	dialTimeout = 10 * time.Second
	// lost is after how long a server takes a program that began to add for gone.
	lost = 2 * patience
	// silent is how long a server that is asked something may say nothing; nobody waits
	// longer than patience for another, and no question takes so long.
	silent = 4 * patience
	// writersLock is the number of the lock that writers wait for; any number does that no
	// other program locks in the same database.
	writersLock = 0x67656f636f726973 // "geocoris"
)

// findsPostGIS makes names mean tables of ours, and functions of PostGIS wherever it is.
// Temporary tables come last, as they come first where nobody names them.
const findsPostGIS = `SELECT set_config('search_path', concat_ws(', ', 'geocoris',
	(SELECT quote_ident(n.nspname) FROM pg_extension e JOIN pg_namespace n ON n.oid = e.extnamespace WHERE e.extname = 'postgis'), 'pg_temp'), false)`

// dial prepares to speak with the database of an address, as PostgreSQL's own programs
// write it. What the address does not tell comes from PGPASSWORD, ~/.pgpass and so on.
func dial(address string) (*Season, error) {
	if _, whole := urlOf(address); !whole {
		return nil, errAddress
	}
	config, err := parsed(address)
	if err != nil { // what it says may have the password in it
		return nil, errAddress
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = dialTimeout
	}
	// Compiling a query takes ten times as long as what is asked of a season.
	for name, value := range map[string]string{
		"jit":              "off",
		"application_name": "geocoris", "client_encoding": "UTF8", "standard_conforming_strings": "on", "extra_float_digits": "1",
		"lock_timeout": milliseconds(patience), "idle_in_transaction_session_timeout": milliseconds(lost),
	} {
		config.RuntimeParams[name] = value
	}
	reach := config.DialFunc
	config.DialFunc = func(ctx context.Context, network, address string) (net.Conn, error) {
		c, err := reach(ctx, network, address)
		if err != nil {
			return nil, err
		}
		return patientConn{c, silent}, nil
	}
	db := stdlib.OpenDB(*config, stdlib.OptionAfterConnect(func(ctx context.Context, c *pgx.Conn) error {
		_, err := c.Exec(ctx, findsPostGIS)
		return err
	}))
	db.SetMaxOpenConns(1)
	return &Season{db: db, q: db, name: Name(address), store: &postgis{}}, nil
}

// patientConn is a connection that is lost once the other end says nothing for a time, when it is
// listened to: a network that is gone says nothing at all, and takes a quarter of an hour to
// be found out by what was sent.
type patientConn struct {
	net.Conn
	within time.Duration
}

func (c patientConn) Read(b []byte) (int, error) {
	if err := c.SetReadDeadline(time.Now().Add(c.within)); err != nil {
		return 0, err
	}
	return c.Conn.Read(b)
}

// SameDatabase reports whether two addresses name one database of one server, whoever is
// logged in. Two names of a server are not known to be one.
func SameDatabase(a, b string) bool {
	if !IsAddress(a) || !IsAddress(b) {
		return false
	}
	x, errA := parsed(a)
	y, errB := parsed(b)
	return errA == nil && errB == nil && x.Host == y.Host && x.Port == y.Port && x.Database == y.Database
}

// parsed is an address taken apart. Its scheme may be written in capitals (RFC 3986, section
// 3.1), by which the driver would take it for words of another kind.
func parsed(address string) (*pgx.ConnConfig, error) {
	scheme, rest, _ := strings.Cut(address, "://")
	return pgx.ParseConfig(strings.ToLower(scheme) + "://" + rest)
}

func milliseconds(d time.Duration) string { return strconv.FormatInt(d.Milliseconds(), 10) }

// lock makes writers wait for one another. Each statement sees what was there when it
// began, so that the one that waited sees what the other did.
func (*postgis) lock(tx *sql.Tx) error {
	_, err := tx.Exec(`SET TRANSACTION ISOLATION LEVEL READ COMMITTED`)
	if err == nil {
		_, err = tx.Exec(`SELECT pg_advisory_xact_lock($1)`, int64(writersLock))
	}
	return err
}

func (p *postgis) holds(q queryer) (season bool, err error) {
	var tables int
	err = q.QueryRow(`SELECT count(*), count(*) FILTER (WHERE c.relname = 'season' AND
		(SELECT count(*) FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname IN ('key', 'value')) = 2) > 0 FROM pg_class c
		JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = 'geocoris' AND c.relkind = 'r'`).Scan(&tables, &season)
	switch {
	case err != nil:
	case season:
		_, err = p.version(q)
	case tables > 0:
		err = errors.New("is no season: its schema geocoris holds other tables")
	}
	return season, err
}

// begin makes the schema, and brings PostGIS into the database where it is on the server.
func (*postgis) begin(tx *sql.Tx) error {
	var there, possible bool
	err := tx.QueryRow(`SELECT EXISTS (SELECT FROM pg_extension WHERE extname = 'postgis'), EXISTS (SELECT FROM pg_available_extensions WHERE name = 'postgis')`).Scan(&there, &possible)
	switch {
	case err != nil:
		return err
	case !there && !possible:
		return errNoPostGIS
	case !there:
		if _, err := tx.Exec(`CREATE EXTENSION postgis SCHEMA public`); err != nil {
			return denied(err, errPostGISDenied)
		}
	}
	if _, err := tx.Exec(`CREATE SCHEMA IF NOT EXISTS geocoris`); err != nil {
		return denied(err, errMakingDenied)
	}
	_, err = tx.Exec(findsPostGIS)
	return err
}

// inPostgres are the words that stand in the tables of a file, and what PostgreSQL has for
// them. The same visit may be there twice: as it was replaced, and anew.
var inPostgres = strings.NewReplacer(
	"id INTEGER PRIMARY KEY", "id BIGINT GENERATED BY DEFAULT AS IDENTITY PRIMARY KEY",
	"geom POINT", "geom geometry(Point, 4326)", "geom MULTIPOLYGON", "geom geometry(MultiPolygon, 4326)",
	"digest TEXT NOT NULL UNIQUE", "digest TEXT NOT NULL",
	"DOUBLE", "DOUBLE PRECISION", "INTEGER", "BIGINT", "BLOB", "BYTEA",
)

func (*postgis) layer(tx *sql.Tx, l layer) error {
	statements := []string{inPostgres.Replace(l.ddl)}
	if l.geometry != "" {
		statements = append(statements, `CREATE INDEX ON `+l.name+` USING gist (geom)`)
	}
	for _, statement := range statements {
		if _, err := tx.Exec(statement); err != nil {
			return err
		}
	}
	return nil
}

// steps bring the database from one version to the next, whatever the format of the
// tables: 1 authors, what was replaced, indexes, layers for map programs; 2 whose fields
// a role sees; 3 what was replaced; 4 what SQL may add, and whose treatments a role sees.
//
//go:embed postgis/1.sql postgis/2.sql postgis/3.sql postgis/4.sql
var steps embed.FS

// Roles are the statements that make the roles of a season and say what each may do, for
// who owns the database.
//
//go:embed postgis/roles.sql
var Roles string

// stepsKnown is how many steps this program knows.
const stepsKnown = 4

func (p *postgis) migrate(tx *sql.Tx) error {
	from, err := p.version(tx)
	if err != nil {
		return err
	}
	for step := from + 1; step <= stepsKnown; step++ {
		statements, err := steps.ReadFile(fmt.Sprintf("postgis/%d.sql", step))
		if err != nil {
			return err
		}
		if _, err := tx.Exec(string(statements)); err != nil {
			return denied(err, errOlderDenied)
		}
	}
	if from == stepsKnown {
		return nil
	}
	if _, err = tx.Exec(`INSERT INTO season (key, value) VALUES ('postgis', $1) ON CONFLICT (key) DO UPDATE SET value = excluded.value`, strconv.Itoa(stepsKnown)); err != nil {
		return err
	}
	return p.grant(tx)
}

// grant makes the roles where whoever is logged in may, and says so where not.
func (p *postgis) grant(tx *sql.Tx) error {
	var may bool
	err := tx.QueryRow(`SELECT (SELECT rolsuper OR rolcreaterole FROM pg_roles WHERE rolname = current_user)
		OR (SELECT count(*) FROM pg_roles WHERE rolname IN ('geocoris_scout', 'geocoris_office')) = 2`).Scan(&may)
	switch {
	case err != nil:
		return err
	case !may:
		p.notes = append(p.notes, "the roles geocoris_scout and geocoris_office are not there, and this one may not make them: an administrator runs in this database what geocoris season roles prints")
		return nil
	}
	_, err = tx.Exec(Roles)
	return err
}

// version is the last step that a database went through; a later one is an error.
func (*postgis) version(q queryer) (version int, err error) {
	var text string
	switch err := q.QueryRow(`SELECT value FROM season WHERE key = 'postgis'`).Scan(&text); {
	case errors.Is(err, sql.ErrNoRows):
		return 0, nil
	case err != nil:
		return 0, err
	}
	if version, err = strconv.Atoi(text); err != nil || version < 1 {
		return 0, fmt.Errorf("version %q of the season's database is not known", text)
	}
	if version > stepsKnown {
		return 0, fmt.Errorf("has version %d of the database, this program knows versions up to %d: use a newer geocoris", version, stepsKnown)
	}
	return version, nil
}

// describe does nothing: PostgreSQL knows its tables.
func (*postgis) describe(*sql.Tx, change) error { return nil }

// The extended well-known binary of PostGIS has a flag at the type, and the reference
// system behind it (PostGIS manual, 4.1.2). Geometries go and come as its hexadecimal digits.
const (
	typeAt, typeEnds = 1, 5
	flagSRID         = 0x20000000
	littleEndian     = 1
)

func (*postgis) encode(blob []byte) any {
	body := blob[headerSize+xySize:]
	out := append([]byte{}, body[:typeAt]...)
	out = binary.LittleEndian.AppendUint32(out, binary.LittleEndian.Uint32(body[typeAt:])|flagSRID)
	out = binary.LittleEndian.AppendUint32(out, wgs84ID)
	return hex.EncodeToString(append(out, body[typeEnds:]...))
}

func (*postgis) decode(read []byte) ([]byte, error) {
	body := make([]byte, hex.DecodedLen(len(read)))
	if _, err := hex.Decode(body, read); err != nil || len(body) < typeEnds {
		return nil, errors.New("a geometry is not as PostGIS writes it")
	}
	var order binary.ByteOrder = binary.BigEndian
	if body[0] == littleEndian {
		order = binary.LittleEndian
	}
	if kind := order.Uint32(body[typeAt:]); kind&flagSRID != 0 && len(body) >= typeEnds+4 {
		order.PutUint32(body[typeAt:], kind&^flagSRID)
		body = append(body[:typeEnds], body[typeEnds+4:]...)
	}
	g, err := geofile.DecodeWKB(body, geofile.Limits{})
	if err != nil {
		return nil, fmt.Errorf("a geometry cannot be read: %w", err)
	}
	return blob(g)
}

// signed is who is logged in, where nobody is named.
func (*postgis) signed(q queryer, by string) (author string, err error) {
	if by != "" {
		return by, nil
	}
	err = q.QueryRow(`SELECT session_user::text`).Scan(&author)
	return Authors(author), err
}

// ordered does not hold: nobody changes what was added, and others know it by its number.
func (*postgis) ordered() bool { return false }

// numbers holds for the owner alone, who may add to that column.
func (*postgis) numbers(q queryer) (may bool, err error) {
	err = q.QueryRow(`SELECT has_column_privilege('geocoris.visits', 'id', 'INSERT')`).Scan(&may)
	return may, err
}

func (*postgis) live(id string) string {
	return `NOT EXISTS (SELECT 1 FROM superseded WHERE superseded.visit_id = ` + id + `)`
}

// replace does nothing: what was added stays, and is told to be replaced.
func (*postgis) replace(*sql.Tx, int64) error { return nil }

func (*postgis) replaced(tx *sql.Tx, old, by int64) error {
	_, err := tx.Exec(`INSERT INTO superseded (visit_id, by_visit_id) VALUES ($1, $2)`, old, by)
	return err
}

// check leaves it to the server whether what it keeps is whole; each visit is compared
// with its digests when it is read.
func (p *postgis) check(queryer, int) error { return nil }

func (p *postgis) told() []string { return p.notes }

// passes notes each row once.
func (p *postgis) passes(note string) bool {
	if !slices.Contains(p.notes, note) {
		p.notes = append(p.notes, note)
	}
	return true
}
