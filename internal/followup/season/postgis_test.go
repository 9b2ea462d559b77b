//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A team is a database with a season, made by its owner, and who may log in.
type team struct {
	*testkit.Postgres
	database string
}

// inDatabase is a database without a season.
func inDatabase(t testing.TB) team {
	t.Helper()
	p := testkit.StartPostgres(t)
	return team{p, p.Database(t)}
}

func (g team) owner() string { return g.Address("postgres", g.database) }

func (g team) sql(t testing.TB, statements string) string {
	t.Helper()
	return g.Query(t, g.database, statements)
}

// person is the address of somebody new, in a role of the season or in none.
func (g team) person(t testing.TB, name, role string) (address, login string) {
	t.Helper()
	login = name + "_" + g.database // roles are those of the whole server
	g.sql(t, "CREATE ROLE "+login+" LOGIN")
	if role != "" {
		g.sql(t, "GRANT "+role+" TO "+login)
	}
	return g.Address(login, g.database), login
}

// in is a visit to invented fields of a grower, by their names.
func in(n int, grower string, names ...string) season.Visit {
	v := visit(n)
	v.Fields, v.Zones, v.Stops, v.Kept = nil, nil, nil, map[string]geo.Properties{}
	for i, name := range names {
		f := field(name, 0.05*float64(len(name)))
		v.Fields = append(v.Fields, f)
		v.Kept[name] = geo.Properties{{Name: "grower", Value: grower}}
		v.Zones = append(v.Zones, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: name}, {Name: "area_ha", Value: 5.5}, {Name: "stops", Value: int64(1)}}})
		v.Stops = append(v.Stops, geo.Feature{Geometry: orb.Point{-100.991, 35.003}, Properties: geo.Properties{{Name: "stop", Value: fmt.Sprint(i)}, {Name: "field", Value: name}, {Name: "date", Value: v.Date}, {Name: "value", Value: 1.5}}})
	}
	return v
}

func listed(t testing.TB, address string) (ids []int64) {
	t.Helper()
	s, err := season.Open(address)
	require.NoError(t, err)
	defer s.Close()
	lines, err := s.List()
	require.NoError(t, err)
	for _, l := range lines {
		ids = append(ids, l.ID)
	}
	return ids
}

// What comes out of a database is what came in, and the same as out of a file.
func TestADatabaseKeepsWhatAFileKeeps(t *testing.T) {
	g := inDatabase(t)
	file, base := opened(t, t.TempDir()+"/s.gpkg"), opened(t, g.owner())
	for n := range 3 {
		v := in(n, "Ann Example", "North", "East field")
		v.Files[0].Name = "o'; DROP TABLE visits; --\"$1.csv"
		v.Fields[0].Customer, v.Fields[0].Farm = "Hill; \\ 'Farms'", "Home"
		a, err := file.Add(v)
		require.NoError(t, err)
		b, err := base.Add(v)
		require.NoError(t, err)
		require.Equal(t, a, b)
		again, err := base.Add(v)
		assert.ErrorIs(t, err, season.ErrKnown)
		assert.Equal(t, b, again)
		want, err := file.Visit(a)
		require.NoError(t, err)
		got, err := base.Visit(b)
		require.NoError(t, err)
		assert.Equal(t, "postgres", got.Author)
		got.Author = ""
		assert.Equal(t, want, got)
	}
	record := season.Record{Date: "2031-08-20", Note: "west '); half", Ground: field("", 0).Boundary, ReentryHours: 12}
	for _, s := range []*season.Season{file, base} {
		_, err := s.AddRecord(record)
		require.NoError(t, err)
	}
	for what, of := range map[string]func(s *season.Season) (any, error){
		"list": func(s *season.Season) (any, error) {
			lines, err := s.List()
			for i := range lines { // a file knows nobody
				lines[i].Author = ""
			}
			return lines, err
		},
		"fields":  func(s *season.Season) (any, error) { return s.Fields() },
		"records": func(s *season.Season) (any, error) { return s.Records() },
		"zones":   func(s *season.Season) (any, error) { return s.Zones(2) },
		"stops":   func(s *season.Season) (any, error) { return s.StopsOf(2) },
		"digests": func(s *season.Season) (any, error) { return s.Digests() },
	} {
		want, err := of(file)
		require.NoError(t, err)
		got, err := of(base)
		require.NoError(t, err)
		assert.NotEmpty(t, want, what)
		assert.Equal(t, want, got, what)
	}
	require.NoError(t, base.Check())
}

