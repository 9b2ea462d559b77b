package cli_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Files of one call may have their days in different orders.
func TestTheOrderOfDaysIsGivenByFile(t *testing.T) {
	inFolder(t)
	openDays(t)
	text, err := os.ReadFile("open.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("other.csv", bytes.ReplaceAll(bytes.TrimSpace(text), []byte("\n"), []byte("\nother ")), 0o600))
	check := func(args ...string) string {
		code, out, errs := run(t, append([]string{"check", "open.csv", "other.csv"}, args...)...)
		require.Zero(t, code, errs)
		return out
	}
	said := check("--date-order", "open.csv=day-first", "--date-order", "month-first")
	assert.Contains(t, said, `open.csv: dates such as "08/07/2031" are read day first, as asked`)
	assert.Contains(t, said, `other.csv: dates such as "08/07/2031" are read month first, as asked`)

	require.NoError(t, os.WriteFile("farm.toml", []byte("date-order = \"open.csv=day-first,other.csv=day-first\"\n"), 0o600))
	code, out, errs := run(t, "map", "open.csv", "other.csv", "--field", "field.geojson", "--settings", "farm.toml", "--out", "out", "--details")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `open.csv: dates such as "08/07/2031" are read day first, as asked`)

	for order, want := range map[string]string{
		"third.csv=day-first": `given for "third.csv", and no file of counts is called so; there is open.csv`,
		"open.csv=year-first": "want day-first or month-first, or FILE= before it where files differ",
	} {
		code, _, errs = run(t, "map", "open.csv", "--field", "field.geojson", "--out", "o", "--date-order", order)
		assert.NotZero(t, code)
		assert.Contains(t, errs, want)
	}
	for _, args := range [][]string{{"map", "tells.csv", "--field", "field.geojson", "--out", "o"}, {"check", "tells.csv"}, {"season", "add", "s.gpkg", "tells.csv", "--field", "field.geojson"}} {
		require.NoError(t, os.WriteFile("tells.csv", append(text, []byte("99,-101.600624,35.898037,50,10,08/13/2031,scout A,sorghum aphid,4,6.3,\n")...), 0o600))
		code, _, errs = run(t, append(args, "--date-order", "day-first")...)
		assert.Equal(t, 1, code, args)
		assert.Contains(t, errs, `"08/13/2031" can only be read month first, and day-first was asked for`)
		assert.Contains(t, errs, "hint: leave the order out, or give month-first")
	}
}
