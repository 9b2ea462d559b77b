//go:build small

package survey_test

import (
	"archive/zip"
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestASmallBuildSaysWhatToGiveInPlaceOfASpreadsheet(t *testing.T) {
	var book bytes.Buffer
	z := zip.NewWriter(&book)
	_, err := z.Create("xl/workbook.xml")
	require.NoError(t, err)
	require.NoError(t, z.Close())
	_, err = survey.Read([]geofile.Source{{Name: "counts.xlsx", Content: book.Bytes()}}, survey.Options{})
	var e *geofile.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "counts.xlsx: spreadsheets are not in this build", e.Error())
	assert.NotEmpty(t, e.Hint)
}

func TestASmallBuildSaysWhatToGiveInPlaceOfPoints(t *testing.T) {
	points := `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[-97,31]},"properties":{"name":"1","count":3}}]}`
	_, err := survey.Read([]geofile.Source{{Name: "counts.geojson", Content: []byte(points)}}, survey.Options{})
	var e *geofile.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "counts.geojson: counts on points are not in this build", e.Error())
	assert.NotEmpty(t, e.Hint)
}
