//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// replacedIn puts a visit in place of those of its day.
func replacedIn(t require.TestingT, path string, v season.Visit) {
	s, err := season.OpenToAdd(path)
	require.NoError(t, err)
	defer s.Close()
	_, replaced, err := s.AddDay(v, true)
	require.NoError(t, err)
	require.NotEmpty(t, replaced)
}

// alternative is one of the visits of one field's day, one of which can take the place of another.
func alternative(n int, author string) season.Visit {
	v := scoutedOn("2031-08-01", author, float64(n), 2, 3)
	return v
}

func contentsOf(t require.TestingT, path string) (texts []string) {
	for _, v := range contentOf(t, path).Visits {
		texts = append(texts, string(v.Files[0].Content))
	}
	return texts
}

// An older copy does not bring back what was replaced, nor does it keep it; what came back
// in one of them stays.
func TestAnOlderCopyBringsNothingBack(t *testing.T) {
	folder := t.TempDir()
	older, newer := filepath.Join(folder, "older.gpkg"), filepath.Join(folder, "newer.gpkg")
	first, second := alternative(1, "Anna"), alternative(2, "Anna")
	made(t, older, []season.Visit{first})
	copied(t, older, newer)
	replacedIn(t, newer, second)
	want := []string{string(second.Files[0].Content)}
	for _, order := range [][2]string{{older, newer}, {newer, older}} {
		into := copied(t, order[0], filepath.Join(t.TempDir(), "into.gpkg"))
		m, err := merge(t, into, order[1])
		require.NoError(t, err)
		assert.Equal(t, want, contentsOf(t, into))
		assert.Empty(t, m.Beside)
		if order[0] == older {
			assert.Equal(t, []int64{1}, m.Replaced)
		} else {
			assert.Len(t, m.Older, 1)
		}
		testkit.AssertGeoPackage(t, into)
		again, err := merge(t, into, older, newer)
		require.NoError(t, err)
		require.Len(t, again.Older, 1)
		assert.Contains(t, again.Older[0].String(), "2031-")
		assert.Contains(t, again.Older[0].String(), ", Anna")
		twice, err := merge(t, into, older, copied(t, older, filepath.Join(t.TempDir(), "copy.gpkg")))
		require.NoError(t, err)
		assert.Len(t, twice.Older, 1, "named once, whoever brings it")
		assert.Zero(t, again.Visits)
		assert.Equal(t, want, contentsOf(t, into))
	}
	back := copied(t, newer, filepath.Join(folder, "back.gpkg"))
	replacedIn(t, back, first)
	m, err := merge(t, back, older, newer)
	require.NoError(t, err)
	assert.Zero(t, m.Visits)
	assert.Equal(t, []string{string(first.Files[0].Content)}, contentsOf(t, back))
}

// Two seasons in which each of two visits took the place of the other lose neither.
func TestVisitsThatReplacedEachOtherBothStay(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a.gpkg"), filepath.Join(folder, "b.gpkg")
	made(t, a, []season.Visit{alternative(1, "")})
	made(t, b, []season.Visit{alternative(2, "")})
	replacedIn(t, a, alternative(2, ""))
	replacedIn(t, b, alternative(1, ""))
	for range 2 {
		_, err := merge(t, a, b)
		require.NoError(t, err)
		assert.Len(t, contentOf(t, a).Visits, 2)
	}
}

// Copies of one season in which visits were added and replaced are merged to the same,
// whatever comes first.
func TestOrderOfMergingCorrectionsDoesNotMatter(t *testing.T) {
	var run int
	root := t.TempDir()
	testkit.Property(t, func(t *rapid.T) {
		run++
		folder := filepath.Join(root, fmt.Sprint(run))
		require.NoError(t, os.Mkdir(folder, 0o700))
		defer os.RemoveAll(folder)
		at := func(name string) string { return filepath.Join(folder, name+".gpkg") }
		made(t, at("origin"), []season.Visit{alternative(1, "")})
		var abc []string
		for i, name := range []string{"a", "b", "c"} {
			path := copied(t, at("origin"), at(name))
			corrections := rapid.SliceOfN(rapid.IntRange(0, 2), 0, 3).Draw(t, "corrections of "+name)
			last := 1
			for _, n := range corrections {
				if next := 1 + (10*i+n)*min(n, 1); next != last { // 1 again, or one of its own
					replacedIn(t, path, alternative(next, ""))
					last = next
				}
			}
			abc = append(abc, path)
		}
		_, err := merge(t, at("all"), abc...)
		require.NoError(t, err)
		want := contentOf(t, at("all"))
		require.NotEmpty(t, want.Visits)

		order := rapid.Permutation(abc).Draw(t, "order")
		left, last := mergedEachWay(t, at, order, want)
		before, err := os.ReadFile(last)
		require.NoError(t, err)
		_, err = merge(t, last, left, at("all"), at("origin"))
		require.NoError(t, err)
		after, err := os.ReadFile(last)
		require.NoError(t, err)
		require.Equal(t, before, after, "all once more")
	})
}

// What was replaced in a file stays so in a database that it was merged or copied into, and
// in what is copied back; what a scout may not replace stays beside what came in its place.
func TestWhatWasReplacedStaysSoInADatabase(t *testing.T) {
	folder := t.TempDir()
	older, newer := filepath.Join(folder, "older.gpkg"), filepath.Join(folder, "newer.gpkg")
	first, second := alternative(1, "Anna"), alternative(2, "Anna")
	made(t, older, []season.Visit{first})
	copied(t, older, newer)
	replacedIn(t, newer, second)
	source := func(path string) season.Source { return season.Source{Name: path, Reader: opened(t, path)} }
	want := []string{string(second.Files[0].Content)}

	merged := inDatabase(t).owner()
	s := opened(t, merged)
	for i, c := range []struct {
		from     string
		replaced []int64
		older    int
	}{{older, nil, 0}, {newer, []int64{1}, 0}, {older, nil, 1}} {
		m, err := s.Merge(source(c.from))
		require.NoError(t, err)
		assert.Equal(t, c.replaced, m.Replaced, i)
		assert.Len(t, m.Older, c.older, i)
	}
	assert.Equal(t, want, contentsOf(t, merged))

	g := inDatabase(t)
	owner := opened(t, g.owner())
	_, err := season.Copy(source(newer).Reader.(*season.Season), owner)
	require.NoError(t, err)
	back := filepath.Join(folder, "back.gpkg")
	_, err = season.Copy(owner, opened(t, back))
	require.NoError(t, err)
	done, err := season.Copy(source(older).Reader.(*season.Season), owner)
	require.NoError(t, err)
	assert.Equal(t, season.Copied{}, done)
	_, err = merge(t, back, older)
	require.NoError(t, err)
	assert.Equal(t, want, contentsOf(t, back))
	_, err = owner.Merge(source(older))
	require.NoError(t, err)
	assert.Equal(t, want, contentsOf(t, g.owner()))

	shared := inDatabase(t)
	_, err = season.Copy(source(older).Reader.(*season.Season), opened(t, shared.owner()))
	require.NoError(t, err)
	scout, _ := shared.person(t, "scout", "geocoris_scout")
	m, err := opened(t, scout).Merge(source(newer))
	require.NoError(t, err)
	assert.Empty(t, m.Replaced)
	assert.Len(t, contentsOf(t, scout), 2, "Anna's visit is not this scout's")
	from := opened(t, scout)
	kept := filepath.Join(folder, "kept.gpkg")
	_, err = opened(t, kept).Merge(season.Source{Name: "scout", Reader: from})
	require.NoError(t, err)
	assert.Len(t, contentsOf(t, kept), 2)
}
