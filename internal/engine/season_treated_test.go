package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// recordsAlone is an invented season with treatments.
type recordsAlone struct {
	engine.SeasonReader
	all []season.Record
}

func (r recordsAlone) Records() ([]season.Record, error) { return r.all, nil }

// A visit that is shown says what was sprayed before it and since, of its fields alone.
func TestAVisitTellsOfTreatmentsOfItsFields(t *testing.T) {
	within, around, elsewhere := given.Rectangle(0.001, 0.001, 0.002, 0.002), given.Rectangle(-1, -1, 1, 1), given.Rectangle(2, 2, 3, 3)
	v := season.Visit{Date: "2031-08-12/2031-08-14", Fields: []geo.Field{{Name: "North", Boundary: given.Rectangle(0, 0, 0.003, 0.003)}}}
	file := recordsAlone{all: []season.Record{
		{Date: "2031-08-20", Ground: around}, {Date: "2031-08-01", Ground: within}, {Date: "2031-08-08", Ground: within, Note: "product A"},
		{Date: "2031-08-12", Ground: within}, {Date: "2031-08-15", Ground: elsewhere}, {Ground: within}, {Date: "2031-08-16", Ground: nil},
	}}
	notes, err := engine.TreatedNotes(file, v)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"ground of North (product A) was treated on 2031-08-08, before this visit: compare tells whether it worked",
		"ground of North was treated on 2031-08-12, while this visit was made",
		"ground of North was treated on 2031-08-20, after this visit, which does not know of it",
	}, notes)
	v.Date = "2031-08-12"
	notes, err = engine.TreatedNotes(file, v)
	require.NoError(t, err)
	assert.Contains(t, notes, "ground of North was treated on 2031-08-12, the day of this visit")
	v.Date = ""
	notes, err = engine.TreatedNotes(file, v)
	require.NoError(t, err)
	assert.Empty(t, notes, "nobody knows whether before or after")
}
