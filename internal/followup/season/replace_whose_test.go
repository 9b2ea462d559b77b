//go:build !js && !nosqlite

package season_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// scoutedOn is an invented visit of field A, with its day in its file, and a count at each stop.
func scoutedOn(day, author string, counts ...float64) season.Visit {
	v := on(day, "A")
	v.Author, v.Stops = author, nil
	v.Files[0].Content = fmt.Append(nil, day, counts)
	for i, n := range counts {
		v.Stops = append(v.Stops, geo.Feature{Geometry: orb.Point{-100.991, 35.003 + float64(i)/1000}, Properties: geo.Properties{
			{Name: "stop", Value: fmt.Sprint(i + 1)}, {Name: "field", Value: "A"}, {Name: "date", Value: day}, {Name: "value", Value: n}, {Name: "count", Value: 10 * n}, {Name: "leaves", Value: 10.0}}})
	}
	return v
}

// A wrong number takes nothing out where the counts are stored already.
func TestATwinTakesNoOtherVisitOut(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	first, _, err := s.AddDay(scoutedOn("2031-08-01", "", 1, 2, 3), false)
	require.NoError(t, err)
	second, _, err := s.AddDay(scoutedOn("2031-08-08", "", 4, 5, 6), false)
	require.NoError(t, err)
	var refused *season.HeldError
	_, replaced, err := s.AddInPlace(scoutedOn("2031-08-08", "", 4, 5, 6), true, first)
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, second, refused.Twin)
	assert.ErrorContains(t, err, "visit 1 cannot be replaced: it is of another day and other counts, and these are stored already, as visit 2")
	assert.Empty(t, replaced)
	assert.Equal(t, []string{"2031-08-01", "2031-08-08"}, held(t, s))

	// One of its own day goes.
	beside, err := s.Add(scoutedOn("2031-08-08", "", 7, 8, 9))
	require.NoError(t, err)
	id, replaced, err := s.AddInPlace(scoutedOn("2031-08-08", "", 4, 5, 6), false, beside)
	require.NoError(t, err)
	assert.Equal(t, second, id)
	assert.Equal(t, []int64{beside}, replaced)
	assert.Equal(t, []string{"2031-08-01", "2031-08-08"}, held(t, s))

	// So does one of the same counts that tell no day.
	undated := func(settings string) season.Visit {
		v := counted(settings, map[string][]string{"A": {""}}, "A")
		v.Date = ""
		return v
	}
	wrong, _, err := s.AddDay(undated("wrong"), false)
	require.NoError(t, err)
	right, _, err := s.AddDay(undated("right"), false)
	require.NoError(t, err)
	id, replaced, err = s.AddInPlace(undated("right"), false, wrong)
	require.NoError(t, err)
	assert.Equal(t, right, id)
	assert.Equal(t, []int64{wrong}, replaced)
}

// By its number too a visit is only replaced by who brought it.
func TestAVisitByItsNumberIsItsAuthors(t *testing.T) {
	for _, c := range []struct{ there, author, by string }{
		{"Anna", "Anna", ""}, {"", "Anna", ""}, {"", "", ""}, {"Ben", "Anna", "Ben"}, {"Ben", "", "Ben"},
	} {
		t.Run(c.there+" by "+c.author, func(t *testing.T) {
			s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
			first, err := s.Add(scoutedOn("2031-08-01", c.there, 1, 2, 3))
			require.NoError(t, err)
			_, replaced, err := s.AddInPlace(scoutedOn("2031-08-08", c.author, 4, 5, 6), true, first)
			if c.by == "" {
				require.NoError(t, err)
				assert.Equal(t, []int64{first}, replaced)
				return
			}
			var refused *season.HeldError
			require.ErrorAs(t, err, &refused)
			assert.Equal(t, c.by, refused.By)
			assert.Equal(t, []string{"2031-08-01"}, held(t, s))
		})
	}
}

