//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A number that a scout chose would stand in the way of those that follow: the largest one
// would let nobody add anything more.
func TestAScoutChoosesNoNumber(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	_, err := owner.Add(in(1, "", "North"))
	require.NoError(t, err)
	scout, login := g.person(t, "scout", "geocoris_scout")
	for _, statement := range []string{
		"INSERT INTO geocoris.visits (id, date, pest, unit, settings, digest) VALUES (9223372036854775807, '', '', '', '', '')",
		"INSERT INTO geocoris.fields (id, name, geom) SELECT 2, 'Far', geom FROM geocoris.fields",
		"INSERT INTO geocoris.records (id, date, note, reentry_hours, geom) SELECT 1, '', '', 0, geom FROM geocoris.fields",
	} {
		assert.Contains(t, g.refused(login, statement), "42501", statement)
	}
	id, err := opened(t, scout).Add(in(2, "", "East"))
	require.NoError(t, err)
	assert.Equal(t, int64(2), id)
}

// What a scout copies gets the next numbers; what the owner copies keeps its own.
func TestWhoCopiesIntoADatabaseNumbersIt(t *testing.T) {
	file := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	for n := range 3 {
		_, err := file.Add(in(n, "", "North"))
		require.NoError(t, err)
	}
	last := in(1, "", "North")
	last.Files[0].Content = []byte("corrected")
	_, replaced, err := file.AddDay(last, true)
	require.NoError(t, err)
	require.Equal(t, []int64{2}, replaced, "which leaves a gap")

	g := inDatabase(t)
	opened(t, g.owner())
	scout, _ := g.person(t, "scout", "geocoris_scout")
	for address, want := range map[string][]int64{scout: {1, 3, 2}, inDatabase(t).owner(): {1, 4, 3}} {
		copied, err := season.Copy(file, opened(t, address))
		require.NoError(t, err)
		assert.Equal(t, 3, copied.Visits)
		assert.Equal(t, want, listed(t, address), "by their days")
	}
}

// By SQL too a scout takes nobody else's visit out of the lists, whatever name the new one
// bears.
func TestAScoutReplacesNobodyElsesVisit(t *testing.T) {
	g := inDatabase(t)
	opened(t, g.owner())
	ann, annLogin := g.person(t, "ann", "geocoris_scout")
	_, ben := g.person(t, "ben", "geocoris_scout")
	first, err := opened(t, ann).Add(in(1, "", "North"))
	require.NoError(t, err)
	for _, author := range []string{ben, annLogin} {
		statement := "BEGIN; INSERT INTO geocoris.visits (date, pest, unit, settings, digest, author) VALUES ('', '', '', '', '', '" + author + "'); INSERT INTO geocoris.superseded SELECT 1, max(id) FROM geocoris.visits; COMMIT"
		assert.Contains(t, g.refused(ben, statement), "42501", author)
	}
	assert.Equal(t, []int64{first}, listed(t, ann))
}

// What the program itself replaces, a scout may replace: their own, also by one that is
// stored already, what nobody signed, and the same counts with one more who brought them.
func TestWhatAScoutReplaces(t *testing.T) {
	g := inDatabase(t)
	owner := opened(t, g.owner())
	ann, annLogin := g.person(t, "ann", "geocoris_scout")
	ben, benLogin := g.person(t, "ben", "geocoris_scout")
	file := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	unsigned, signed := in(3, "", "West ground"), in(4, "", "West ground")
	signed.Author = "Cleo"
	for _, v := range []season.Visit{unsigned, signed} {
		_, err := file.Add(v)
		require.NoError(t, err)
	}
	_, err := season.Copy(file, owner)
	require.NoError(t, err)

	s := opened(t, ben)
	corrected := func(v season.Visit) season.Visit {
		v.Files[0].Content = []byte("corrected")
		return v
	}
	_, replaced, err := s.AddDay(corrected(unsigned), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{1}, replaced)
	other := corrected(signed)
	other.Files[0].Name = "week4.csv"
	_, _, err = s.AddDay(other, true)
	assert.EqualError(t, err, g.database+": this role may not replace a visit that another one added")

	a := opened(t, ann)
	wrong, err := a.Add(on("2031-07-08", "A"))
	require.NoError(t, err)
	right, err := a.Add(on("2031-08-07", "A"))
	require.NoError(t, err)
	id, replaced, err := a.AddInPlace(on("2031-08-07", "A"), false, wrong)
	require.NoError(t, err)
	assert.Equal(t, right, id)
	assert.Equal(t, []int64{wrong}, replaced)

	bens := opened(t, filepath.Join(t.TempDir(), "ben.gpkg"))
	same := on("2031-08-07", "A")
	same.Author = benLogin
	_, err = bens.Add(same)
	require.NoError(t, err)
	merged, err := s.Merge(season.Source{Name: "ben", Reader: bens})
	require.NoError(t, err)
	require.Len(t, merged.Renumbered, 1)
	v, err := s.Visit(merged.Renumbered[0].To)
	require.NoError(t, err)
	assert.Equal(t, season.Authors(annLogin, benLogin), v.Author)
}
