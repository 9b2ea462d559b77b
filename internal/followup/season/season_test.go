//go:build !js && !nosqlite

package season_test

import (
	"bytes"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
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
	testkit.AssertGeoPackage(t, path)
}

// A later boundary that does not tell whose a field is takes nothing away.
func TestWhoseAFieldIsStaysKnown(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	for i, whose := range []struct{ customer, farm string }{{"Invented Customer", "Home"}, {"", ""}, {"", "Upper"}} {
		v := on([]string{"2031-08-01", "2031-08-08", "2031-08-15"}[i], "A")
		v.Fields[0].Customer, v.Fields[0].Farm = whose.customer, whose.farm
		_, err := s.Add(v)
		require.NoError(t, err)
	}
	fields, err := s.Fields()
	require.NoError(t, err)
	require.Len(t, fields, 1)
	assert.Equal(t, geo.Field{Name: "A", Customer: "Invented Customer", Farm: "Upper", Boundary: fields[0].Boundary}, fields[0])
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
