//go:build !js && !nosqlite

package season

import (
	"encoding/hex"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// forged is SQL that adds a visit to one field as the program would, with further statements
// before its end. In them VISIT is its number.
func forged(t *testing.T, v Visit, more ...string) string {
	t.Helper()
	quoted := func(text string) string { return "'" + strings.ReplaceAll(text, "'", "''") + "'" }
	const visit = "(SELECT max(id) FROM geocoris.visits)"
	f := v.Fields[0]
	geom, err := blob(f.Boundary)
	require.NoError(t, err)
	statements := []string{"BEGIN", fmt.Sprintf("INSERT INTO geocoris.visits (date, pest, unit, settings, digest, author, sha256) VALUES (%s, '', '', %s, '%s', '', '%s')",
		quoted(v.Date), quoted(v.Settings), digest(v), v.sum())}
	for _, c := range v.Files {
		statements = append(statements, fmt.Sprintf(`INSERT INTO geocoris.files (visit_id, name, sha256, content) VALUES (VISIT, %s, '%s', '\x%s')`, quoted(c.Name), c.sum(), hex.EncodeToString(c.Content)))
	}
	statements = append(statements, fmt.Sprintf("INSERT INTO geocoris.visit_fields (visit_id, field_id, customer, farm, rows, grower, sha256) SELECT VISIT, id, %s, '', '', '', '%s' FROM geocoris.fields WHERE name = %s",
		quoted(f.Customer), fieldSum(f, "", "", geom), quoted(f.Name)))
	statements = append(append(statements, more...), "COMMIT")
	return strings.ReplaceAll(strings.Join(statements, "; "), "VISIT", visit)
}

// By SQL a scout adds what the program would, and nothing that a reader cannot use: whatever
// is asked for early, and whatever temporary tables of that scout are called.
func TestWhatSQLAddsIsHeldToWhatTheProgramWrites(t *testing.T) {
	server := testkit.StartPostgres(t)
	database := server.Database(t)
	owner, err := OpenToAdd(server.Address("postgres", database))
	require.NoError(t, err)
	defer owner.Close()
	first := squareVisit(1)
	first.Settings = "{}"
	_, err = owner.Add(first)
	require.NoError(t, err)
	login := "forger_" + database
	server.Query(t, database, "CREATE ROLE "+login+" LOGIN IN ROLE geocoris_scout")

	with := func(change func(v *Visit)) Visit {
		v := squareVisit(2)
		v.Settings = "{}"
		if change != nil {
			change(&v)
		}
		return v
	}
	same := first
	same.Date = "2031-08-15"
	const field = "(SELECT geom FROM geocoris.fields LIMIT 1)"
	const owns = "CREATE TEMP TABLE pg_namespace (nspname TEXT, nspowner OID); INSERT INTO pg_namespace SELECT 'geocoris', oid FROM pg_roles WHERE rolname = session_user; "
	const late = "INSERT INTO geocoris.files (visit_id, name, sha256, content) VALUES (VISIT, 'late.csv', encode(sha256('x'), 'hex'), 'x')"
	const early = "SET CONSTRAINTS geocoris.hold_visit IMMEDIATE"
	for what, statements := range map[string]string{
		"with another file":               forged(t, with(nil), late),
		"with another file, looked at":    forged(t, with(nil), early, late),
		"with another field, looked at":   forged(t, with(nil), early, "INSERT INTO geocoris.visit_fields (visit_id, field_id) SELECT VISIT, id FROM geocoris.fields"),
		"as the owner, says a table":      owns + forged(t, with(nil), late),
		"no ground, as the owner":         owns + "INSERT INTO geocoris.fields (geom, name) VALUES ('SRID=4326;MULTIPOLYGON EMPTY', 'None')",
		"the same counts of another day":  forged(t, same),
		"seen before others were done":    strings.Replace(forged(t, with(nil)), "BEGIN", "BEGIN ISOLATION LEVEL REPEATABLE READ", 1),
		"no day":                          forged(t, with(func(v *Visit) { v.Date = "soon" })),
		"a day that is in no calendar":    forged(t, with(func(v *Visit) { v.Date = "2031-02-29" })),
		"days in the wrong order":         forged(t, with(func(v *Visit) { v.Date = "2031-08-15/2031-08-14" })),
		"settings that are none":          forged(t, with(func(v *Visit) { v.Settings = "{" })),
		"settings that are a list":        forged(t, with(func(v *Visit) { v.Settings = "[]" })),
		"a file without a name":           forged(t, with(func(v *Visit) { v.Files[0].Name = "" })),
		"a file elsewhere":                forged(t, with(func(v *Visit) { v.Files[0].Name = "../week.csv" })),
		"a zone without an area":          forged(t, with(nil), "INSERT INTO geocoris.zones (geom, visit_id, area_ha) SELECT geom, VISIT, 'NaN' FROM geocoris.fields"),
		"a stop with endless counts":      forged(t, with(nil), "INSERT INTO geocoris.stops (geom, visit_id, value) VALUES ('SRID=4326;POINT(1 1)', VISIT, '-Infinity')"),
		"a field with a place of no text": "INSERT INTO geocoris.fields (geom, name) SELECT ST_SetSRID(ST_Multi(ST_MakePolygon(ST_MakeLine(ARRAY[ST_Point(0, 0), ST_Point('NaN', 1), ST_Point(1, 1), ST_Point(0, 0)]))), 4326), 'Odd'",
		"a treatment of no such day":      "INSERT INTO geocoris.records (geom, date, note, reentry_hours, sha256) SELECT " + field + ", d, '', 0, encode(sha256(geocoris.sum_of(d, '', '0') || geocoris.with_length(geocoris.as_in_file(" + field + "))), 'hex') FROM (VALUES ('2031-02-29')) AS day (d)",
	} {
		_, err := server.QueryAs(login, database, statements)
		if assert.Error(t, err, what) {
			assert.Regexp(t, "23514|42501", err.Error(), what)
		}
	}
	lines, err := owner.List()
	require.NoError(t, err)
	require.Len(t, lines, 1)
	for _, v := range []Visit{with(nil), with(func(v *Visit) { v.Date, v.Settings = "2031-08-14/2031-08-16", `{"x":1}` })} {
		_, err = server.QueryAs(login, database, forged(t, v))
		require.NoError(t, err)
		lines, err = owner.List()
		require.NoError(t, err)
		got, err := owner.Visit(lines[len(lines)-1].ID)
		require.NoError(t, err)
		assert.Equal(t, v.Files, got.Files)
	}

	_, err = server.QueryAs("postgres", database, forged(t, same))
	require.NoError(t, err, "nothing binds the owner")
	file, err := OpenToAdd(filepath.Join(t.TempDir(), "s.gpkg"))
	require.NoError(t, err)
	defer file.Close()
	copied, err := Copy(owner, file)
	require.NoError(t, err)
	assert.Equal(t, Copied{Visits: 3, Known: 1}, copied, "the same counts once")
}
