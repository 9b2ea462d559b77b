package geofile_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// OGC 12-128r19, table 1: DATE is text as YYYY-MM-DD, DATETIME as
// YYYY-MM-DDTHH:MM:SS.SSSZ. They come as they stand; the last kind is what programs
// write that know SQL better than the standard.
func TestDatesOfAGeoPackageComeAsTheyStand(t *testing.T) {
	for kind, texts := range map[string][]string{
		"DATE":      {"2026-07-15", "1900-01-01", "15 July 2026", ""},
		"DATETIME":  {"2026-07-15T01:30:00.000Z", "2026-07-15T01:30:00Z", "2026-07-14T20:30:00-05:00", "2026-07-14 20:30:00", "2026-07-15"},
		"datetime":  {"2026-07-15T00:00:00.000Z"},
		"TIMESTAMP": {"2026-07-14 20:30:00"},
	} {
		path, db := opened(t, `ALTER TABLE "my fields" ADD COLUMN "when ""done""" `+kind)
		for _, text := range texts {
			_, err := db.Exec(`INSERT INTO "my fields" ("when ""done""") VALUES (?)`, text)
			require.NoError(t, err)
		}
		require.NoError(t, db.Close())
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		c, err := geofile.Decode("f.gpkg", bytes.NewReader(data), geofile.Limits{})
		require.NoError(t, err)
		require.Len(t, c.Features, 2+len(texts))
		unset, known := c.Features[0].Properties.Get(`when "done"`)
		assert.True(t, known, kind)
		assert.Nil(t, unset, kind)
		for i, text := range texts {
			got, _ := c.Features[2+i].Properties.Get(`when "done"`)
			assert.Equal(t, text, got, kind)
		}
	}
}
