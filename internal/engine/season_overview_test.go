//go:build !small && !js && !nosqlite

package engine_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// counting counts how often a season is asked, which may be a database far away.
type counting struct {
	*season.Season
	times int
}

func (a *counting) KeptZones() (map[int64][]season.Zone, error) {
	a.times++
	return a.Season.KeptZones()
}

func (a *counting) KeptStops() (map[int64]map[string]int, error) {
	a.times++
	return a.Season.KeptStops()
}

func (a *counting) Zones(visit int64) ([]season.Zone, error) {
	a.times++
	return a.Season.Zones(visit)
}

func (a *counting) StopsOf(visit int64) (map[string]int, error) {
	a.times++
	return a.Season.StopsOf(visit)
}

// However many visits there are, what was kept of them is asked for twice.
func TestAnOverviewAsksFewTimes(t *testing.T) {
	file, err := season.OpenToAdd(filepath.Join(t.TempDir(), "s.gpkg"))
	require.NoError(t, err)
	defer file.Close()
	for _, week := range []string{"week1", "week2", "week3"} {
		var m memory
		q := m.add(t, week)
		q.Open = func() (engine.SeasonWriter, error) { return file, nil }
		_, err := engine.AddToSeason(t.Context(), q)
		require.NoError(t, err)
	}
	s := &counting{Season: file}
	fields, err := engine.OverviewOfSeason(s)
	require.NoError(t, err)
	assert.Equal(t, 2, s.times)
	require.Len(t, fields, 2)
	for _, f := range fields {
		require.Len(t, f.Visits, 3)
		for _, v := range f.Visits {
			zones, err := file.Zones(v.ID)
			require.NoError(t, err)
			stops, err := file.StopsOf(v.ID)
			require.NoError(t, err)
			assert.Equal(t, stops[f.Name], v.Stops)
			assert.Subset(t, zones, v.Zones)
			assert.NotEmpty(t, v.Zones)
		}
	}
}