// What others brought is not replaced, and what nobody is known to have brought is anybody's.
func TestReplacingKeepsTheVisitsOfOthers(t *testing.T) {
	day := map[string][]string{"A": {"2031-08-01"}}
	of := func(settings, author string) season.Visit {
		v := counted(settings, day, "A")
		v.Author = author
		return v
	}
	for _, c := range []struct {
		name     string
		there    []string // authors, of visits side by side
		author   string
		replaced []int64
		by       string
	}{
		{"her own", []string{"Anna"}, "Anna", []int64{1}, ""},
		{"nobody's", []string{""}, "Anna", []int64{1}, ""},
		{"hers, by nobody", []string{"Anna"}, "", nil, "Anna"},
		{"another's", []string{"Ben"}, "Anna", nil, "Ben"},
		{"hers beside another's", []string{"Ben", "Anna"}, "Anna", []int64{2}, ""},
		{"of several, by nobody", []string{"Ben", "Anna"}, "", nil, "Ben"},
		{"nobody's beside hers, by nobody", []string{"", "Anna"}, "", nil, "Anna"},
		{"nobody's, by nobody", []string{""}, "", []int64{1}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
			for i, author := range c.there {
				_, err := s.Add(of(fmt.Sprint(i), author))
				require.NoError(t, err)
			}
			_, replaced, err := s.AddDay(of("new", c.author), true)
			assert.Equal(t, c.replaced, replaced)
			var held *season.HeldError
			if errors.As(err, &held) {
				assert.Equal(t, c.by, held.By)
				assert.ErrorContains(t, err, "brought by "+c.by)
			} else {
				require.NoError(t, err)
				assert.Empty(t, c.by)
			}
		})
	}
}

// Where two visits of a day were kept, who brought one puts another in its place by its
// number: the one beside it was there before, and stays.
func TestAVisitBesideAnothersIsReplacedByItsNumber(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	annas, err := s.Add(scoutedOn("2031-08-01", "Anna", 1, 2, 3))
	require.NoError(t, err)
	bens, err := s.Add(scoutedOn("2031-08-01", "Ben", 4, 5, 6))
	require.NoError(t, err)
	for i, replace := range []bool{false, true} {
		var id int64
		var replaced []int64
		id, replaced, err = s.AddInPlace(scoutedOn("2031-08-01", "Ben", 40, 50, float64(60+i)), replace, bens)
		require.NoError(t, err)
		assert.Equal(t, []int64{bens}, replaced)
		bens = id
	}
	assert.Equal(t, []string{"2031-08-01", "2031-08-01"}, held(t, s))

	// A visit of another day does not make room beside them.
	other, err := s.Add(scoutedOn("2031-08-08", "Ben", 7, 8, 9))
	require.NoError(t, err)
	var refused *season.HeldError
	_, _, err = s.AddInPlace(scoutedOn("2031-08-01", "Ben", 9, 9, 9), false, other)
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, bens, refused.Visit, "his own is named, not the first")
	assert.Empty(t, refused.Anothers)

	// Anna's own visit is named to her, and to Cleo whose the first is.
	_, _, err = s.AddDay(scoutedOn("2031-08-01", "Anna", 8, 8, 8), false)
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, annas, refused.Visit)
	assert.Empty(t, refused.Anothers)
	_, _, err = s.AddDay(scoutedOn("2031-08-01", "Cleo", 8, 8, 8), false)
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, annas, refused.Visit)
	assert.Equal(t, "Anna", refused.Anothers)
}

// All fields that a visit holds are named.
func TestAllFieldsOfAHeldDayAreNamed(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	_, _, err := s.AddDay(on("2031-08-01", "A", "B"), false)
	require.NoError(t, err)
	again := on("2031-08-01", "A", "B")
	again.Files[0].Content = []byte("others")
	_, _, err = s.AddDay(again, false)
	assert.ErrorContains(t, err, "the season holds counts of A, B on 2031-08-01 already, as visit 1")
}
