package testkit

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A Postgres is a PostgreSQL server with PostGIS, for the tests of one test program. It
// answers on a socket in a folder of its own, and ends with the program.
type Postgres struct {
	folder   string
	programs string // the folder of its programs
	made     atomic.Int64
	stdin    any // held open, or the server ends
	as       []string
	started  error
}

// template is the database that others are copies of.
const template = "geocoris_template"

// postgres is the server of this test program, which the first test starts that asks for it.
var postgres = sync.OnceValue(func() *Postgres {
	p := &Postgres{}
	p.started = p.start()
	return p
})

// StartPostgres is the server of this test program. Where PostgreSQL or PostGIS is not
// installed the test is skipped, in CI it fails.
func StartPostgres(t testing.TB) *Postgres {
	t.Helper()
	if initdb() == "" {
		Missing(t, "PostgreSQL with PostGIS")
	}
	if _, err := exec.LookPath("runuser"); err != nil && os.Geteuid() == 0 {
		Missing(t, "runuser, without which root starts no PostgreSQL,")
	}
	p := postgres()
	if errors.Is(p.started, errNoPostGIS) {
		Missing(t, "PostGIS")
	}
	require.NoError(t, p.started)
	return p
}

var errNoPostGIS = errors.New("the server has no PostGIS")

// initdb is where PostgreSQL's program of this name lies, the newest of several.
func initdb() string {
	all, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(all) > 0 {
		return newest(all)
	}
	found, _ := exec.LookPath("initdb")
	return found
}

// newest is the program in the folder of the highest version.
func newest(programs []string) string {
	version := func(program string) float64 {
		v, _ := strconv.ParseFloat(filepath.Base(filepath.Dir(filepath.Dir(program))), 64) // 0 for a folder of another name
		return v
	}
	return slices.MaxFunc(programs, func(a, b string) int { return cmp.Compare(version(a), version(b)) })
}

// serving keeps the server going until its standard input ends, which it does with the
// test program, however that ends.
const serving = `"$0/postgres" -D "$1/data" -k "$1" -c listen_addresses= -c fsync=off -c full_page_writes=off -c max_connections=60 >"$1/log" 2>&1 &
server=$!
cat >/dev/null
kill -QUIT $server
wait $server
rm -rf "$1/data" "$1/log"; rmdir "$1"`

func (p *Postgres) start() (err error) {
	if p.folder, err = os.MkdirTemp("", "geocoris-postgres-"); err != nil {
		return err
	}
	p.programs = filepath.Dir(initdb())
	if os.Geteuid() == 0 { // PostgreSQL refuses to run as root
		p.as = []string{"runuser", "-u", "postgres", "--"}
		if out, err := exec.Command("chown", "postgres", p.folder).CombinedOutput(); err != nil {
			return fmt.Errorf("%w: %s", err, out)
		}
	}
	if out, err := p.command(filepath.Join(p.programs, "initdb"), "-D", p.folder+"/data", "-U", "postgres", "-A", "trust", "-N", "-E", "UTF8", "--locale=C").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	// Only who is called so has to know a password.
	const hba = "local all locked scram-sha-256\nlocal all all trust\n"
	write := p.command("sh", "-c", `cat >"$0/data/pg_hba.conf"`, p.folder)
	write.Stdin = strings.NewReader(hba)
	if out, err := write.CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	server := p.command("sh", "-c", serving, p.programs, p.folder)
	if p.stdin, err = server.StdinPipe(); err != nil {
		return err
	}
	if err := server.Start(); err != nil {
		return err
	}
	return p.prepare()
}

// prepare waits for the server, and makes the database that others are copies of.
func (p *Postgres) prepare() (err error) {
	const patience = 60 * time.Second
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(50 * time.Millisecond) {
		if _, err = p.query("postgres", "SELECT 1"); err == nil {
			break
		}
	}
	if err == nil {
		var known string
		known, err = p.query("postgres", "SELECT count(*) FROM pg_available_extensions WHERE name = 'postgis'")
		if err == nil && known == "0" {
			err = errNoPostGIS
		}
	}
	for _, step := range [][2]string{{"postgres", "CREATE DATABASE " + template}, {template, "CREATE EXTENSION postgis"}} {
		if err == nil {
			_, err = p.query(step[0], step[1])
		}
	}
	return err
}

func (p *Postgres) command(name string, args ...string) *exec.Cmd {
	line := append(slices.Clone(p.as), append([]string{name}, args...)...)
	cmd := exec.Command(line[0], line[1:]...)
	cmd.Dir = p.folder
	return cmd
}

// query runs statements as the administrator.
func (p *Postgres) query(database, statements string) (string, error) {
	return p.QueryAs("postgres", database, statements)
}

// QueryAs runs statements as somebody, and returns what they give; what the server refuses
// is an error with its code.
func (p *Postgres) QueryAs(role, database, statements string) (string, error) {
	cmd := exec.Command(filepath.Join(p.programs, "psql"), "-h", p.folder, "-U", role, "-d", database, "-v", "ON_ERROR_STOP=1", "-v", "VERBOSITY=verbose", "-qAtX")
	cmd.Stdin = strings.NewReader(statements)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("%w: %s", err, errs.String())
	}
	return strings.TrimSpace(out.String()), nil
}

// Query runs statements in a database as the administrator, and returns what they give,
// a line a row, columns parted by |.
func (p *Postgres) Query(t testing.TB, database, statements string) string {
	t.Helper()
	out, err := p.query(database, statements)
	require.NoError(t, err)
	return out
}

// Database makes a new database with PostGIS in it and nothing else.
func (p *Postgres) Database(t testing.TB) (name string) {
	t.Helper()
	name = fmt.Sprintf("test%d", p.made.Add(1))
	p.Query(t, "postgres", "CREATE DATABASE "+name+" TEMPLATE "+template)
	return name
}

// Address is where a role finds a database.
func (p *Postgres) Address(role, database string) string {
	return fmt.Sprintf("postgres://%s@/%s?host=%s", role, database, url.QueryEscape(p.folder))
}

// GDAL is a database as GDAL's programs want it.
func (p *Postgres) GDAL(role, database string) string {
	return fmt.Sprintf("PG:host=%s user=%s dbname=%s", p.folder, role, database)
}
