//go:build !small && !js && !nosqlite

package engine_test

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
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

// A field that was renamed stands in the overview once, by its last name, with all its visits.
func TestAnOverviewHasARenamedFieldOnce(t *testing.T) {
	file, err := season.OpenToAdd(filepath.Join(t.TempDir(), "s.gpkg"))
	require.NoError(t, err)
	defer file.Close()
	for week, name := range map[string]string{"week2": "Pivot", "week3": "Home pivot"} {
		var m memory
		q := m.add(t, week)
		q.Open = func() (engine.SeasonWriter, error) { return file, nil }
		q.Visit.Boundary.Content = []byte(strings.Replace(string(q.Visit.Boundary.Content), `"Pivot"`, fmt.Sprintf("%q", name), 1))
		_, err := engine.AddToSeason(t.Context(), q)
		require.NoError(t, err)
	}
	fields, err := engine.OverviewOfSeason(file)
	require.NoError(t, err)
	days := map[string][]string{}
	for _, f := range fields {
		for _, v := range f.Visits {
			days[f.Name] = append(days[f.Name], v.Date)
		}
	}
	both := []string{"2026-07-15", "2026-07-22"}
	assert.Equal(t, map[string][]string{"Home pivot": both, "Corner block": both}, days)
	near, err := engine.Narrowed(file, "Home pivot")
	require.NoError(t, err)
	names, err := engine.NamesOf(near, "Home pivot")
	require.NoError(t, err)
	assert.Equal(t, []string{"Home pivot", "Pivot"}, names)
}

// A file of treated ground that is given once more adds nothing, and that is said.
func TestATreatmentIsStoredOnce(t *testing.T) {
	file, err := season.OpenToAdd(filepath.Join(t.TempDir(), "s.gpkg"))
	require.NoError(t, err)
	defer file.Close()
	q := engine.SeasonAddRequest{Season: "s.gpkg", Open: func() (engine.SeasonWriter, error) { return file, nil }, Treated: treated(inPivot), TreatedOn: "2026-07-09"}
	stored, err := engine.AddToSeason(t.Context(), q)
	require.NoError(t, err)
	assert.Len(t, stored.Treatments, 1)
	stored, err = engine.AddToSeason(t.Context(), q)
	require.NoError(t, err)
	assert.Empty(t, stored.Treatments)
	require.Len(t, stored.Notes, 1)
	assert.Contains(t, stored.Notes[0], "is stored already, as treatment 1")
}

// Counts that went in with one field alone are another visit when they come again with
// another field.
func TestTheSameCountsOfAnotherField(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	add := func(name, field string) (engine.SeasonAddOutcome, error) {
		file, err := season.OpenToAdd(path)
		require.NoError(t, err)
		defer file.Close()
		var m memory
		q := m.add(t, "week1")
		q.Season, q.Open = path, func() (engine.SeasonWriter, error) { return file, nil }
		q.Visit.Samples[0].Name = name
		var all struct {
			Type     string            `json:"type"`
			Features []json.RawMessage `json:"features"`
		}
		require.NoError(t, json.Unmarshal(q.Visit.Boundary.Content, &all))
		all.Features = slices.DeleteFunc(all.Features, func(f json.RawMessage) bool { return !strings.Contains(string(f), field) })
		require.Len(t, all.Features, 1)
		q.Visit.Boundary.Content, err = json.Marshal(all)
		require.NoError(t, err)
		return engine.AddToSeason(t.Context(), q)
	}
	_, err := add("week1.csv", "Pivot")
	require.NoError(t, err)
	stored, err := add("week1.csv", "Corner block")
	require.NoError(t, err)
	require.Len(t, stored.Visits, 1)
	assert.EqualValues(t, 2, stored.Visits[0].ID)
	var said engine.HintedError
	for i, field := range []string{"Pivot", "Corner block"} {
		_, err = add("week1.csv", field)
		require.ErrorAs(t, err, &said)
		assert.EqualError(t, err, fmt.Sprint("s.gpkg: the season holds these counts with these settings already, as visit ", i+1))
	}
}
