//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A treatment that is added once more, such as by the same command, is there once.
func TestATreatmentIsAddedOnce(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	r := season.Record{Date: "2031-08-20", Note: "west half", Ground: field("", 0).Boundary, ReentryHours: 12}
	second := r
	second.Note = "second load"
	for _, c := range []struct {
		record season.Record
		id     int64
		known  bool
	}{{r, 1, false}, {second, 2, false}, {r, 1, true}, {second, 2, true}} {
		id, err := s.AddTreatment(c.record)
		assert.Equal(t, c.id, id)
		if c.known {
			assert.ErrorIs(t, err, season.ErrKnown)
		} else {
			require.NoError(t, err)
		}
	}
	records, err := s.Records()
	require.NoError(t, err)
	assert.Equal(t, []season.Record{r, second}, records)
}

// A treatment is one, whoever draws its ground from where and which way round: added, merged
// in whatever order, copied.
func TestATreatmentIsOneHoweverItIsDrawn(t *testing.T) {
	outer, hole := orb.Ring{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, orb.Ring{{1, 1}, {1, 2}, {2, 2}, {1, 1}}
	second := orb.Ring{{1, 3}, {2, 3}, {2, 3.5}, {1, 3}}
	aside := orb.Polygon{{{5, 0}, {6, 0}, {6, 1}, {5, 0}}}
	turned := func(r orb.Ring, by int) orb.Ring {
		r = slices.Concat(r[by:len(r)-1], r[:by])
		return append(r, r[0])
	}
	reversed := func(r orb.Ring) orb.Ring {
		r = slices.Clone(r)
		slices.Reverse(r)
		return r
	}
	base := season.Record{Date: "2031-08-20", Note: "n", Ground: orb.MultiPolygon{{outer, hole, second}, aside}}
	records := []season.Record{base}
	for _, ground := range []orb.MultiPolygon{
		{{turned(outer, 1), hole, second}, aside},
		{{reversed(outer), turned(reversed(hole), 2), second}, aside},
		{aside, {turned(outer, 3), second, turned(hole, 1)}},
		{{orb.Ring{{0, 0}, {4, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, hole, second}, aside},
	} {
		same := base
		same.Ground = ground
		records = append(records, same)
	}
	other := base
	other.Ground = orb.MultiPolygon{{outer, hole}, aside}
	var alone []season.Source
	for i, r := range records {
		s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
		_, err := s.AddTreatment(r)
		require.NoError(t, err)
		id, err := s.AddTreatment(base)
		assert.ErrorIs(t, err, season.ErrKnown, "%d", i)
		assert.Equal(t, int64(1), id)
		_, err = s.AddTreatment(other)
		require.NoError(t, err)
		alone = append(alone, season.Source{Name: "s", Reader: s})
	}
	var first []season.Record
	for range 2 {
		slices.Reverse(alone)
		into := opened(t, filepath.Join(t.TempDir(), "m.gpkg"))
		for _, from := range alone {
			_, err := into.Merge(from)
			require.NoError(t, err)
		}
		got, err := into.Records()
		require.NoError(t, err)
		assert.Len(t, got, 2)
		if first == nil {
			first = got
		}
		assert.Equal(t, first, got)
		copied, err := season.Copy(alone[2].Reader.(*season.Season), into)
		require.NoError(t, err)
		assert.Zero(t, copied.Treatments)
	}
}
