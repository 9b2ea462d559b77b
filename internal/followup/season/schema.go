//go:build !js && !nosqlite

package season

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

var layersOfFormat5 = [...]layer{
	{"verdicts", "MULTIPOLYGON", "what was advised when added", `CREATE TABLE verdicts (id INTEGER PRIMARY KEY, geom MULTIPOLYGON NOT NULL, visit_id INTEGER NOT NULL REFERENCES visits(id), field TEXT, date TEXT, pest TEXT, verdict TEXT, advice TEXT, look_again TEXT, good_until TEXT, if_not_today TEXT, not_read TEXT, area_ha DOUBLE, threshold DOUBLE)`},
}

var layersOfFormat6 = [...]layer{
	{"corrections", "", "which visits others took the place of, so that an older copy does not bring them back", `CREATE TABLE corrections (id INTEGER PRIMARY KEY, digest TEXT NOT NULL, times INTEGER NOT NULL, by_digest TEXT NOT NULL, sha256 TEXT NOT NULL)`},
}

// parts are the tables that hold what belongs to a visit.
var parts = [...]string{"files", "settings_files", "visit_fields", "stops", "zones", "verdicts"}

// fieldColumns are what is known of a field at a visit, and the digest of all of it with
// the boundary; "" for nothing.
var fieldColumns = [...]string{"customer", "farm", "rows", "grower", "sha256"}

// columnsOfFormat4 are added to tables of earlier formats; "" in the rows that were there.
var columnsOfFormat4 = [...]struct {
	table   string
	columns []string
}{{"visit_fields", fieldColumns[:]}, {"visits", []string{"sha256"}}, {"records", []string{"sha256"}}}

// fieldsByZones are visits and fields as their zones tell, which is all that formats
// before 3 know: a field that was not scouted at a visit is not among them. A visit
// whose zones name none is taken to have had all fields.
const fieldsByZones = `SELECT visits.id AS visit_id, fields.id AS field_id FROM visits, fields
  WHERE EXISTS (SELECT 1 FROM zones WHERE zones.visit_id = visits.id AND zones.field = fields.name)
  OR NOT EXISTS (SELECT 1 FROM zones JOIN fields AS any_field ON any_field.name = zones.field WHERE zones.visit_id = visits.id)
  ORDER BY visits.id, fields.id`
