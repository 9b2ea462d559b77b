//go:build !small

package survey_test

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Counts in one sheet and places in another: the refusal says how to put them together.
func TestCountsAndPlacesInTwoSheets(t *testing.T) {
	for _, first := range []string{"Counts", "Places"} {
		f := excelize.NewFile()
		sheets := map[string][][]any{
			"Counts": {{"Stop", "Count", "Leaves"}, {"A", 12, 10}, {"B", 7, 10}},
			"Places": {{"Stop", "Longitude", "Latitude"}, {"A", -101.6, 35.9}, {"B", -101.601, 35.9}},
		}
		second := map[string]string{"Counts": "Places", "Places": "Counts"}[first]
		require.NoError(t, f.SetSheetName("Sheet1", first))
		_, err := f.NewSheet(second)
		require.NoError(t, err)
		for name, rows := range sheets {
			for i, row := range rows {
				cell, err := excelize.CoordinatesToCellName(1, i+1)
				require.NoError(t, err)
				require.NoError(t, f.SetSheetRow(name, cell, &row))
			}
		}
		var b bytes.Buffer
		require.NoError(t, f.Write(&b))
		_, err = decode(t, "week.xlsx", b.String(), survey.Options{})
		t.Log(err)
		assert.ErrorContains(t, err, `sheet "Counts" has the counts and sheet "Places" the places`)
		places, err := survey.ReadPlaces(geofile.Source{Name: "places.csv", Content: []byte("stop,longitude,latitude\nA,-101.6,35.9\nB,-101.601,35.9\n")})
		require.NoError(t, err)
		s, err := decode(t, "week.xlsx", b.String(), survey.Options{Places: places})
		require.NoError(t, err, "with the places in a file of their own")
		assert.Len(t, s.Stops, 2)
	}
}

// A sheet with places of its own is read as it is, behind one of places alone.
func TestCountsWithPlacesBehindASheetOfPlaces(t *testing.T) {
	f := excelize.NewFile()
	require.NoError(t, f.SetSheetName("Sheet1", "Places"))
	_, err := f.NewSheet("Counts")
	require.NoError(t, err)
	for sheet, rows := range map[string][][]any{
		"Places": {{"Stop", "Longitude", "Latitude"}, {"A", -101.6, 35.9}, {"B", -101.601, 35.9}},
		"Counts": {{"Stop", "Longitude", "Latitude", "Count", "Leaves"}, {"A", -101.6, 35.9, 12, 10}, {"B", -101.601, 35.9, 7, 10}},
	} {
		for i := range rows {
			require.NoError(t, f.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &rows[i]))
		}
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	s, err := decode(t, "week.xlsx", b.String(), survey.Options{Incoming: true})
	require.NoError(t, err)
	assert.Len(t, s.Stops, 2)
	assert.Equal(t, []string{`week.xlsx: read from sheet "Counts"`}, s.Notes)
}
