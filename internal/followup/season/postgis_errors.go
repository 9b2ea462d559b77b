//go:build !js && !nosqlite

package season

import (
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"
)

// A DatabaseError is what a database refused, in words that have no password in them.
type DatabaseError struct {
	what, fix string
	cause     error // nil where ours is the only one
}

func (e *DatabaseError) Error() string { return e.what }

// Fix is how to fix it.
func (e *DatabaseError) Fix() string { return e.fix }

// Unwrap is what the driver said.
func (e *DatabaseError) Unwrap() error { return e.cause }

var (
	errAddress       = &DatabaseError{what: "the address of the database cannot be read", fix: "want postgres://USER@HOST/DATABASE; give a password in PGPASSWORD or ~/.pgpass, or write its @ / # ? and % as %40 %2F %23 %3F and %25"}
	errNoPostGIS     = &DatabaseError{what: "the server has no PostGIS", fix: "its administrator installs PostGIS 3 for its version of PostgreSQL"}
	errPostGISDenied = &DatabaseError{what: "PostGIS is not in this database yet, and this role may not bring it in", fix: "its administrator runs in this database: CREATE EXTENSION postgis"}
	errMakingDenied  = &DatabaseError{what: "there is no season in this database yet, and this role may not make one", fix: "the owner of the database adds the first visit, or runs: GRANT CREATE ON DATABASE … TO …"}
	errOlderDenied   = &DatabaseError{what: "the season is of an older program, and this role may not bring it up", fix: "the owner of the season adds something with this program"}
)

// The codes of PostgreSQL 15, appendix A, that people meet.
var saying = map[string]DatabaseError{
	"28P01": {what: "the server refuses the password, or the role", fix: "give the password in PGPASSWORD or ~/.pgpass, and the role in the address"},
	"28000": {what: "the server refuses this role", fix: "ask its administrator to let the role log in from here"},
	"3D000": {what: "there is no such database on the server", fix: "its administrator makes it with createdb, and brings PostGIS in: CREATE EXTENSION postgis"},
	"53300": {what: "the server has no connection left", fix: "try again in a moment"},
	"55P03": {what: "another program is writing to it", fix: "try again when it is done"},
	"22021": {what: "a name or a text has a byte in it that the database cannot keep", fix: "rename the file, or save its table anew as UTF-8"},
	"22P05": {what: "a name or a text has a character in it that the database cannot keep", fix: "rename the file, or save its table anew as UTF-8"},
	"42501": {what: "this role may not do that in the season", fix: "a scout adds, an office reads; ask the owner of the season for the role that you need"},
	"42P01": {what: "this role may not see the season", fix: "its owner runs: GRANT geocoris_office TO …, or geocoris_scout"},
	"25006": {what: "the server takes nothing in: it is read only", fix: "add to the server that it is a copy of"},
}

// denied is another error where a role may not do something.
func denied(err error, other *DatabaseError) error {
	var said *pgconn.PgError
	if errors.As(err, &said) && said.Code == "42501" {
		return other
	}
	return err
}

// isDenied tells that a role may not do something.
func isDenied(err error) bool {
	var said *pgconn.PgError
	return errors.As(err, &said) && said.Code == "42501"
}

// explain puts what a database says into words that people can do something about. What
// the driver says of connecting is left out, as it has the whole address in it.
func (*postgis) explain(name string, err error) error {
	var ours *DatabaseError
	if errors.As(err, &ours) {
		return &DatabaseError{name + ": " + ours.what, ours.fix, ours.cause}
	}
	what, fix := "", ""
	var said *pgconn.PgError
	var unreached *pgconn.ConnectError
	switch {
	case errors.As(err, &said):
		what, fix = ofServer(said)
	case errors.As(err, &unreached):
		what, fix = "the server does not answer", "is it running, is this machine connected, and is the address right?"
	case isLost(err):
		what, fix = goneWhat, goneFix
	default:
		return fmt.Errorf("%s: %w", name, err)
	}
	return &DatabaseError{name + ": " + what, fix, err}
}

const (
	goneWhat = "the connection to the database was lost"
	goneFix  = "season list shows whether it was stored; if not, add it again"
)

// ofServer are words for what a server said.
func ofServer(said *pgconn.PgError) (what, fix string) {
	switch {
	case said.Code == "42501" && strings.HasPrefix(said.Message, "must be owner"):
		return errOlderDenied.what, errOlderDenied.fix
	case said.Code == "42501" && strings.Contains(said.Message, `row-level security policy for table "superseded"`):
		return "this role may not replace a visit that another one added", "ask who added it, or the owner of the season"
	case said.Code == "42501" && strings.Contains(said.Message, "row-level security"):
		return "this is of a grower whose fields this role does not see", "ask the owner of the season, who names growers to roles in its table access"
	case said.Code == "23514":
		return "the database refuses what is not as this program writes it: " + said.Message, "add it with geocoris, of the newest version"
	case saying[said.Code].what != "":
		return saying[said.Code].what, saying[said.Code].fix
	case said.Code == "23505" && said.ConstraintName == "fields_name_key":
		return "a field of this name is there already, of a grower whose fields this role does not see", "name it otherwise, or ask the owner of the season"
	case strings.HasPrefix(said.Code, "57P"), strings.HasPrefix(said.Code, "08"), said.Code == "25P03":
		return goneWhat, goneFix
	}
	return fmt.Sprintf("the database says: %s (%s)", strings.Join(strings.Fields(said.Message), " "), said.Code), ""
}

// isLost tells whether a connection broke.
func isLost(err error) bool {
	var of net.Error
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, net.ErrClosed) || errors.As(err, &of) || strings.Contains(err.Error(), "conn closed")
}
