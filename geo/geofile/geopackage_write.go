//go:build !js && !nosqlite

package geofile

import (
	"context"
	"database/sql"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/gpkg"
)

// WithGeoPackage tells whether this build reads and writes GeoPackages.
const WithGeoPackage = true

// WriteGeoPackage writes OGC GeoPackage 1.3 (12-128r17), a table for each layer
// and no spatial index, which layers of a field do not need; the same bytes on
// every run. Layer names are small letters, digits and underscores; columns are
// the properties that any feature of a layer has, null where one has not. Geometries
// that a reader would refuse are an error.
func WriteGeoPackage(w io.Writer, layers []Layer) (err error) {
	dir, err := os.MkdirTemp("", "geocoris-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "new.gpkg")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	err = fillGeoPackage(db, layers)
	if closed := db.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

func fillGeoPackage(db *sql.DB, layers []Layer) error {
	for _, statement := range gpkg.Marks { // outside of a transaction
		if _, err := db.Exec(statement); err != nil {
			return err
		}
	}
	tx, err := db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() //nolint:errcheck // after a commit there is nothing to undo
	for _, statement := range gpkg.Tables {
		if _, err := tx.Exec(statement); err != nil {
			return err
		}
	}
	for _, l := range layers {
		if err := addLayer(tx, l); err != nil {
			return fmt.Errorf("GeoPackage layer %s: %w", l.Name, err)
		}
	}
	return tx.Commit()
}

func layerName() *regexp.Regexp { return regexp.MustCompile(`^[a-z][a-z0-9_]{0,28}$`) }

func addLayer(tx *sql.Tx, l Layer) error {
	if !layerName().MatchString(l.Name) || strings.HasPrefix(l.Name, "gpkg_") {
		return fmt.Errorf("%q cannot name a layer: want small letters, digits, underscores", l.Name)
	}
	columns, err := gpkgColumns(l.Features)
	if err != nil {
		return err
	}
	kind, box, err := gpkgKind(l.Features)
	if err != nil {
		return err
	}
	changed := "1900-01-01T00:00:00.000Z"
	if l.Date != "" {
		changed = l.Date + "T00:00:00.000Z"
	}
	create := fmt.Sprintf(`CREATE TABLE "%s" (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom %s%s)`, l.Name, kind, columns.declared)
	if _, err := tx.Exec(create); err != nil {
		return err
	}
	if _, err := tx.Exec(`INSERT INTO gpkg_contents VALUES (?, 'features', ?, '', ?, ?, ?, ?, ?, 4326)`,
		l.Name, l.Name, changed, box.Min[0], box.Min[1], box.Max[0], box.Max[1]); err != nil {
		return err
	}
	if _, err := tx.Exec(`INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, 4326, 0, 0)`, l.Name, kind); err != nil {
		return err
	}
	insert := fmt.Sprintf(`INSERT INTO "%s" (geom%s) VALUES (?%s)`, l.Name, columns.named, strings.Repeat(", ?", len(columns.names)))
	for i, f := range l.Features {
		blob, err := gpkgBlob(f.Geometry)
		if err != nil {
			return &Error{File: "GeoPackage", Feature: i + 1, Msg: err.Error()}
		}
		row := []any{blob}
		for _, name := range columns.names {
			v, _ := f.Properties.Get(name)
			row = append(row, v)
		}
		if _, err := tx.Exec(insert, row...); err != nil {
			return err
		}
	}
	return nil
}

// gpkgTable is the columns of a layer, as SQL wants them.
type gpkgTable struct {
	names           []string
	declared, named string
}

// gpkgColumns are the properties of all features, those of the first one in front.
func gpkgColumns(features []geo.Feature) (t gpkgTable, err error) {
	kinds := map[string]string{}
	for i, f := range features {
		if err := checkNames(f.Properties, nil); err != nil {
			return t, &Error{File: "GeoPackage", Feature: i + 1, Msg: err.Error()}
		}
		for _, p := range f.Properties {
			kind, known := kinds[p.Name]
			if !known {
				if !layerName().MatchString(p.Name) || p.Name == "fid" || p.Name == "geom" {
					return t, fmt.Errorf("%q cannot name a column: want small letters, digits, underscores", p.Name)
				}
				t.names, kind = append(t.names, p.Name), "TEXT"
			}
			switch p.Value.(type) {
			case float64:
				kind = "DOUBLE"
			case int64:
				kind = "INTEGER"
			case bool:
				kind = "BOOLEAN"
			}
			kinds[p.Name] = kind
		}
	}
	for _, name := range t.names {
		t.declared += fmt.Sprintf(`, "%s" %s`, name, kinds[name])
		t.named += fmt.Sprintf(`, "%s"`, name)
	}
	return t, nil
}

// gpkgKind names the geometry type that all features have, and their box.
func gpkgKind(features []geo.Feature) (kind string, box orb.Bound, err error) {
	kind = "GEOMETRY"
	for i, f := range features {
		if f.Geometry == nil {
			return "", box, fmt.Errorf("feature %d has no geometry", i+1)
		}
		if err := checkGeometry(f.Geometry); err != nil {
			err.File, err.Feature = "GeoPackage", i+1
			return "", box, err
		}
		if this := strings.ToUpper(f.Geometry.GeoJSONType()); i == 0 {
			kind, box = this, f.Geometry.Bound()
		} else if this != kind {
			kind = "GEOMETRY"
		}
		box = box.Union(f.Geometry.Bound())
	}
	return kind, box, nil
}

// gpkgBlob is a geometry with the header of 12-128r17 §2.1.3: little-endian,
// with an envelope of x and y.
func gpkgBlob(g orb.Geometry) ([]byte, error) {
	const littleWithEnvelope, wgs84 = 0x03, 4326
	g = roundedGeometry(g)
	b := []byte{'G', 'P', 0, littleWithEnvelope}
	b = binary.LittleEndian.AppendUint32(b, wgs84)
	box := g.Bound()
	for _, v := range []float64{box.Min[0], box.Max[0], box.Min[1], box.Max[1]} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	body, err := wkb.Marshal(g, binary.LittleEndian)
	return append(b, body...), err
}

// roundedGeometry keeps seven decimals, polygons wound as in GeoJSON.
func roundedGeometry(g orb.Geometry) orb.Geometry {
	switch g := g.(type) {
	case orb.Point:
		return orb.Point{rounded(g[0]), rounded(g[1])}
	case orb.LineString:
		out := make(orb.LineString, len(g))
		for i, p := range g {
			out[i] = orb.Point{rounded(p[0]), rounded(p[1])}
		}
		return out
	case orb.Polygon:
		return geo.Wind(roundedPolygons(orb.MultiPolygon{g}))[0]
	case orb.MultiPolygon:
		return geo.Wind(roundedPolygons(g))
	}
	return g
}
