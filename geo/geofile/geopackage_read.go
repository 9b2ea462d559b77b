package geofile

import (
	"database/sql"
	"encoding/binary"
	"fmt"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	_ "modernc.org/sqlite" // the driver that database/sql opens

	"github.com/geocoris/geocoris/geo"
)

// decodeGeoPackage reads every table of features of an OGC GeoPackage (12-128r19).
// The database is read from a copy of its own, so nothing is written beside the
// file and what a program left unfinished in it cannot do harm.
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
	db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", Path: copied, RawQuery: "immutable=1&mode=ro"}).String())
	if err != nil {
		return Collection{}, err
	}
	defer db.Close()
	g := gpkgReader{db: db, limits: limits}
	if err := g.tables(); err != nil {
		return Collection{}, err
	}
	return Collection{Features: g.features, Notes: g.notes}, nil
}

type gpkgReader struct {
	db       *sql.DB
	limits   Limits
	features []geo.Feature
	notes    []string
	vertices int
}

func unreadable(err error) error {
	return &Error{Msg: "is no GeoPackage that can be read: " + err.Error(), Hint: "save it anew"}
}

// layer is a table of features.
type layer struct {
	table, column, organization string
	code                        int64
}

func (g *gpkgReader) tables() error {
	rows, err := g.db.Query(`SELECT c.table_name, c.column_name, s.organization, s.organization_coordsys_id
		FROM gpkg_geometry_columns c JOIN gpkg_spatial_ref_sys s ON s.srs_id = c.srs_id ORDER BY c.table_name`)
	if err != nil {
		return unreadable(err)
	}
	defer rows.Close()
	var layers []layer
	for rows.Next() {
		var l layer
		if err := rows.Scan(&l.table, &l.column, &l.organization, &l.code); err != nil {
			return unreadable(err)
		}
		layers = append(layers, l)
	}
	if err := rows.Err(); err != nil {
		return unreadable(err)
	}
	if len(layers) == 0 {
		return &Error{Msg: "holds no table of features"}
	}
	for _, l := range layers {
		if err := g.table(l); err != nil {
			return err
		}
	}
	return nil
}

func (g *gpkgReader) table(l layer) error {
	sys, err := systemNamed(fmt.Sprintf("%s:%d", l.organization, l.code))
	if err != nil {
		return err
	}
	rows, err := g.db.Query("SELECT * FROM " + quoteIdentifier(l.table))
	if err != nil {
		return unreadable(err)
	}
	defer rows.Close()
	names, err := rows.Columns()
	if err != nil {
		return unreadable(err)
	}
	for rows.Next() {
		values := make([]any, len(names))
		cells := make([]any, len(names))
		for i := range values {
			cells[i] = &values[i]
		}
		if err := rows.Scan(cells...); err != nil {
			return unreadable(err)
		}
		if err := g.row(l, sys, names, values); err != nil {
			err.Feature = len(g.features) + 1
			return err
		}
	}
	if err := rows.Err(); err != nil {
		return unreadable(err)
	}
	return nil
}

func quoteIdentifier(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

func (g *gpkgReader) row(l layer, sys system, names []string, values []any) *Error {
	if len(g.features) >= g.limits.Features {
		return &Error{Msg: fmt.Sprintf("more than %d features", g.limits.Features)}
	}
	var f geo.Feature
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
		return nil, &Error{Msg: "a geometry with heights or measures, which are not read from a GeoPackage", Hint: "save it as plain two-dimensional"}
	}
	if g.vertices += len(body) / 16; g.vertices > g.limits.Vertices {
		return nil, &Error{Msg: fmt.Sprintf("more than %d positions", g.limits.Vertices)}
	}
	shape, err := wkb.Unmarshal(body)
	if err != nil {
		return nil, &Error{Msg: "a geometry that cannot be read: " + err.Error()}
	}
	if err := checkRings(shape); err != nil {
		return nil, err
	}
	return shape, nil
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
