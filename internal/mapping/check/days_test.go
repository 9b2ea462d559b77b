package check_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// walked are rows of a field whose west edge is given, a day for each stop.
func walked(west float64, days ...string) string {
	var b strings.Builder
	for i, day := range days {
		fmt.Fprintf(&b, "%g-%d,%g,35.9005,30,10,%s\n", west, i, west+0.0005+float64(i)/1e5, day)
	}
	return b.String()
}

func square(t *testing.T, name string, west float64) geo.Field {
	text := fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[[[%[2]g,35.9],[%[3]g,35.9],[%[3]g,35.902],[%[2]g,35.902],[%[2]g,35.9]]]}}`, name, west, west+0.002)
	c, err := geofile.Decode("field.geojson", strings.NewReader(text), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	return fields[0]
}

// Fields walked each on its own day are as map takes them: no doubt, one note.
func TestDaysAreJudgedFieldByField(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,date\n"
	fields := []geo.Field{square(t, "West", -101.6), square(t, "East", -101.59)}
	lines := func(table string, fields []geo.Field) (lines, notes []string) {
		r, err := check.Run(surveyOf(t, t.TempDir(), []string{head + table}, survey.Options{}), fields)
		require.NoError(t, err)
		return r.Lines(func(english string) string { return english }), r.Notes
	}
	west := walked(-101.6, "2026-07-10", "2026-07-10", "2026-07-10")
	said, notes := lines(west+walked(-101.59, "2026-07-13", "2026-07-13"), fields)
	assert.Empty(t, said)
	assert.Equal(t, []string{`counted "West" on 2026-07-10, "East" on 2026-07-13: map takes each field by its own day`}, notes)

	said, notes = lines(west+walked(-101.59, "2026-07-10", "2026-07-10"), fields)
	assert.Empty(t, said)
	assert.Empty(t, notes, "one day needs no word")

	said, _ = lines(west+walked(-101.59, "2026-07-13", "2026-07-13", "2026-07-10"), fields)
	assert.Equal(t, []string{`doubtful: week1.csv:7: date "2026-07-10": stop -101.59-2 is of another day than most of field "East", 2026-07-13; leave it if one walk took several days; else correct it, or map each day by itself`}, said)

	said, _ = lines(walked(-101.6, "2026-07-10", "2026-07-10", "2026-07-10", "2026-07-10", "2026-07-10", "2026-07-11", "2026-07-11", "2026-07-11", "2026-07-12"), nil)
	assert.Equal(t, []string{`doubtful: week1.csv:7, 8, 9 and 1 more row: date "2026-07-11" and the like: each stop is of another day than most, 2026-07-10; leave it if one walk took several days; else map each day by itself, or give --field if each field was walked on a day of its own`}, said)
}
