//go:build !js && !nosqlite

package season_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

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
	flips, refused := testkit.Draws(400), 0
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

// Who brought a visit stands under the digest of its day.
func TestAnAuthorThatWasChangedIsFound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	made(t, path, []season.Visit{brought(1, "Anna")})
	execute(t, path, `UPDATE visits SET author = 'Ben'`)
	s, err := season.Open(path)
	require.NoError(t, err)
	defer s.Close()
	_, err = s.Visit(1)
	assert.ErrorContains(t, err, "author")
}
