//go:build js || nosqlite

package season_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/season"
)

func TestABuildWithoutSQLiteSaysSo(t *testing.T) {
	_, err := season.Open("season.gpkg")
	assert.EqualError(t, err, "season files are not in this build")
	_, err = season.OpenToAdd("season.gpkg")
	assert.EqualError(t, err, "season files are not in this build")
	assert.False(t, season.Is("season.gpkg"))
}
