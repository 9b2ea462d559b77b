//go:build !js && !nosqlite

package season_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// withoutFormat5 takes out what formats 5 and 6 brought.
var withoutFormat5 = []string{
	`DROP TABLE corrections`, `DELETE FROM gpkg_contents WHERE table_name = 'corrections'`,
	`DROP TABLE verdicts`, `DELETE FROM gpkg_geometry_columns WHERE table_name = 'verdicts'`, `DELETE FROM gpkg_contents WHERE table_name = 'verdicts'`,
	`DROP INDEX files_of_visit`, `DROP INDEX settings_files_of_visit`, `DROP INDEX visit_fields_of_visit`, `DROP INDEX visits_of_field`, `DROP INDEX stops_of_visit`, `DROP INDEX zones_of_visit`,
	`ALTER TABLE visits DROP COLUMN author`,
}

// digestBefore6 is a statement that gives a visit the digest that formats before 6 had: of
// its settings, its files and those of its settings, each with its length before it.
func digestBefore6(v season.Visit) string {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%d:%s", len(v.Settings), v.Settings)
	for _, f := range v.Files {
		fmt.Fprintf(&b, "%d:%s%d:%s", len(f.Name), f.Name, len(f.Content), f.Content)
	}
	for _, f := range v.SettingsFiles {
		fmt.Fprintf(&b, "%s:%d:%s%d:%s", f.Setting, len(f.Name), f.Name, len(f.Content), f.Content)
	}
	return fmt.Sprintf("UPDATE visits SET digest = '%x'", sha256.Sum256(b.Bytes()))
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
	execute(t, path, append(slices.Clip(withoutFormat5), digestBefore6(plain), `DROP TABLE records`, `ALTER TABLE visits DROP COLUMN sha256`, `DROP TABLE visit_fields`, `DROP TABLE settings_files`,
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
	testkit.AssertGeoPackage(t, path)
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
	execute(t, path, append(slices.Clip(withoutFormat5), digestBefore6(visit(1)), `ALTER TABLE visit_fields DROP COLUMN customer`, `ALTER TABLE visit_fields DROP COLUMN farm`,
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
