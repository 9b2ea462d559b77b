//go:build !js && !nosqlite

package season_test

import (
	"database/sql"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A season goes from a file into a database and back into a file as it was: numbers with
// gaps, fields of which no visit is left, stops and zones as they are kept.
func TestASeasonIsCopiedThereAndBack(t *testing.T) {
	folder := t.TempDir()
	g := inDatabase(t)
	file := opened(t, folder+"/s.gpkg")
	var last int64
	forsaken := in(2, "", "West ground")
	forsaken.Fields = append([]geo.Field{field("Of no visit", 1)}, forsaken.Fields...) // it has no stop
	for n, v := range []season.Visit{in(9, "Ann", "North", "East field"), forsaken, in(5, "Bo", "North")} {
		v.Stops[0].Properties = append(v.Stops[0].Properties, geo.Property{Name: "leaves", Value: 10.0}, geo.Property{Name: "rows", Value: `["week.csv:2"]`})
		id, err := file.Add(v)
		require.NoError(t, err)
		require.Equal(t, int64(n+1), id)
		last = id
	}
	other := in(2, "", "West ground")
	other.Files[0].Content = []byte("corrected")
	id, replaced, err := file.AddDay(other, true)
	require.NoError(t, err)
	require.Equal(t, []int64{2}, replaced)
	require.Greater(t, id, last)
	for range 2 {
		_, err = file.AddRecord(season.Record{Date: "2031-08-20", Note: "twice the same", Ground: field("", 0).Boundary, ReentryHours: 12})
		require.NoError(t, err)
	}
	base, back := opened(t, g.owner()), opened(t, folder+"/back.gpkg")
	for range 2 { // the second time nothing is new
		for _, pair := range [][2]*season.Season{{file, base}, {base, back}} {
			_, err := season.Copy(pair[0], pair[1])
			require.NoError(t, err)
		}
	}
	for _, s := range []*season.Season{base, back} {
		want, err := file.Digests()
		require.NoError(t, err)
		got, err := s.Digests()
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	}
	for _, v := range []int64{1, 3, id} {
		want, err := file.Visit(v)
		require.NoError(t, err)
		got, err := back.Visit(v)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for table, columns := range map[string]string{"stops": "stop, field, value, leaves, rows, hex(geom)", "zones": "zone, field, area_ha, stops, hex(geom)", "fields": "name, hex(geom)"} {
		assert.Equal(t, rowsOf(t, folder+"/s.gpkg", table, columns), rowsOf(t, folder+"/back.gpkg", table, columns), table)
	}
	copied, err := season.Copy(base, back)
	require.NoError(t, err)
	assert.Equal(t, season.Copied{Known: 3, KnownBefore: 2}, copied)
}

// rowsOf are the rows of a table of a file, in their order.
func rowsOf(t *testing.T, path, table, columns string) (rows []string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	found, err := db.Query(`SELECT json_array(` + columns + `) FROM ` + table + ` ORDER BY id`)
	require.NoError(t, err)
	defer found.Close()
	for found.Next() {
		var row string
		require.NoError(t, found.Scan(&row))
		rows = append(rows, row)
	}
	require.NoError(t, found.Err())
	require.NotEmpty(t, rows)
	return rows
}

// Of a copy that cannot be whole nothing stays.
func TestACopyIsWholeOrNothing(t *testing.T) {
	g := inDatabase(t)
	file, base := opened(t, t.TempDir()+"/s.gpkg"), opened(t, g.owner())
	_, err := base.Add(in(2, "", "North"))
	require.NoError(t, err)
	_, err = file.Add(in(1, "", "East field"))
	require.NoError(t, err)
	other := in(2, "", "North")
	other.Files[0].Content = []byte("others")
	_, err = file.Add(other)
	require.NoError(t, err)
	_, err = season.Copy(file, base)
	var held *season.HeldError
	require.ErrorAs(t, err, &held)
	assert.EqualError(t, err, g.database+": the season holds counts of North on 2031-08-03 already, as visit 1")
	assert.Equal(t, []int64{1}, listed(t, g.owner()))
	fields, err := base.Fields()
	require.NoError(t, err)
	assert.Len(t, fields, 1)
}
