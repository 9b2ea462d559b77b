//go:build !js && !nosqlite

package geofile

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"modernc.org/sqlite" // its driver is what database/sql opens
	sqlite3 "modernc.org/sqlite/lib"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/sorted"
)

// Formats are what is read, for messages.
const Formats = "GeoJSON, KML, KMZ, GPX, a Shapefile or a GeoPackage"

// decodeGeoPackage reads every table of features of an OGC GeoPackage (12-128r19).
// The database is read from a copy of its own, so nothing is written beside the
// file; what a program left unfinished beside it, [checkPending] refuses. Only tables
// are read, and of them what is stored: so a file decides about its rows but not
// about what work they are.
func decodeGeoPackage(data []byte, limits Limits) (c Collection, err error) {
	defer func() {
		if r := recover(); r != nil { // the engine is a translation of C, and files are anybody's
			c, err = Collection{}, &Error{Msg: fmt.Sprintf("is no GeoPackage that can be read: %v", r)}
		}
	}()
	dir, err := os.MkdirTemp("", "geocoris-*")
	if err != nil {
		return Collection{}, err
	}
	defer os.RemoveAll(dir)
	copied := filepath.Join(dir, "copy.gpkg")
	if err := os.WriteFile(copied, data, 0o600); err != nil {
		return Collection{}, err
	}
	db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", Path: copied, RawQuery: "immutable=1&mode=ro&_pragma=trusted_schema(0)&_pragma=ignore_check_constraints(1)"}).String())
	if err != nil {
		return Collection{}, err
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), gpkgPatience)
	defer cancel()
	conn, err := db.Conn(ctx)
	if err != nil {
		return Collection{}, unreadable(err)
	}
	defer conn.Close()
	if _, err := sqlite.Limit(conn, sqlite3.SQLITE_LIMIT_LENGTH, int(min(limits.Bytes, math.MaxInt32))); err != nil {
		return Collection{}, err
	}
	g := gpkgReader{ctx: ctx, conn: conn, limits: limits, cells: spareCells + len(data), bytes: limits.Bytes}
	if err := g.tables(); err != nil {
		return Collection{}, err
	}
	return Collection{Features: g.features, Notes: g.notes}, nil
}

const (
	// gpkgPatience bounds the time that a file may take: the pages of a broken one
	// can lead in circles. One of the largest that the limits let pass takes seconds.
	gpkgPatience = time.Minute
	// spareCells is how many cells may come without a byte of the file for each, as
	// those of columns that were added later and are blank in the rows before.
	spareCells = 100_000
	mostLayers = 1000
)

type gpkgReader struct {
	ctx      context.Context
	conn     *sql.Conn
	limits   Limits
	features []geo.Feature
	notes    []string
	vertices int
	cells    int   // that may still come
	bytes    int64 // of text and binary that may still come
}

func unreadable(err error) error {
	return &Error{Msg: "is no GeoPackage that can be read: " + err.Error(), Hint: "save it anew"}
}

// layer is a table of features.
type layer struct {
	table, column string
	system        int64
}

func (g *gpkgReader) tables() error {
	for _, name := range []string{"gpkg_geometry_columns", "gpkg_spatial_ref_sys"} {
		if err := g.checkTable(name); err != nil {
			return err
		}
	}
	layers, err := collected(g, "SELECT table_name, column_name, srs_id FROM gpkg_geometry_columns", func(r *sql.Rows) (l layer, err error) {
		return l, r.Scan(&l.table, &l.column, &l.system)
	})
	if err != nil {
		return err
	}
	systems, err := g.systems()
	if err != nil {
		return err
	}
	sorted.Stably(layers, func(a, b layer) int { return strings.Compare(a.table, b.table) })
	read := false
	for i, l := range layers {
		if i > 0 && l.table == layers[i-1].table {
			return &Error{Msg: fmt.Sprintf("names the table %q twice", l.table), Hint: "save it anew"}
		}
		name, known := systems[l.system]
		if !known {
			g.notes = append(g.notes, fmt.Sprintf("the reference system of %q is not given; left out", l.table))
			continue
		}
		read = true
		if err := g.table(l, name); err != nil {
			return err
		}
	}
	if !read {
		return &Error{Msg: "holds no table of features"}
	}
	return nil
}

// systems are the names of the reference systems by their numbers.
func (g *gpkgReader) systems() (map[int64]string, error) {
	type reference struct {
		id   int64
		name string
	}
	all, err := collected(g, "SELECT srs_id, organization, organization_coordsys_id FROM gpkg_spatial_ref_sys", func(r *sql.Rows) (reference, error) {
		var id, code int64
		var organization string
		err := r.Scan(&id, &organization, &code)
		return reference{id, fmt.Sprintf("%s:%d", organization, code)}, err
	})
	systems := map[int64]string{}
	for _, s := range all {
		systems[s.id] = s.name
	}
	return systems, err
}

