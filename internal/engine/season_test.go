package engine_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// memory is a season without a file.
type memory struct {
	visits  []season.Visit
	records []season.Record
	full    bool // takes no treatment
}

func (m *memory) Add(v season.Visit) (int64, error) {
	for _, known := range m.visits {
		if known.Settings == v.Settings && string(known.Files[0].Content) == string(v.Files[0].Content) {
			return known.ID, season.ErrKnown
		}
	}
	v.ID = int64(len(m.visits) + 1)
	m.visits = append(m.visits, v)
	return v.ID, nil
}

func (m *memory) AddDay(v season.Visit, _ bool) (id int64, replaced []int64, err error) {
	id, err = m.Add(v)
	return id, nil, err
}

func (m *memory) AddInPlace(v season.Visit, _ bool, _ ...int64) (id int64, replaced []int64, err error) {
	return m.AddDay(v, true)
}

func (m *memory) AddTreatment(r season.Record) (int64, error) {
	if m.full {
		return 0, errors.New("no room")
	}
	m.records = append(m.records, r)
	return int64(len(m.records)), nil
}

func (m *memory) Fields() (all []geo.Field, err error) {
	if len(m.visits) > 0 {
		all = m.visits[0].Fields
	}
	return all, nil
}

func (m *memory) List() (lines []season.Line, err error) {
	for _, v := range m.visits {
		lines = append(lines, season.Line{ID: v.ID, Date: v.Date, Stops: len(v.Stops), Files: []string{v.Files[0].Name}})
	}
	return lines, nil
}

func (m *memory) Visit(id int64) (season.Visit, error) {
	if id < 1 || id > int64(len(m.visits)) {
		return season.Visit{}, errors.New("there is no such visit")
	}
	return m.visits[id-1], nil
}

func (m *memory) Beside() ([]season.Beside, error) { return nil, nil }

func (m *memory) Records() ([]season.Record, error) { return m.records, nil }

// add asks for a week of the demo to be added.
func (m *memory) add(t testing.TB, week string) engine.SeasonAddRequest {
	q := morning(t, week)
	return engine.SeasonAddRequest{
		Season: "farm/season.gpkg", Open: func() (engine.SeasonWriter, error) { return m, nil },
		Visit: &engine.VisitRequest{Setup: q.Setup, Samples: q.Samples, Boundary: q.Boundary},
	}
}

// treated is invented ground that was sprayed.
func treated(coordinates string) *engine.Source {
	return &engine.Source{Name: "farm/sprayed.geojson", Content: []byte(`{"type":"Feature","properties":{"note":"invented"},"geometry":{"type":"Polygon","coordinates":[[` + coordinates + `]]}}`)}
}

const (
	inPivot = "[-101.6,35.9],[-101.599,35.9],[-101.599,35.901],[-101.6,35.9]"
	faraway = "[-99.6,35.9],[-99.599,35.9],[-99.599,35.901],[-99.6,35.9]"
)

func TestASeasonGivesBytesBack(t *testing.T) {
	var m memory
	q := m.add(t, "week1")
	q.Treated, q.TreatedOn = treated(inPivot), "2026-07-09"
	stored, err := engine.AddToSeason(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, engine.SeasonAddOutcome{
		Visits: []engine.StoredVisit{{ID: 1, Date: "2026-07-08", Stops: 50}}, Treatments: []engine.StoredTreatment{{ID: 1, Date: "2026-07-09"}},
	}, stored)
	_, err = engine.AddToSeason(t.Context(), m.add(t, "week1"))
	assert.EqualError(t, err, "season.gpkg: the season holds these counts with these settings already, as visit 1")
	other := m.add(t, "week1")
	other.Visit.Settings.TreatAt = 50
	_, err = engine.AddToSeason(t.Context(), other)
	require.NoError(t, err)

	list, err := engine.ListSeason(&m)
	require.NoError(t, err)
	assert.Len(t, list.Visits, 2)
	assert.Len(t, list.Treatments, 1)

	files, err := engine.ExportSeason(engine.SeasonExportRequest{Season: &m})
	require.NoError(t, err)
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"week1.csv", "2-1-week1.csv", "fields.geojson", "treatments.geojson"}, names)
	assert.Equal(t, source(t, "week1.csv").Content, files[0].Content)
	assert.Contains(t, string(files[2].Content), `"name":"Pivot"`)
	again, err := engine.TreatmentsOf(engine.Source{Name: files[3].Name, Content: files[3].Content}, "")
	require.NoError(t, err)
	require.Len(t, again, 1)
	assert.Equal(t, m.records[0], season.Record{Date: again[0].Date, Note: again[0].Note, ReentryHours: again[0].ReentryHours, Ground: again[0].Ground})
	files, err = engine.ExportSeason(engine.SeasonExportRequest{Season: &m, Visits: []int64{2}})
	require.NoError(t, err)
	assert.Equal(t, "week1.csv", files[0].Name)
	assert.Len(t, files, 2, "treatments are of the whole season")
	_, err = engine.ExportSeason(engine.SeasonExportRequest{Season: &m, Visits: []int64{3}})
	assert.Error(t, err)

	last, err := engine.ChosenVisit(&m)
	require.NoError(t, err)
	assert.EqualValues(t, 2, last.ID)
	_, err = engine.ChosenVisit(&m, 0)
	assert.Error(t, err, "no visit has the number 0")
}

