//go:build !js && !nosqlite

package season_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// By SQL a scout adds nothing that stops others from reading, nor what stands in for
// another's counts; what the program adds for a scout is taken.
func TestAScoutsSQLSpoilsNothing(t *testing.T) {
	g := inDatabase(t)
	opened(t, g.owner())
	ann, annLogin := g.person(t, "ann", "geocoris_scout")
	ben, login := g.person(t, "ben", "geocoris_scout")
	v := in(1, "Ünal Example", "North; \"Ost\"", "East")
	v.Files[0].Name = "o'; wéek.csv"
	v.Fields[0].Customer, v.Fields[0].Farm = "Hill 'Farms'", "Home"
	first, err := opened(t, ann).Add(v)
	require.NoError(t, err)
	record := season.Record{Date: "2031-08-20", Note: "wést", Ground: field("", 0).Boundary, ReentryHours: 12.5}
	_, err = opened(t, ben).AddRecord(record)
	require.NoError(t, err)
	_, err = opened(t, ben).Add(in(2, "Bo", "East"))
	require.NoError(t, err)

	const copyOf = "INSERT INTO geocoris.visits (date, pest, unit, settings, digest, author, sha256) SELECT date, pest, unit, settings, digest, author || '; other', sha256 FROM geocoris.visits WHERE id = 1; "
	for what, statement := range map[string]string{
		"a treatment of no day":                     "INSERT INTO geocoris.records (geom, date, note, reentry_hours) SELECT geom, '', '', 0 FROM geocoris.records",
		"a treatment of other words":                "INSERT INTO geocoris.records (geom, date, note, reentry_hours, sha256) SELECT geom, date, 'x', reentry_hours, sha256 FROM geocoris.records",
		"a treatment that is empty":                 "INSERT INTO geocoris.records (geom, date, note, reentry_hours) VALUES ('SRID=4326;MULTIPOLYGON EMPTY', '2031-08-20', '', 0)",
		"a field that is nowhere":                   "INSERT INTO geocoris.fields (geom, name) VALUES ('SRID=4326;MULTIPOLYGON(((0 0,1 0,1 999,0 0)))', 'Nowhere')",
		"a visit without counts":                    "INSERT INTO geocoris.visits (date, pest, unit, settings, digest) VALUES ('', '', '', '', '')",
		"a visit by another's digest":               "BEGIN; " + copyOf + "INSERT INTO geocoris.superseded SELECT 1, max(id) FROM geocoris.visits; COMMIT",
		"counts of other bytes":                     "BEGIN; " + copyOf + "INSERT INTO geocoris.files (visit_id, name, sha256, content) SELECT (SELECT max(id) FROM geocoris.visits), name, sha256, '' FROM geocoris.files WHERE visit_id = 1; COMMIT",
		"other counts":                              "BEGIN; " + copyOf + "INSERT INTO geocoris.files (visit_id, name, sha256, content) SELECT (SELECT max(id) FROM geocoris.visits), name, encode(sha256(''), 'hex'), '' FROM geocoris.files WHERE visit_id = 1; COMMIT",
		"a correction of a visit that is not there": "INSERT INTO geocoris.corrections (digest, times, by_digest, sha256) VALUES ('a', 2, 'b', '')",
		"that another's visit came back":            "INSERT INTO geocoris.corrections (digest, times, by_digest, sha256) SELECT digest, 3, '', '' FROM geocoris.visits WHERE id = 1",
	} {
		said := g.refused(login, statement)
		assert.Regexp(t, "23514|42501", said, what)
	}
	s := opened(t, ann)
	lines, err := s.List()
	require.NoError(t, err)
	require.Len(t, lines, 2)
	got, err := s.Visit(first)
	require.NoError(t, err)
	assert.Equal(t, annLogin, got.Author)
	records, err := s.Records()
	require.NoError(t, err)
	assert.Equal(t, []season.Record{record}, records)
	_, err = s.Fields()
	require.NoError(t, err)
}

// Who names another as author replaces nothing of theirs: who was logged in counts.
func TestANameReplacesNobodysVisit(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	ann, _ := g.person(t, "ann", "geocoris_scout")
	ben, _ := g.person(t, "ben", "geocoris_scout")
	_, _, err := opened(t, ann).AddDay(alternative(1, "Anna"), false)
	require.NoError(t, err)
	for _, replace := range []func(s *season.Season) error{
		func(s *season.Season) error { _, _, err := s.AddDay(alternative(2, "Anna"), true); return err },
		func(s *season.Season) error { _, _, err := s.AddInPlace(alternative(3, "Anna"), true, 1); return err },
	} {
		assert.EqualError(t, replace(opened(t, ben)), g.database+": this role may not replace a visit that another one added")
		assert.Equal(t, []int64{1}, listed(t, ann))
	}
	_, replaced, err := opened(t, ann).AddDay(alternative(2, "Anna"), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{1}, replaced)
	_, replaced, err = owner.AddDay(alternative(3, "Anna"), true)
	require.NoError(t, err)
	assert.Len(t, replaced, 1)
}

// A row that is not what was stored is left out, and said, where many share a season: it
// stops nobody. A visit is an error where it is asked for, and nowhere else.
func TestARowThatIsSpoiltStopsNobody(t *testing.T) {
	g := inDatabase(t)
	s := opened(t, g.owner())
	_, err := s.Add(in(1, "Ann", "North"))
	require.NoError(t, err)
	_, err = s.Add(in(2, "Ann", "East"))
	require.NoError(t, err)
	record := season.Record{Date: "2031-08-20", Note: "west", Ground: field("", 0).Boundary}
	_, err = s.AddRecord(record)
	require.NoError(t, err)
	g.sql(t, `INSERT INTO geocoris.records (geom, date, note, reentry_hours, sha256) SELECT geom, 'no day', '', 0, 'x' FROM geocoris.records;
		UPDATE geocoris.visit_fields SET customer = 'Other' WHERE visit_id = 2`)
	for range 2 {
		lines, err := s.List()
		require.NoError(t, err)
		assert.Len(t, lines, 2)
		records, err := s.Records()
		require.NoError(t, err)
		assert.Equal(t, []season.Record{record}, records)
		fields, err := s.Fields()
		require.NoError(t, err)
		require.Len(t, fields, 1)
		assert.Equal(t, "North", fields[0].Name)
	}
	assert.ElementsMatch(t, []string{
		g.database + `: treatment of "no day": it is not what was stored; left out`,
		g.database + `: field "East": its boundary, or whose it is, is not what was stored; left out`,
	}, s.Notes())
	_, err = s.Visit(1)
	require.NoError(t, err)
	_, err = s.Visit(2)
	assert.ErrorContains(t, err, "is not what was stored")
}