// collected are the rows of a table of GeoPackage's own.
func collected[T any](g *gpkgReader, query string, scan func(*sql.Rows) (T, error)) (all []T, err error) {
	rows, err := g.conn.QueryContext(g.ctx, query)
	if err != nil {
		return nil, unreadable(err)
	}
	defer rows.Close()
	for rows.Next() {
		if len(all) >= 10*mostLayers {
			return nil, &Error{Msg: fmt.Sprintf("holds more than %d layers or reference systems", 10*mostLayers)}
		}
		one, err := scan(rows)
		if err != nil {
			return nil, unreadable(err)
		}
		all = append(all, one)
	}
	if err := rows.Err(); err != nil {
		return nil, unreadable(err)
	}
	return all, nil
}

// checkTable refuses what is no table with rows of its own: a view works out its
// rows as they are read, without end if it is made so.
func (g *gpkgReader) checkTable(name string) error {
	var kind string
	err := g.conn.QueryRowContext(g.ctx, "SELECT type FROM pragma_table_list(?) WHERE schema = 'main'", name).Scan(&kind)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return unreadable(fmt.Errorf("no such table: %s", name))
	case err != nil:
		return unreadable(err)
	case kind != "table":
		return &Error{Msg: fmt.Sprintf("%q in it is a %s, and only tables are read", name, kind), Hint: "save the layer as a table of its own"}
	}
	return nil
}

// A storedColumn is a column whose values stand in the rows of its table.
type storedColumn struct{ name, kind string }

// wanted is the column as it is asked for. Dates and times are asked for as values
// (a sign before them changes no text), since the driver takes columns of their kind
// apart, and what it makes of them no longer tells a day from its midnight, nor
// whether a time gave its zone.
func (c storedColumn) wanted() string {
	switch strings.ToUpper(c.kind) {
	case "DATE", "DATETIME", "TIMESTAMP":
		return "+" + quoteIdentifier(c.name)
	}
	return quoteIdentifier(c.name)
}

// stored are the columns of a table that stand in its rows; those that are worked
// out as they are read are left out, with a note.
func (g *gpkgReader) stored(table string) (columns []storedColumn, computed bool, err error) {
	const atReading, atWriting = 2, 3 // as table_xinfo counts
	rows, err := g.conn.QueryContext(g.ctx, "SELECT name, type, hidden FROM pragma_table_xinfo(?)", table)
	if err != nil {
		return nil, false, unreadable(err)
	}
	defer rows.Close()
	for rows.Next() {
		var c storedColumn
		var hidden int
		if err := rows.Scan(&c.name, &c.kind, &hidden); err != nil {
			return nil, false, unreadable(err)
		}
		computed = computed || hidden == atReading || hidden == atWriting
		if hidden == atReading {
			g.notes = append(g.notes, fmt.Sprintf("column %q of %q is not stored but worked out; left out", c.name, table))
			continue
		}
		columns = append(columns, c)
	}
	if err := rows.Err(); err != nil {
		return nil, false, unreadable(err)
	}
	return columns, computed, nil
}

// checkPages looks through the pages of a table for damage, by which rows would be
// missing without a word: every byte of a page is accounted for, and every page once.
// What stands in the rows has no checksum in this format. A table with columns that
// are worked out is not looked through, as that would work them out.
func (g *gpkgReader) checkPages(table string) error {
	var found string
	if err := g.conn.QueryRowContext(g.ctx, "PRAGMA quick_check("+quoteIdentifier(table)+")").Scan(&found); err != nil {
		return unreadable(err)
	}
	if found != "ok" {
		return &Error{Msg: fmt.Sprintf("is damaged: %s", found), Hint: "fetch the file again; rows of it may be missing"}
	}
	return nil
}

