package geofile_test

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// nested is a point within so many collections.
func nested(levels int) []byte {
	collection := append([]byte{1}, binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(nil, 7), 1)...)
	return append(bytes.Repeat(collection, levels), wkb.MustMarshal(orb.Point{1, 2}, binary.LittleEndian)...)
}

func TestNestingOfWellKnownBinaryIsBounded(t *testing.T) {
	g, err := geofile.DecodeWKB(nested(63), geofile.Limits{})
	require.NoError(t, err)
	for range 63 {
		require.Len(t, g, 1)
		g = g.(orb.Collection)[0]
	}
	assert.Equal(t, orb.Point{1, 2}, g)
	for _, levels := range []int{64, 6_000_000} { // as many as 58 MB hold would overflow the stack
		_, err := geofile.DecodeWKB(nested(levels), geofile.Limits{})
		assert.EqualError(t, err, "nested too deep: more than 64 levels")
	}
	data := packageOf(t, `CREATE TABLE t (geom BLOB)`)
	_, err = geofile.Decode("f.gpkg", bytes.NewReader(data(`INSERT INTO t VALUES (?)`, gpkgBlob(nested(1_000_000)))), geofile.Limits{})
	assert.ErrorContains(t, err, "nested too deep")
}

func TestBrokenWellKnownBinary(t *testing.T) {
	for _, g := range []orb.Geometry{
		orb.Point{1, 2}, orb.MultiPoint{{1, 2}, {3, 4}}, orb.LineString{{1, 2}, {3, 4}}, orb.MultiLineString{{{1, 2}, {3, 4}}},
		orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}, orb.Collection{orb.Point{1, 2}, orb.LineString{}},
	} {
		for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
			data := wkb.MustMarshal(g, order)
			got, err := geofile.DecodeWKB(data, geofile.Limits{})
			require.NoError(t, err)
			assert.Equal(t, g, got)
			for cut := range data {
				_, err := geofile.DecodeWKB(data[:cut], geofile.Limits{})
				assert.Error(t, err)
			}
		}
	}
	_, err := geofile.DecodeWKB(wkb.MustMarshal(orb.MultiPoint{{1, 2}, {3, 4}}), geofile.Limits{Vertices: 1})
	assert.EqualError(t, err, "too many positions")
	_, err = geofile.DecodeWKB([]byte{1, 99, 0, 0, 0, 0, 0, 0, 0}, geofile.Limits{})
	assert.EqualError(t, err, "99 is no type of geometry that is read")
}

func gpkgBlob(body []byte) []byte { return append([]byte{'G', 'P', 0, 1, 0xE6, 0x10, 0, 0}, body...) }

// packageOf makes GeoPackages whose only layer is t, of the given statements and one
// more.
func packageOf(t testing.TB, statements ...string) func(last string, args ...any) []byte {
	return func(last string, args ...any) []byte {
		path := filepath.Join(t.TempDir(), "made.gpkg")
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		db.SetMaxOpenConns(1)
		for _, s := range append([]string{
			`PRAGMA synchronous = OFF`, `PRAGMA journal_mode = OFF`, // nobody pulls the plug
			`CREATE TABLE gpkg_spatial_ref_sys (srs_id INTEGER, organization TEXT, organization_coordsys_id INTEGER)`,
			`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, srs_id INTEGER)`,
			`INSERT INTO gpkg_spatial_ref_sys VALUES (4326, 'EPSG', 4326)`,
			`INSERT INTO gpkg_geometry_columns VALUES ('t', 'geom', 4326)`}, statements...) {
			_, err := db.Exec(s)
			require.NoError(t, err, s)
		}
		if last != "" {
			_, err = db.Exec(last, args...)
			require.NoError(t, err, last)
		}
		require.NoError(t, db.Close())
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		return data
	}
}

