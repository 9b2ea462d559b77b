//go:build js || nosqlite

package geofile_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

func TestABuildWithoutSQLiteNamesTheFileAndWhatToGiveInstead(t *testing.T) {
	_, err := geofile.Decode("farm.gpkg", strings.NewReader("SQLite format 3\x00"), geofile.Limits{})
	var e *geofile.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "farm.gpkg: GeoPackages are not in this build", e.Error())
	assert.NotEmpty(t, e.Hint)
	assert.ErrorContains(t, geofile.WriteGeoPackage(&bytes.Buffer{}, nil), "not in this build")
}
