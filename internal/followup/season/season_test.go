//go:build !js && !nosqlite

package season_test

import (
	"bytes"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// field is invented ground with a hole.
func field(name string, shift float64) geo.Field {
	return geo.Field{Name: name, Boundary: orb.MultiPolygon{{
		{{-101 + shift, 35}, {-100.99 + shift, 35}, {-100.99 + shift, 35.01}, {-101 + shift, 35}},
		{{-100.993 + shift, 35.002}, {-100.992 + shift, 35.004}, {-100.992 + shift, 35.002}, {-100.993 + shift, 35.002}},
	}}}
}

// visit is an invented morning; n makes its counts differ.
func visit(n int) season.Visit {
	f := field("Square", 0)
	return season.Visit{
		Date: fmt.Sprintf("2031-08-%02d", 1+n%28), Pest: "sorghum aphid", Unit: "mean per leaf", Settings: `{"treat-at":40}`,
		Files:         []season.File{{Name: "week.csv", Content: fmt.Appendf(nil, "\xef\xbb\xbfstop;count\r\n%d;1,5\r\n\x00\xff", n)}},
		SettingsFiles: []season.SettingsFile{{Setting: "observers", File: season.File{Name: "observers.json", Content: fmt.Appendf(nil, `{"n":%d}`, n)}}},
		Fields:        []geo.Field{f},
		Stops: []geo.Feature{{Geometry: orb.Point{-100.991, 35.003}, Properties: geo.Properties{
			{Name: "stop", Value: "1"}, {Name: "field", Value: "Square"}, {Name: "value", Value: 1.5}, {Name: "left_out", Value: 3.0},
		}}},
		Zones: []geo.Feature{{Geometry: f.Boundary, Properties: geo.Properties{{Name: "zone", Value: "clear"}, {Name: "area_ha", Value: 5.1}, {Name: "mean", Value: nil}}}},
	}
}

func opened(t testing.TB, path string) *season.Season {
	t.Helper()
	s, err := season.OpenToAdd(path)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

func TestWhatCameInComesOutByteForByte(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season #1 %20?.gpkg") // a name that a URL must not take apart
	s := opened(t, path)
	testkit.Property(t, func(t *rapid.T) {
		v := visit(1)
		v.Settings = rapid.StringMatching(`\{"x":"[a-z]{12}"\}`).Draw(t, "settings")
		v.Files = nil
		for range rapid.IntRange(1, 3).Draw(t, "files") {
			v.Files = append(v.Files, season.File{Name: rapid.String().Draw(t, "name"), Content: rapid.SliceOfN(rapid.Byte(), 0, 300).Draw(t, "content")})
		}
		v.SettingsFiles[0].Content = rapid.SliceOfN(rapid.Byte(), 1, 300).Draw(t, "observers")
		id, err := s.Add(v)
		if err != nil {
			require.ErrorIs(t, err, season.ErrKnown)
		}
		got, err := s.Visit(id)
		require.NoError(t, err)
		require.Len(t, got.Files, len(v.Files))
		for i, f := range v.Files {
			assert.Equal(t, f.Name, got.Files[i].Name)
			assert.True(t, bytes.Equal(f.Content, got.Files[i].Content))
		}
		assert.Equal(t, v.Settings, got.Settings)
		assert.Equal(t, v.SettingsFiles, got.SettingsFiles)
		assert.Equal(t, v.Fields, got.Fields)
	})
	_, err := os.Stat(path)
	assert.NoError(t, err, "the file has the name that was asked for")
}

func TestAddKeepsVisitsApart(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	second, err := s.Add(visit(9))
	require.NoError(t, err)
	first, err := s.Add(visit(2))
	require.NoError(t, err)
	again, err := s.Add(visit(9))
	assert.ErrorIs(t, err, season.ErrKnown)
	assert.Equal(t, second, again, "it says which it is")
	lines, err := s.List()
	require.NoError(t, err)
	require.Len(t, lines, 2)
	assert.Equal(t, []int64{first, second}, []int64{lines[0].ID, lines[1].ID}, "in the order of days")
	assert.Equal(t, []string{"week.csv"}, lines[0].Files)
	assert.Equal(t, 1, lines[0].Stops)
}

// A field that comes in later is none of the visits before.
func TestAVisitKeepsItsFields(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	one, two := field("One", 0), field("Two", 0.05)
	var want [][]geo.Field
	for n, fields := range [][]geo.Field{{one}, {two, one}, {two}} {
		v := visit(n)
		v.Fields = fields
		_, err := s.Add(v)
		require.NoError(t, err)
		want = append(want, fields)
	}
	for i, fields := range want {
		v, err := s.Visit(int64(i + 1))
		require.NoError(t, err)
		assert.Equal(t, fields, v.Fields, "in their order too")
	}
	all, err := s.Fields()
	require.NoError(t, err)
	assert.Equal(t, []geo.Field{one, two}, all)
}

// The same counts with other settings are another visit, and so is the same of other
// names: nothing that makes a result is left out when visits are kept apart.
func TestSettingsTellVisitsApart(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	for name, other := range map[string]func(*season.Visit){
		"first":            func(*season.Visit) {},
		"settings":         func(v *season.Visit) { v.Settings = `{"treat-at":50}` },
		"name of the file": func(v *season.Visit) { v.Files = []season.File{{Name: "other.csv", Content: v.Files[0].Content}} },
		"setting":          func(v *season.Visit) { v.SettingsFiles[0].Setting = "rules" },
	} {
		v := visit(1)
		other(&v)
		id, err := s.Add(v)
		require.NoError(t, err, name)
		again, err := s.Add(v)
		assert.ErrorIs(t, err, season.ErrKnown, name)
		assert.Equal(t, id, again, name)
	}
	lines, err := s.List()
	require.NoError(t, err)
	assert.Len(t, lines, 4)
}

// The same counts corrected by other calibrations are another visit.
func TestFilesOfSettingsTellVisitsApart(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	v := visit(1)
	first, err := s.Add(v)
	require.NoError(t, err)
	v.SettingsFiles = visit(2).SettingsFiles
	second, err := s.Add(v)
	require.NoError(t, err)
	assert.NotEqual(t, first, second)
	_, err = s.Add(v)
	assert.ErrorIs(t, err, season.ErrKnown)
}

func TestATreatmentThatWasChangedIsReported(t *testing.T) {
	for _, change := range []string{`UPDATE records SET date = '2031-08-03'`, `UPDATE records SET reentry_hours = 4`, `UPDATE records SET geom = ` + blobOfTriangle} {
		path := filepath.Join(t.TempDir(), "s.gpkg")
		s := opened(t, path)
		_, err := s.AddRecord(season.Record{Date: "2031-08-20", Ground: field("", 0).Boundary, ReentryHours: 12})
		require.NoError(t, err)
		require.NoError(t, s.Close())
		execute(t, path, change)
		_, err = opened(t, path).Records()
		assert.ErrorContains(t, err, "is not what was stored", change)
	}
}

// One bit of a season is another, in any byte that holds something: it is refused, or what comes out is what
// was stored.
func TestOneBitOfASeason(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	id, err := s.Add(visit(1))
	require.NoError(t, err)
	_, err = s.AddRecord(season.Record{Date: "2031-08-20", Note: "west half", Ground: field("", 0).Boundary, ReentryHours: 12})
	require.NoError(t, err)
	want := decided(t, s, id)
	require.NoError(t, s.Close())
	raw, err := os.ReadFile(path)
	require.NoError(t, err)
	var held []int
	for i, b := range raw {
		if b != 0 {
			held = append(held, i)
		}
	}
	flips, refused := 400, 0
	if testkit.Strict() {
		flips = 4000
	}
	rng := rand.New(rand.NewPCG(11, 12))
	for range flips {
		other := bytes.Clone(raw)
		bit := 8*held[rng.IntN(len(held))] + rng.IntN(8)
		other[bit/8] ^= 1 << (bit % 8)
		require.NoError(t, os.WriteFile(path, other, 0o644))
		s, err := season.Open(path)
		if err == nil {
			err = s.Check()
		}
		if err == nil {
			var got string
			if got, err = decisions(s, id); err == nil {
				require.Equal(t, want, got, "bit %d", bit)
			}
			s.Close()
		}
		if err != nil {
			refused++
		}
	}
	t.Logf("%d bits, %d refused, in the others nothing that decides was another", flips, refused)
	assert.Positive(t, refused)
}

func decided(t *testing.T, s *season.Season, id int64) string {
	t.Helper()
	text, err := decisions(s, id)
	require.NoError(t, err)
	return text
}

// decisions is what later answers hang on: a visit without what is worked out from it, and
// the treatments.
func decisions(s *season.Season, id int64) (string, error) {
	v, err := s.Visit(id)
	if err != nil {
		return "", err
	}
	records, err := s.Records()
	return fmt.Sprintf("%+v %+v", v, records), err
}

// blobOfTriangle is a boundary by the standard's bytes: an envelope-free header, then
// well-known binary of a multipolygon of one triangle.
const blobOfTriangle = "x'" + "47500001e6100000" + "010600000001000000" + "010300000001000000" + "04000000" +
	"00000000004059c00000000000804140" + "00000000003f59c00000000000804140" + "00000000003f59c00000000000814140" + "00000000004059c00000000000804140" + "'"

// primaryKeyLost is what one bit makes of the table of fields, whose numbers are then none.
const primaryKeyLost = `PRAGMA writable_schema = ON; UPDATE sqlite_master SET sql = replace(sql, 'PRIMARY', 'PRIMARX') WHERE name = 'fields'`

// Visits of format 4 say nowhere which fields they have but in rows of their own.
func TestAFieldThatIsGoneIsReported(t *testing.T) {
	path := copied(t, testkit.Testdata(t, "season", "format4.gpkg"), filepath.Join(t.TempDir(), "s.gpkg"))
	execute(t, path, primaryKeyLost)
	s, err := season.Open(path)
	require.NoError(t, err)
	defer s.Close()
	_, err = s.Visit(1)
	assert.ErrorContains(t, err, "not what was stored")
}

// One bit makes 5 of the format into 1 or 4, of which less is read.
func TestATooEarlyFormatIsReported(t *testing.T) {
	for _, format := range []int{1, 2, 3, 4} {
		path := filepath.Join(t.TempDir(), "s.gpkg")
		s := opened(t, path)
		v := visit(1)
		v.SettingsFiles = nil
		v.Kept = map[string]geo.Properties{"Square": {{Name: "grower", Value: "Invented"}}}
		_, err := s.Add(v)
		require.NoError(t, err)
		require.NoError(t, s.Close())
		execute(t, path, fmt.Sprintf(`UPDATE season SET value = '%d' WHERE key = 'format'`, format))
		s, err = season.Open(path)
		require.NoError(t, err)
		assert.ErrorIs(t, s.Check(), season.ErrBroken, "format %d", format)
		require.NoError(t, s.Close())
		_, err = season.OpenToAdd(path)
		assert.ErrorIs(t, err, season.ErrBroken, "format %d", format)
	}
}

func TestSettingsFieldsAndNamesThatWereChangedAreReported(t *testing.T) {
	for _, change := range []string{
		`UPDATE visits SET settings = '{"treat-at":90}'`, `UPDATE files SET name = 'other.csv'`, `DELETE FROM settings_files`,
		`UPDATE fields SET geom = ` + blobOfTriangle, `UPDATE fields SET name = 'Another'`, `UPDATE visits SET date = '2031-08-03'`, `UPDATE visit_fields SET rows = '12'`,
		`DELETE FROM visit_fields`, `UPDATE visit_fields SET field_id = 99`, `INSERT INTO visit_fields (visit_id, field_id) VALUES (1, 1)`, primaryKeyLost,
	} {
		path := filepath.Join(t.TempDir(), "s.gpkg")
		s := opened(t, path)
		id, err := s.Add(visit(1))
		require.NoError(t, err)
		require.NoError(t, s.Close())
		execute(t, path, change)
		_, err = opened(t, path).Visit(id)
		assert.ErrorContains(t, err, "not what was stored", change)
	}
}

func TestBytesThatWereChangedAreReported(t *testing.T) {
	for _, table := range []string{"files", "settings_files"} {
		path := filepath.Join(t.TempDir(), "s.gpkg")
		s := opened(t, path)
		id, err := s.Add(visit(1))
		require.NoError(t, err)
		require.NoError(t, s.Close())
		execute(t, path, `UPDATE `+table+` SET content = x'00'`)
		_, err = opened(t, path).Visit(id)
		assert.ErrorContains(t, err, "is not what was stored", table)
	}
}

func TestAddRefusesWholly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	_, err := s.Add(visit(1))
	require.NoError(t, err)
	other := visit(2)
	other.Fields = []geo.Field{field("Square", 0.01)}
	noPlace := visit(3)
	noPlace.Stops[0].Geometry = nil
	empty := visit(4)
	empty.Files = nil
	for name, v := range map[string]season.Visit{"another boundary": other, "no geometry": noPlace, "no counts": empty} {
		_, err := s.Add(v)
		assert.Error(t, err, name)
	}
	_, err = s.Visit(99)
	assert.ErrorContains(t, err, "no visit 99")
	lines, err := s.List()
	require.NoError(t, err)
	assert.Len(t, lines, 1, "of what is refused nothing stays")
	require.NoError(t, s.Check())
}

func TestRecords(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	later := season.Record{Date: "2031-08-20", Note: "second", Ground: field("", 0).Boundary}
	first := season.Record{Date: "2031-08-15", Note: "first", ReentryHours: 24, Ground: field("", 0.1).Boundary}
	for _, r := range []season.Record{later, first} {
		_, err := s.AddRecord(r)
		require.NoError(t, err)
	}
	got, err := s.Records()
	require.NoError(t, err)
	assert.Equal(t, []season.Record{first, later}, got)
	_, err = s.AddRecord(season.Record{Date: "2031-08-21"})
	assert.Error(t, err)
}

func TestOpenRefuses(t *testing.T) {
	folder := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
		return path
	}
	foreign := filepath.Join(folder, "foreign.gpkg")
	execute(t, foreign, `CREATE TABLE gpkg_contents (table_name TEXT)`)
	future := filepath.Join(folder, "future.gpkg")
	opened(t, future).Close()
	execute(t, future, `UPDATE season SET value = '99' WHERE key = 'format'`)
	for _, c := range []struct{ name, path, want string }{
		{"text", write("text.gpkg", strings.Repeat("stop,count\n", 200)), "no GeoPackage"},
		{"another GeoPackage", foreign, "no season file"},
		{"later format", future, "newer geocoris"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := season.Open(c.path)
			assert.ErrorContains(t, err, c.want)
			_, err = season.OpenToAdd(c.path)
			assert.ErrorContains(t, err, c.want)
		})
	}
	_, err := season.Open(write("empty.gpkg", ""))
	assert.ErrorContains(t, err, "empty")
	_, err = season.Open(filepath.Join(folder, "none.gpkg"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = os.Stat(filepath.Join(folder, "none.gpkg"))
	assert.ErrorIs(t, err, os.ErrNotExist, "looking makes no file")
}

func TestASeasonIsKnownByItsContent(t *testing.T) {
	folder := t.TempDir()
	file := func(name string) string { return filepath.Join(folder, name) }
	opened(t, file("season.db")).Close()
	opened(t, file("future.gpkg")).Close()
	execute(t, file("future.gpkg"), `UPDATE season SET value = '99' WHERE key = 'format'`)
	execute(t, file("layer.gpkg"), `CREATE TABLE season (fid INTEGER PRIMARY KEY, name TEXT)`) // a layer of that name
	// A view that yields what is looked for when its endless rows are through.
	execute(t, file("view.gpkg"), `CREATE VIEW season AS WITH RECURSIVE n(i) AS (VALUES(1) UNION ALL SELECT i+1 FROM n)
		SELECT 'program' AS key, 'geocoris' AS value FROM n WHERE i < 0`)
	execute(t, file("other.gpkg"), `CREATE TABLE gpkg_contents (table_name TEXT)`)
	require.NoError(t, os.WriteFile(file("text.gpkg"), []byte("stop,count\n1,2\n"), 0o600))
	require.NoError(t, os.WriteFile(file("empty.gpkg"), nil, 0o600))
	for name, want := range map[string]bool{"season.db": true, "future.gpkg": true, "layer.gpkg": false, "view.gpkg": false, "other.gpkg": false, "text.gpkg": false, "empty.gpkg": false, "none.gpkg": false} {
		assert.Equal(t, want, season.Is(file(name)), name)
	}
	assert.NoFileExists(t, file("none.gpkg"))
}

func execute(t testing.TB, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for _, s := range statements {
		_, err := db.Exec(s)
		require.NoError(t, err, s)
	}
}

// withoutFormat5 takes out what format 5 brought.
var withoutFormat5 = []string{
	`DROP TABLE verdicts`, `DELETE FROM gpkg_geometry_columns WHERE table_name = 'verdicts'`, `DELETE FROM gpkg_contents WHERE table_name = 'verdicts'`,
	`DROP INDEX files_of_visit`, `DROP INDEX settings_files_of_visit`, `DROP INDEX visit_fields_of_visit`, `DROP INDEX visits_of_field`, `DROP INDEX stops_of_visit`, `DROP INDEX zones_of_visit`,
	`ALTER TABLE visits DROP COLUMN author`,
}

// A file of format 1 has no table of treatments: it is read as it is, and brought
// up when something is added, without losing anything.
func TestAFileOfTheFirstFormatIsBroughtUp(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	plain := visit(1)
	plain.SettingsFiles = nil // which that format did not keep
	id, err := s.Add(plain)
	require.NoError(t, err)
	before, err := s.Visit(id)
	require.NoError(t, err)
	require.NoError(t, s.Close())
	execute(t, path, append(slices.Clip(withoutFormat5), `DROP TABLE records`, `ALTER TABLE visits DROP COLUMN sha256`, `DROP TABLE visit_fields`, `DROP TABLE settings_files`,
		`DELETE FROM gpkg_geometry_columns WHERE table_name = 'records'`,
		`DELETE FROM gpkg_contents WHERE table_name IN ('records', 'visit_fields', 'settings_files')`, `UPDATE season SET value = '1' WHERE key = 'format'`)...)

	old, err := season.Open(path)
	require.NoError(t, err)
	records, err := old.Records()
	require.NoError(t, err)
	assert.Empty(t, records)
	require.NoError(t, old.Close())

	s = opened(t, path)
	after, err := s.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	_, err = s.AddRecord(season.Record{Date: "2031-08-20", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s = opened(t, path) // and a second time nothing more happens
	records, err = s.Records()
	require.NoError(t, err)
	assert.Len(t, records, 1)
	require.NoError(t, s.Check())
}

// What is known of whose fields are and how their rows run goes with each visit, and the
// last of it with the field.
func TestFieldsKeepWhoseTheyAre(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	var want []season.Visit
	for n := range 2 {
		v := visit(n)
		v.Fields[0].Customer, v.Fields[0].Farm = fmt.Sprintf("Ann Example %d", n), "Hill"
		v.Kept = map[string]geo.Properties{v.Fields[0].Name: {{Name: "rows", Value: fmt.Sprint(12 + n)}, {Name: "grower", Value: "Ann"}}}
		id, err := s.Add(v)
		require.NoError(t, err)
		v.ID = id
		want = append(want, v)
	}
	require.NoError(t, s.Close())
	s = opened(t, path)
	for _, v := range want {
		got, err := s.Visit(v.ID)
		require.NoError(t, err)
		assert.Equal(t, v.Fields, got.Fields)
		assert.Equal(t, v.Kept, got.Kept)
	}
	fields, err := s.Fields()
	require.NoError(t, err)
	assert.Equal(t, want[1].Fields[0], fields[0])
	require.NoError(t, s.Check())
	validate(t, path)
}

// A file of format 3 knows of no customers: it is read as it is, and brought up.
func TestAFileOfTheThirdFormatIsBroughtUp(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	id, err := s.Add(visit(1))
	require.NoError(t, err)
	before, err := s.Visit(id)
	require.NoError(t, err)
	require.NoError(t, s.Close())
	execute(t, path, append(slices.Clip(withoutFormat5), `ALTER TABLE visit_fields DROP COLUMN customer`, `ALTER TABLE visit_fields DROP COLUMN farm`,
		`ALTER TABLE visit_fields DROP COLUMN rows`, `ALTER TABLE visit_fields DROP COLUMN grower`,
		`ALTER TABLE visit_fields DROP COLUMN sha256`, `ALTER TABLE visits DROP COLUMN sha256`, `ALTER TABLE records DROP COLUMN sha256`, `UPDATE season SET value = '3' WHERE key = 'format'`)...)
	old, err := season.Open(path)
	require.NoError(t, err)
	asItIs, err := old.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before, asItIs)
	fields, err := old.Fields()
	require.NoError(t, err)
	assert.Equal(t, before.Fields, fields)
	require.NoError(t, old.Close())
	v := visit(2)
	v.Fields[0].Customer = "Bo Example"
	s = opened(t, path)
	_, err = s.Add(v)
	require.NoError(t, err)
	after, err := s.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	if fields, err = s.Fields(); assert.NoError(t, err) {
		assert.Equal(t, "Bo Example", fields[0].Customer)
	}
	require.NoError(t, s.Check())
}

// The file was made by a program of format 2: a visit to one of two fields, two to
// both, the last with observers that lay elsewhere, and a treatment. It is read as it
// is, and brought up with the fields that each visit has zones of.
func TestAFileOfTheSecondFormatIsBroughtUp(t *testing.T) {
	content, err := os.ReadFile(testkit.Testdata(t, "season", "format2.gpkg"))
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "s.gpkg")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	read := func(s *season.Season) (visits []season.Visit) {
		lines, err := s.List()
		require.NoError(t, err)
		require.Len(t, lines, 3)
		for _, l := range lines {
			v, err := s.Visit(l.ID)
			require.NoError(t, err)
			visits = append(visits, v)
		}
		records, err := s.Records()
		require.NoError(t, err)
		require.Len(t, records, 1)
		assert.Equal(t, "2026-07-16", records[0].Date)
		return visits
	}
	old, err := season.Open(path)
	require.NoError(t, err)
	before := read(old)
	require.NoError(t, old.Close())
	unchanged, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(content, unchanged), "looking changes nothing")
	var names [][]string
	for _, v := range before {
		var of []string
		for _, f := range v.Fields {
			of = append(of, f.Name)
		}
		names = append(names, of)
		assert.Empty(t, v.SettingsFiles)
		assert.NotEmpty(t, v.Files[0].Content)
	}
	assert.Equal(t, [][]string{{"Pivot"}, {"Pivot", "Corner block"}, {"Pivot", "Corner block"}}, names)

	s := opened(t, path)
	assert.Equal(t, before, read(s))
	_, err = s.Add(visit(1))
	require.NoError(t, err)
	require.NoError(t, s.Check())
	require.NoError(t, s.Close())
	validate(t, path)
}

