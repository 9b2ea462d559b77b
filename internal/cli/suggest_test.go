package cli_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A slip of the hand is answered with what was meant.
func TestWhatWasMeantIsOffered(t *testing.T) {
	for name, c := range map[string]struct {
		args []string
		code int
		want string
	}{
		"a flag":                {[]string{"map", "week2.csv", "--fields", "field.geojson"}, 2, "hint: did you mean --field?"},
		"a flag with a value":   {[]string{"map", "week2.csv", "--treet-at=3"}, 2, "hint: did you mean --treat-at?"},
		"an earlier name":       {[]string{"map", "week2.csv", "--mend", "swap"}, 2, "hint: --mend is called --fix now"},
		"one dash":              {[]string{"map", "week2.csv", "-field", "field.geojson"}, 2, "hint: two dashes: --field"},
		"one dash, and a value": {[]string{"map", "week2.csv", "-field=field.geojson"}, 2, "hint: two dashes: --field"},
		"nothing near":          {[]string{"map", "week2.csv", "--quux"}, 2, "hint: geocoris map --help shows examples"},
		"one letter":            {[]string{"map", "week2.csv", "-q"}, 2, "hint: geocoris map --help shows examples"},
		"a command":             {[]string{"mpa", "week2.csv"}, 2, "hint: did you mean geocoris map?"},
		"a command of two":      {[]string{"season", "ad"}, 2, "hint: did you mean geocoris season add?"},
		"no command near":       {[]string{"quux"}, 2, "hint: geocoris --help shows examples"},
		"no field":              {[]string{"map", "week2.csv", "field.geojson"}, 2, "--field is missing: the file with the field's outline, such as --field field.geojson"},
		"no folder":             {[]string{"map", "week2.csv", "--field", "field.geojson"}, 2, "--out is missing: a folder for the files, such as --out out"},
		"a folder of samples":   {[]string{"check", "."}, 1, "geocoris: . is a folder, not a file\nhint: name the file in it, such as counts.csv"},
		"a document":            {[]string{"check", "notes.pdf"}, 1, "geocoris: notes.pdf: is a PDF, not a table that can be read\nhint: save the table as CSV or .xlsx"},
		"a document as field":   {[]string{"check", "week2.csv", "--field", "notes.pdf"}, 1, "hint: give GeoJSON, KML"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("notes.pdf", []byte("%PDF-1.7\n"), 0o600))
			code, out, errs := run(t, c.args...)
			assert.Equal(t, c.code, code)
			assert.Empty(t, out)
			assert.Contains(t, errs, c.want)
		})
	}
}