func (g *gpkgReader) table(l layer, name string) error {
	in, err := systemNamed(name)
	if err != nil {
		return err
	}
	g.note(in.note)
	if err := g.checkTable(l.table); err != nil {
		return err
	}
	columns, computed, err := g.stored(l.table)
	if err != nil {
		return err
	}
	if !computed {
		if err := g.checkPages(l.table); err != nil {
			return err
		}
	}
	names := make([]string, len(columns))
	wanted := make([]string, len(columns))
	for i, c := range columns {
		names[i], wanted[i] = c.name, c.wanted()
	}
	rows, err := g.conn.QueryContext(g.ctx, "SELECT "+strings.Join(wanted, ", ")+" FROM "+quoteIdentifier(l.table))
	if err != nil {
		return unreadable(err)
	}
	defer rows.Close()
	values := make([]any, len(names))
	cells := make([]any, len(names))
	for i := range values {
		cells[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(cells...); err != nil {
			return unreadable(err)
		}
		if err := g.row(l, in.system, names, values); err != nil {
			err.Feature = len(g.features) + 1
			return err
		}
	}
	if err := rows.Err(); err != nil {
		return unreadable(err)
	}
	return nil
}

// charge counts what a row takes of the machine's memory.
func (g *gpkgReader) charge(values []any) *Error {
	for _, v := range values {
		switch v := v.(type) {
		case string:
			g.bytes -= int64(len(v))
		case []byte:
			g.bytes -= int64(len(v))
		}
	}
	if g.bytes < 0 {
		return &Error{Msg: "its rows hold more than " + size(g.limits.Bytes)}
	}
	if g.cells -= len(values); g.cells < 0 {
		return &Error{Msg: "its rows hold more cells than the file has bytes"}
	}
	return nil
}

func quoteIdentifier(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

func (g *gpkgReader) row(l layer, sys system, names []string, values []any) *Error {
	if len(g.features) >= g.limits.Features {
		return &Error{Msg: fmt.Sprintf("more than %d features", g.limits.Features)}
	}
	if err := g.charge(values); err != nil {
		return err
	}
	f := geo.Feature{Properties: make(geo.Properties, 0, len(names))}
	for i, name := range names {
		blob, isBlob := values[i].([]byte)
		switch {
		case strings.EqualFold(name, l.column):
			if isBlob {
				shape, err := g.geometry(blob)
				if err != nil {
					return err
				}
				if f.Geometry, err = sys.reproject(shape); err != nil {
					return err
				}
			}
		case !isBlob:
			f.Properties = append(f.Properties, geo.Property{Name: name, Value: gpkgValue(values[i])})
		}
	}
	g.features = append(g.features, f)
	return nil
}

// gpkgValue keeps what a property may be; times come as text.
func gpkgValue(v any) any {
	switch v := v.(type) {
	case nil, bool, int64, string:
		return v
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
		return v
	}
	return fmt.Sprint(v)
}

// geometry takes the header off (12-128r19 §2.1.3) and reads what follows, which
// is well-known binary.
func (g *gpkgReader) geometry(blob []byte) (orb.Geometry, *Error) {
	if len(blob) < 8 || blob[0] != 'G' || blob[1] != 'P' {
		return nil, &Error{Msg: "a geometry without the header of a GeoPackage"}
	}
	flags := blob[3]
	envelope := map[byte]int{0: 0, 1: 32, 2: 48, 3: 48, 4: 64}[flags>>1&7]
	body := blob[8:]
	if envelope > len(body) {
		return nil, &Error{Msg: "a geometry that breaks off"}
	}
	body = body[envelope:]
	if flags>>4&1 == 1 { // empty
		return nil, nil
	}
	if len(body) >= 5 && !flat(body) {
		g.note("heights and measures passed over")
	}
	if g.vertices += len(body) / 16; g.vertices > g.limits.Vertices {
		return nil, &Error{Msg: fmt.Sprintf("more than %d positions", g.limits.Vertices)}
	}
	shape, err := DecodeWKB(body, g.limits)
	if err != nil {
		return nil, &Error{Msg: "a geometry that cannot be read: " + err.Error()}
	}
	if err := checkRings(shape); err != nil {
		return nil, err
	}
	return shape, nil
}

// note keeps a line once.
func (g *gpkgReader) note(line string) {
	if line != "" && !slices.Contains(g.notes, line) {
		g.notes = append(g.notes, line)
	}
}

// flat reports whether well-known binary is of two dimensions.
func flat(body []byte) bool {
	order := binary.ByteOrder(binary.BigEndian)
	if body[0] == 1 {
		order = binary.LittleEndian
	}
	return order.Uint32(body[1:]) < 1000
}

// checkRings holds the rings of polygons to what they must be.
func checkRings(g orb.Geometry) *Error {
	switch g := g.(type) {
	case orb.Polygon:
		for _, r := range g {
			if err := checkRing(r); err != nil {
				return err
			}
		}
	case orb.MultiPolygon:
		for _, p := range g {
			if err := checkRings(p); err != nil {
				return err
			}
		}
	case orb.Collection:
		for _, part := range g {
			if err := checkRings(part); err != nil {
				return err
			}
		}
	}
	return nil
}