// A correction takes the place of a visit, which stays beside it for who asks for it by
// its number; the first counts may come back.
func TestInADatabaseNothingIsDeleted(t *testing.T) {
	g := inDatabase(t)
	opened(t, g.owner())
	address, login := g.person(t, "scout", "geocoris_scout")
	s := opened(t, address)
	first, err := s.Add(in(1, "", "North"))
	require.NoError(t, err)
	corrected := in(1, "", "North")
	corrected.Files[0].Content = []byte("others")
	_, _, err = s.AddDay(corrected, false)
	var held *season.HeldError
	require.ErrorAs(t, err, &held)
	second, replaced, err := s.AddDay(corrected, true)
	require.NoError(t, err)
	assert.Equal(t, []int64{first}, replaced)
	assert.Equal(t, []int64{second}, listed(t, address))
	old, err := s.Visit(first)
	require.NoError(t, err)
	assert.Equal(t, in(1, "", "North").Files, old.Files)
	assert.Equal(t, login, old.Author)
	third, replaced, err := s.AddDay(in(1, "", "North"), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{second}, replaced)
	assert.Equal(t, []int64{third}, listed(t, address))
	assert.Equal(t, fmt.Sprint(third), g.sql(t, "SELECT visit_id FROM geocoris.latest_fields"))
	fourth, replaced, err := s.AddInPlace(corrected, false, third, third)
	require.NoError(t, err)
	assert.Equal(t, []int64{third}, replaced)
	assert.Equal(t, []int64{fourth}, listed(t, address))
}