// Nothing is opened before everything can be added, and what was stored before an error
// is reported.
func TestASeasonIsOpenedLast(t *testing.T) {
	var m memory
	q := m.add(t, "week1")
	q.Treated = treated(inPivot)
	q.Open = func() (engine.SeasonWriter, error) { return nil, errors.New("opened") }
	_, err := engine.AddToSeason(t.Context(), q)
	assert.ErrorContains(t, err, "does not give its day")

	m.full = true
	q = m.add(t, "week1")
	q.Treated, q.TreatedOn = treated(inPivot), "2026-07-09"
	stored, err := engine.AddToSeason(t.Context(), q)
	assert.EqualError(t, err, "no room")
	assert.Len(t, stored.Visits, 1)
	assert.Empty(t, stored.Treatments)
}

// A treatment that lies in no field of the season is named, when it comes in and when
// visits are compared; where all lie in one nothing is said.
func TestTreatmentsOfASeasonInNoFieldAreNamed(t *testing.T) {
	var m memory
	for _, week := range []string{"week1", "week2"} {
		_, err := engine.AddToSeason(t.Context(), m.add(t, week))
		require.NoError(t, err)
	}
	sprayed := func(coordinates, day string) []string {
		q := m.add(t, "week1")
		q.Visit, q.Treated, q.TreatedOn = nil, treated(coordinates), day
		stored, err := engine.AddToSeason(t.Context(), q)
		require.NoError(t, err)
		require.Len(t, stored.Treatments, 1)
		return stored.Notes
	}
	compared := func() (lines []string) {
		w, ok, err := engine.Adopted([]engine.Week{{Season: &m}})
		require.NoError(t, err)
		require.True(t, ok)
		made, err := engine.Compare(t.Context(), engine.CompareRequest{Setup: w, Compare: engine.CompareDefaults(), Weeks: []engine.Week{{Season: &m, File: engine.Source{Name: "farm/season.gpkg"}}}})
		require.NoError(t, err)
		for _, note := range made.Notes {
			if strings.Contains(note, "no field") {
				lines = append(lines, note)
			}
		}
		return lines
	}
	assert.Empty(t, sprayed(inPivot, "2026-07-09"))
	assert.Empty(t, compared())
	assert.Equal(t, []string{`sprayed.geojson: the treatment of 2026-07-10 (invented) lies in no field of the season so far`}, sprayed(faraway, "2026-07-10"))
	assert.Equal(t, []string{`season.gpkg: the treatment of 2026-07-10 (invented) lies in no field, and is left out`}, compared())
}

// Before the first visit a season has no fields, and treatments may come first.
func TestATreatmentMayComeBeforeTheFirstVisit(t *testing.T) {
	var m memory
	q := m.add(t, "week1")
	q.Visit, q.Treated, q.TreatedOn = nil, treated(faraway), "2026-07-09"
	stored, err := engine.AddToSeason(t.Context(), q)
	require.NoError(t, err)
	assert.Empty(t, stored.Notes)
}