// However a small GeoPackage is made, reading it comes to an end soon and leaves
// little behind.
func TestSmallPackagesStaySmall(t *testing.T) {
	const endless = `WITH RECURSIVE n(geom) AS (SELECT NULL UNION ALL SELECT NULL FROM n) SELECT geom, NULL name FROM n`
	many := strings.Repeat("(NULL),", 4999) + "(NULL)"
	var added []string
	for i := range 500 {
		added = append(added, fmt.Sprintf("ALTER TABLE t ADD COLUMN a%d", i))
	}
	for name, c := range map[string]struct {
		statements []string
		want       string // "" where it is read
	}{
		"a view":               {[]string{`CREATE VIEW t AS SELECT NULL geom, hex(zeroblob(500000)) name FROM gpkg_spatial_ref_sys`}, `"t" in it is a view, and only tables are read`},
		"a view without end":   {[]string{`CREATE VIEW t AS ` + endless}, `"t" in it is a view`},
		"a list of layers":     {[]string{`DROP TABLE gpkg_geometry_columns`, `CREATE VIEW gpkg_geometry_columns AS ` + endless}, `"gpkg_geometry_columns" in it is a view`},
		"a list of systems":    {[]string{`DROP TABLE gpkg_spatial_ref_sys`, `CREATE VIEW gpkg_spatial_ref_sys AS ` + endless}, `"gpkg_spatial_ref_sys" in it is a view`},
		"a view said a table":  {[]string{`CREATE VIEW t AS ` + endless, `PRAGMA writable_schema = 1`, `UPDATE sqlite_master SET type = 'table' WHERE name = 't'`}, "malformed database schema"},
		"a view with a page":   {[]string{`CREATE VIEW t AS ` + endless, `PRAGMA writable_schema = 1`, `UPDATE sqlite_master SET type = 'table', rootpage = 2 WHERE name = 't'`}, "malformed database schema"},
		"a virtual table":      {[]string{`CREATE VIRTUAL TABLE t USING fts5(geom)`}, "is a virtual, and only tables are read"},
		"computed columns":     {[]string{`CREATE TABLE t (geom, name AS (hex(zeroblob(1000000))))`, `INSERT INTO t (geom) VALUES ` + many}, ""},
		"columns added later":  {append([]string{`CREATE TABLE t (geom)`, `INSERT INTO t VALUES ` + many}, added...), "its rows hold more cells than the file has bytes"},
		"text added later":     {[]string{`CREATE TABLE t (geom)`, `INSERT INTO t VALUES ` + many, `ALTER TABLE t ADD COLUMN a TEXT DEFAULT '` + strings.Repeat("x", 50000) + `'`}, "its rows hold more than 64 MiB"},
		"a layer named twice":  {[]string{`CREATE TABLE t (geom)`, `INSERT INTO gpkg_geometry_columns VALUES ('t', 'geom', 4326)`}, `names the table "t" twice`},
		"no table of the name": {nil, "no such table: t"},
		"many layers":          {[]string{`CREATE TABLE t (geom)`, `WITH RECURSIVE n(i) AS (VALUES (1) UNION ALL SELECT i + 1 FROM n WHERE i < 20000) INSERT INTO gpkg_geometry_columns SELECT 't' || i, 'geom', 4326 FROM n`}, "holds more than 10000 layers"},
		"triggers":             {[]string{`CREATE TABLE t (geom, name TEXT)`, `CREATE TRIGGER tr AFTER INSERT ON t BEGIN SELECT hex(zeroblob(10000000)); END`, `INSERT INTO t VALUES (NULL, 'x')`}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			data := packageOf(t, c.statements...)("")
			require.Less(t, len(data), 2*mebibyte)
			began := testkit.Worked(os.Getpid())
			var err error
			took := retained(func() any {
				var collection geofile.Collection
				collection, err = geofile.Decode("f.gpkg", bytes.NewReader(data), geofile.Limits{})
				return collection
			})
			assert.Less(t, testkit.Worked(os.Getpid())-began, 30*time.Second, "of the processors")
			assert.LessOrEqual(t, took, int64(16*mebibyte), "%d MiB", took/mebibyte)
			if c.want == "" {
				assert.NoError(t, err)
				return
			}
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// A column that is stored is read though it was worked out once.
func TestComputedColumns(t *testing.T) {
	data := packageOf(t, `CREATE TABLE t (geom, n INTEGER, twice AS (2 * n), thrice AS (3 * n) STORED)`)(`INSERT INTO t (n) VALUES (4)`)
	c, err := geofile.Decode("f.gpkg", bytes.NewReader(data), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 1)
	_, has := c.Features[0].Properties.Get("twice")
	assert.False(t, has)
	v, _ := c.Features[0].Properties.Get("thrice")
	assert.Equal(t, int64(12), v)
	assert.Equal(t, []string{`column "twice" of "t" is not stored but worked out; left out`}, c.Notes)
}