// A scout adds, an office reads, nobody deletes or changes, and who has no role sees nothing.
func TestRolesOfADatabase(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	id, err := owner.Add(in(1, "Ann", "North"))
	require.NoError(t, err)
	scout, scoutLogin := g.person(t, "scout", "geocoris_scout")
	office, officeLogin := g.person(t, "office", "geocoris_office")
	nobody, _ := g.person(t, "nobody", "")

	s := opened(t, scout)
	added, err := s.Add(in(2, "Bo", "East"))
	require.NoError(t, err)
	_, err = s.AddRecord(season.Record{Date: "2031-08-20", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	got, err := s.Visit(added)
	require.NoError(t, err)
	assert.Equal(t, scoutLogin, got.Author)
	assert.Equal(t, []int64{id, added}, listed(t, office))

	o, err := season.OpenToAdd(office)
	require.NoError(t, err)
	defer o.Close()
	_, err = o.Add(in(3, "Ann", "North"))
	assert.EqualError(t, err, g.database+": this role may not do that in the season")
	for _, open := range []func(string) (*season.Season, error){season.Open, season.OpenToAdd} {
		_, err = open(nobody)
		assert.EqualError(t, err, g.database+": this role may not see the season")
	}
	for _, login := range []string{scoutLogin, officeLogin} {
		for _, statement := range []string{
			"DELETE FROM geocoris.visits", "DELETE FROM geocoris.files", "UPDATE geocoris.visits SET date = ''", "UPDATE geocoris.files SET content = ''",
			"DELETE FROM geocoris.superseded", "TRUNCATE geocoris.stops", "UPDATE geocoris.season SET value = '9'", "INSERT INTO geocoris.access (role) VALUES ('" + login + "')",
			"DROP TABLE geocoris.records",
			"CREATE TEMP TABLE t (grower text, customer text, field_id bigint, visit_id bigint); CREATE TRIGGER x AFTER INSERT ON t FOR EACH ROW EXECUTE FUNCTION geocoris.note_grower()",
			"CREATE TEMP TABLE t (id bigint, grower text); CREATE TRIGGER x AFTER INSERT ON t FOR EACH ROW EXECUTE FUNCTION geocoris.move_grower()",
		} {
			assert.Contains(t, g.refused(login, statement), "42501", statement)
		}
	}
	// What is of a visit comes with it, and nobody signs for another.
	for _, statement := range []string{
		fmt.Sprintf("INSERT INTO geocoris.files (visit_id, name, sha256, content) VALUES (%d, 'x', '', '')", added),
		"INSERT INTO geocoris.visits (date, pest, unit, settings, digest, added_by) VALUES ('', '', '', '', '', 'postgres')",
	} {
		assert.Contains(t, g.refused(scoutLogin, statement), "42501", statement)
	}
}

// refused is what the server says to a statement of somebody, "" where it does it.
func (g team) refused(login, statement string) string {
	_, err := g.QueryAs(login, g.database, statement)
	return fmt.Sprint(err)
}

// Scouts see the growers that are named to them: their fields, and visits of which all
// fields are theirs.
func TestRowsOfGrowers(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	scout, login := g.person(t, "ann", "geocoris_scout")
	office, _ := g.person(t, "office", "geocoris_office")
	hostile := `O'Neill"; --`
	for n, v := range []season.Visit{in(1, hostile, "North"), in(2, "Bo", "East field"), in(3, "", "West ground")} {
		id, err := owner.Add(v)
		require.NoError(t, err)
		require.Equal(t, int64(n+1), id)
	}
	both := in(4, hostile, "North", "East field")
	both.Kept["East field"] = geo.Properties{{Name: "grower", Value: "Bo"}}
	_, err := owner.Add(both)
	require.NoError(t, err)
	_, err = owner.AddRecord(season.Record{Date: "2031-08-20", Note: "Bo's", Ground: field("", 0.05*float64(len("East field"))).Boundary})
	require.NoError(t, err)
	beside := 0.05*float64(len("North")) - 100.99 // the edge of North
	_, err = owner.AddRecord(season.Record{Date: "2031-08-20", Note: "next to North", Ground: orb.MultiPolygon{{{{beside, 35}, {beside + 0.01, 35}, {beside + 0.01, 35.01}, {beside, 35.01}, {beside, 35}}}}})
	require.NoError(t, err)
	assert.Equal(t, []int64{1, 2, 3, 4}, listed(t, scout), "all see all at first")

	g.sql(t, `DELETE FROM geocoris.access WHERE role = 'geocoris_scout'`)
	assert.Empty(t, listed(t, scout), "who is named nowhere sees nothing")
	g.sql(t, season.Roles)
	assert.Empty(t, listed(t, scout), "the roles made once more open nothing")
	g.sql(t, fmt.Sprintf(`INSERT INTO geocoris.access (role, grower) VALUES ('%s', $$%s$$)`, login, hostile))
	assert.Equal(t, []int64{1}, listed(t, scout))
	assert.Equal(t, []int64{1, 2, 3, 4}, listed(t, office))

	s := opened(t, scout)
	fields, err := s.Fields()
	require.NoError(t, err)
	assert.Len(t, fields, 1)
	_, err = s.Visit(2)
	assert.ErrorContains(t, err, "there is no visit 2")
	zones, err := s.Zones(4)
	require.NoError(t, err)
	assert.Empty(t, zones)
	records, err := s.Records()
	require.NoError(t, err)
	assert.Empty(t, records)

	_, err = s.Add(in(5, hostile, "North"))
	require.NoError(t, err)
	_, err = s.Add(in(6, "Bo", "South of it"))
	assert.EqualError(t, err, g.database+": this is of a grower whose fields this role does not see")
	_, err = s.Add(in(7, hostile, "East field"))
	assert.EqualError(t, err, g.database+": a field of this name is there already, of a grower whose fields this role does not see")
	_, err = s.AddRecord(season.Record{Date: "2031-08-21", Ground: field("", 3).Boundary})
	assert.EqualError(t, err, g.database+": this is of a grower whose fields this role does not see")
	assert.Equal(t, []int64{1, 5}, listed(t, scout))

	g.sql(t, `UPDATE geocoris.fields SET grower = $$`+hostile+`$$ WHERE name = 'East field'`)
	assert.Equal(t, []int64{1, 2, 4, 5}, listed(t, scout), "the owner gives a field to another grower")
}

// An owner who may make no roles makes the season all the same, and is told what an
// administrator runs; that lets scouts add.
func TestAnOwnerWhoMayMakeNoRoles(t *testing.T) {
	opened(t, inDatabase(t).owner()) // makes the roles of the server
	g := inDatabase(t)
	owner, login := g.person(t, "owner", "")
	g.sql(t, "ALTER DATABASE "+g.database+" OWNER TO "+login)
	g.sql(t, "ALTER ROLE geocoris_scout RENAME TO kept_scout; ALTER ROLE geocoris_office RENAME TO kept_office")
	s, err := season.OpenToAdd(owner)
	g.sql(t, "ALTER ROLE kept_scout RENAME TO geocoris_scout; ALTER ROLE kept_office RENAME TO geocoris_office")
	require.NoError(t, err)
	defer s.Close()
	require.Len(t, s.Notes(), 1)
	assert.Contains(t, s.Notes()[0], "an administrator runs in this database what geocoris season roles prints")
	_, err = s.Add(in(1, "", "North"))
	require.NoError(t, err)
	scout, _ := g.person(t, "scout", "geocoris_scout")
	_, err = season.Open(scout)
	assert.ErrorContains(t, err, "this role may not see the season")
	for range 2 { // twice does no harm
		g.sql(t, season.Roles)
	}
	_, err = opened(t, scout).Add(in(2, "", "North"))
	require.NoError(t, err)
	assert.Equal(t, []int64{1, 2}, listed(t, scout))
	assert.Empty(t, opened(t, owner).Notes())
}

// Who draws a field over another's ground sees no treatment of it, neither earlier nor later,
// nor does the other see what is put there; ground that nobody had is of who counts there first.
func TestTreatmentsOfGrowers(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	ann, annLogin := g.person(t, "ann", "geocoris_scout")
	ben, benLogin := g.person(t, "ben", "geocoris_scout")
	g.sql(t, `DELETE FROM geocoris.access WHERE role = 'geocoris_scout'; INSERT INTO geocoris.access (role, grower) VALUES ('`+annLogin+`', 'Ann'), ('`+benLogin+`', 'Ben')`)
	_, err := owner.Add(in(1, "Ann", "North"))
	require.NoError(t, err)
	treated := season.Record{Date: "2031-08-20", Note: "of Ann", Ground: in(1, "", "North").Fields[0].Boundary}
	_, err = opened(t, ann).AddRecord(treated)
	require.NoError(t, err)
	for what, field := range map[string]string{"of Ben": "East!", "a name that is as long": "North"} {
		v := in(2, "Ben", field)
		v.Fields[0].Name = what
		v.Kept = map[string]geo.Properties{what: {{Name: "grower", Value: "Ben"}}}
		v.Files[0].Name = what
		_, err = opened(t, ben).Add(v)
		require.NoError(t, err)
	}
	seen := func(address string) (notes []string) {
		records, err := opened(t, address).Records()
		require.NoError(t, err)
		for _, r := range records {
			notes = append(notes, r.Note)
		}
		return notes
	}
	assert.Equal(t, []string{"of Ann"}, seen(ann))
	assert.Empty(t, seen(ben), "a field over it")
	assert.Equal(t, annLogin, g.sql(t, "SELECT added_by FROM geocoris.records"))

	later := treated
	later.Date, later.Note = "2031-08-22", "of Ann by the owner"
	_, err = owner.AddRecord(later)
	require.NoError(t, err)
	spiteful := treated
	spiteful.Note = "of Ben"
	_, err = opened(t, ben).AddRecord(spiteful)
	require.NoError(t, err, "on a field of Ben's")
	assert.Equal(t, []string{"of Ann", "of Ann by the owner"}, seen(ann))
	assert.Equal(t, []string{"of Ben"}, seen(ben))

	elsewhere := season.Record{Date: "2031-08-21", Note: "nobody's", Ground: in(1, "", "Nowhere yet").Fields[0].Boundary}
	_, err = opened(t, ann).AddRecord(elsewhere)
	require.ErrorContains(t, err, "this is of a grower whose fields this role does not see")
	_, err = owner.AddRecord(elsewhere)
	require.NoError(t, err)
	assert.Len(t, seen(ann), 2)
	_, err = opened(t, ann).Add(in(3, "Ann", "Nowhere yet"))
	require.NoError(t, err)
	assert.Equal(t, []string{"of Ann", "nobody's", "of Ann by the owner"}, seen(ann))
	g.sql(t, "UPDATE geocoris.fields SET grower = 'Ben' WHERE name = 'Nowhere yet'")
	assert.Len(t, seen(ann), 2, "the field has another grower now")
	assert.Equal(t, []string{"of Ben", "nobody's"}, seen(ben))
	for _, call := range []string{"geocoris.growers_at('SRID=4326;POINT(1 1)', false)", "geocoris.place_record()"} {
		assert.Contains(t, g.refused(benLogin, "SELECT "+call), "42501")
	}
}