func TestTheSameVisitsMakeTheSameFile(t *testing.T) {
	folder := t.TempDir()
	var contents [2][]byte
	for i := range contents {
		path := filepath.Join(folder, fmt.Sprint(i, ".gpkg"))
		s := opened(t, path)
		for n := range 3 {
			_, err := s.Add(visit(n))
			require.NoError(t, err)
		}
		require.NoError(t, s.Close())
		var err error
		contents[i], err = os.ReadFile(path)
		require.NoError(t, err)
	}
	assert.True(t, bytes.Equal(contents[0], contents[1]))
}

// The OGC's requirements as GDAL's validator knows them, and GDAL itself.
func TestOutsidersReadTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	_, err := s.Add(visit(1))
	require.NoError(t, err)
	_, err = s.AddRecord(season.Record{Date: "2031-08-15", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	validate(t, path)
	out := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", path)
	for _, want := range []string{"Layer name: fields", "Layer name: stops", "Layer name: zones", "Layer name: records", "Geometry: Multi Polygon", "value (Real) = 1.5", "zone (String) = clear"} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "Warning")
}

// validate checks a file by the OGC's requirements as GDAL's validator knows them.
func validate(t *testing.T, path string) {
	t.Helper()
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "from osgeo_utils.samples import validate_gpkg").Run() != nil {
		testkit.Missing(t, "GDAL's validator of GeoPackages")
	}
	out, err := exec.Command(python, "-W", "ignore", "-m", "osgeo_utils.samples.validate_gpkg", "--warning-as-error", path).CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Empty(t, strings.TrimSpace(string(out)))
}
