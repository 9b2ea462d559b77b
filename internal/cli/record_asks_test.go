package cli_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// One spray entered twice, with another word in it, and a spray that the map did not ask
// for are written down as they are typed, and asked about.
func TestRecordAsksAboutWhatIsOdd(t *testing.T) {
	handedOver(t)
	record := func(language, field, area, notes string) string {
		code, _, errs := run(t, "record", "out", "--date", "2026-07-17", "--field", field, "--area", area, "--product", "product A=46.5 lb", "--who", "the applicator", "--notes", notes, "--language", language)
		require.Zero(t, code, errs)
		return errs
	}
	assert.Empty(t, record("en", "Pivot", "15.5ac", ""))
	assert.Empty(t, record("en", "Pivot", "15ac", "the other half"))
	assert.Equal(t, "note: applied.csv has a record of Pivot on 2026-07-17 already: is this the same spray?\nnote: if the record is wrong, delete applied_2026-07-17_Pivot_3.json, its ground, and its line in applied.csv\n", record("en", "Pivot", "15.5ac", "again"))
	assert.Equal(t, "nota: applied.csv ya tiene un registro de Pivot el 2026-07-17: ¿es la misma aplicación?\nnota: si el registro está mal, borre applied_2026-07-17_Pivot_4.json, su terreno y su línea en applied.csv\n", record("es", "Pivot", "15.5ac", "once more"))
	code, out, errs := run(t, append(recordPivot("15.5ac"), "--language", "es")...) // the first, with its ground
	require.Zero(t, code, errs)
	assert.Contains(t, out, "anotado en out: el terreno de applied_2026-07-17_Pivot.json\n")
	assert.FileExists(t, "out/applied_2026-07-17_Pivot.geojson")
	assert.Equal(t, "note: the map's verdict on \"Corner block\" is \"look again\": is this the right field and map?\n", record("en", "Corner block", "3ac", ""))
}

// What a record lacks is named with the flag that gives it.
func TestRecordNamesTheFlagThatIsMissing(t *testing.T) {
	handedOver(t)
	all := []string{"record", "out", "--date", "2026-07-17", "--area", "15ac", "--product", "product A=46.5 lb"}
	for _, c := range []struct{ given, says string }{
		{"--who", "geocoris: the field is missing\nhint: name it with --field\n"},
		{"--field", "geocoris: who applied is missing\nhint: name who applied with --who\n"},
	} {
		code, _, errs := run(t, append(all, c.given, "Pivot")...)
		assert.Equal(t, 2, code)
		assert.Equal(t, c.says, errs)
	}
}

// Two visits in one file are compared: map takes one of them.
func TestCheckOfTwoVisitsLeadsToCompare(t *testing.T) {
	inFolder(t)
	first, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	_, then, _ := strings.Cut(strings.ReplaceAll(string(first), "2026-07-15", "2026-07-22"), "\n")
	require.NoError(t, os.WriteFile("weeks.csv", append(first, then...), 0o600))
	_, out, _ := run(t, "check", "weeks.csv", "--field", "field.geojson")
	assert.Contains(t, out, "geocoris compare weeks.csv --field field.geojson --out change\n")
	_, out, _ = run(t, "check", "week2.csv", "--field", "field.geojson")
	assert.Contains(t, out, "geocoris map week2.csv --field field.geojson --out out\n")

	for day, asked := range map[string]bool{"2026-09-13": false, "2026-09-14": true} { // 60 and 61 days
		require.NoError(t, os.WriteFile("later.csv", []byte(strings.ReplaceAll(string(first), "2026-07-15", day)), 0o600))
		code, out, errs := run(t, "compare", "week2.csv", "later.csv", "--field", "field.geojson", "--only", "Pivot", "--out", "change")
		require.Zero(t, code, errs)
		assert.Equal(t, asked, strings.Contains(out, "days apart"), day)
	}
	year := strings.ReplaceAll(string(first), "2026-07-15", "2027-07-15")
	require.NoError(t, os.WriteFile("year.csv", []byte(year), 0o600))
	for language, says := range map[string]string{
		"en": "Look out: The visits are 365 days apart. Growth over so long tells nothing of today's: is a year wrong?",
		"es": "Ojo: Las visitas están a 365 días una de otra. El crecimiento en tanto tiempo no dice nada del de hoy: ¿está mal un año?",
	} {
		code, out, errs := run(t, "compare", "week2.csv", "year.csv", "--field", "field.geojson", "--out", "change", "--language", language)
		require.Zero(t, code, errs)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), says)
	}
}
