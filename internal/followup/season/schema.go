//go:build !js && !nosqlite

package season

// GeoPackage 1.3: application id "GPKG", version 10300 (OGC 12-128r17, 1.1.1.1.1).
const (
	applicationID = 0x47504B47
	gpkgVersion   = 10300
)

const wgs84 = `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]]`

// coreTables are those of OGC 12-128r17, annex C.
const coreTables = `
CREATE TABLE gpkg_spatial_ref_sys (
  srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (
  table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE, description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (
  table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL,
  z TINYINT NOT NULL, m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
`

// layer is one of our tables.
type layer struct {
	name, geometry, what string // geometry "" is a table without
	ddl                  string
}

var layersOfFormat1 = [...]layer{
	{"season", "", "what the file is", `CREATE TABLE season (id INTEGER PRIMARY KEY, key TEXT NOT NULL UNIQUE, value TEXT NOT NULL)`},
	{"fields", "MULTIPOLYGON", "field boundaries", `CREATE TABLE fields (id INTEGER PRIMARY KEY, geom MULTIPOLYGON NOT NULL, name TEXT NOT NULL UNIQUE)`},
	{"visits", "", "visits with the settings they were added with", `CREATE TABLE visits (id INTEGER PRIMARY KEY, date TEXT NOT NULL, pest TEXT NOT NULL, unit TEXT NOT NULL, settings TEXT NOT NULL, digest TEXT NOT NULL UNIQUE)`},
	{"files", "", "counts as they came in, byte for byte", `CREATE TABLE files (id INTEGER PRIMARY KEY, visit_id INTEGER NOT NULL REFERENCES visits(id), name TEXT NOT NULL, sha256 TEXT NOT NULL, content BLOB NOT NULL)`},
	{"stops", "POINT", "stops as they were when added", `CREATE TABLE stops (id INTEGER PRIMARY KEY, geom POINT NOT NULL, visit_id INTEGER NOT NULL REFERENCES visits(id), stop TEXT, field TEXT, date TEXT, pest TEXT, unit TEXT, value DOUBLE, count DOUBLE, leaves DOUBLE, zone TEXT, observer TEXT, stage TEXT, rows TEXT)`},
	{"zones", "MULTIPOLYGON", "zones as they were when added", `CREATE TABLE zones (id INTEGER PRIMARY KEY, geom MULTIPOLYGON NOT NULL, visit_id INTEGER NOT NULL REFERENCES visits(id), zone TEXT, field TEXT, date TEXT, pest TEXT, unit TEXT, area_ha DOUBLE, area_ac DOUBLE, share DOUBLE, mean DOUBLE, max DOUBLE, stops INTEGER, cut DOUBLE, threshold DOUBLE, trust TEXT)`},
}

var layersOfFormat2 = [...]layer{
	{"records", "MULTIPOLYGON", "treatments", `CREATE TABLE records (id INTEGER PRIMARY KEY, geom MULTIPOLYGON NOT NULL, date TEXT NOT NULL, note TEXT NOT NULL, reentry_hours DOUBLE NOT NULL)`},
}

var layersOfFormat3 = [...]layer{
	{"visit_fields", "", "the fields that each visit was assessed with", `CREATE TABLE visit_fields (id INTEGER PRIMARY KEY, visit_id INTEGER NOT NULL REFERENCES visits(id), field_id INTEGER NOT NULL REFERENCES fields(id))`},
	{"settings_files", "", "files that the settings of visits name, byte for byte", `CREATE TABLE settings_files (id INTEGER PRIMARY KEY, visit_id INTEGER NOT NULL REFERENCES visits(id), setting TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, content BLOB NOT NULL)`},
}

// fieldsByZones are visits and fields as their zones tell, which is all that formats
// before 3 know: a field that was not scouted at a visit is not among them. A visit
// whose zones name none is taken to have had all fields.
const fieldsByZones = `SELECT visits.id AS visit_id, fields.id AS field_id FROM visits, fields
  WHERE EXISTS (SELECT 1 FROM zones WHERE zones.visit_id = visits.id AND zones.field = fields.name)
  OR NOT EXISTS (SELECT 1 FROM zones JOIN fields AS any_field ON any_field.name = zones.field WHERE zones.visit_id = visits.id)
  ORDER BY visits.id, fields.id`
