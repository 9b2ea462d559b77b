package cli_test

import (
	"encoding/csv"
	"fmt"
	"html"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who is handed a job has not seen the map's screen: that a day may be another, that nothing
// tells how many leaves a count is of, and for which pest the levels are taken stands with
// the job, in its language, on the screen and on paper.
func TestDoubtsOfTheMapAreHandedOn(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	bare := "stop,longitude,latitude,count,date\n"
	for _, r := range rows[1:] {
		bare += fmt.Sprintf("%s,%s,%s,%s,8/12/2026\n", r[0], r[1], r[2], r[3])
	}
	require.NoError(t, os.WriteFile("bare.csv", []byte(bare), 0o600))
	code, _, errs := run(t, "map", "bare.csv", "--field", "field.geojson", "--only", "Pivot", "--out", "bare")
	require.Equal(t, 0, code, errs)
	for language, said := range map[string]string{
		"en": "How many leaves is each count of? Each was taken as one leaf. Add a column named leaves. The date 8/12/2026 was read as Wednesday 12 August, but may be Tuesday 8 December. The samples name no pest, so the levels are those for sorghum aphids.",
		"es": "¿Cuál es el número de hojas de cada conteo? Se tomó como 1 hoja. Agregue una columna llamada leaves. La fecha 8/12/2026 se leyó como miércoles 12 de agosto, pero puede ser martes 8 de diciembre. Los datos no nombran la plaga; los niveles son los del pulgón amarillo del sorgo.",
	} {
		out := "job-" + language
		code, screen, errs := run(t, "handoff", "bare", "--swath", "36m", "--language", language, "--out", out)
		require.Equal(t, 0, code, errs)
		sheet, err := os.ReadFile(out + "/jobsheet.html")
		require.NoError(t, err)
		heading := map[string]string{"en": "Look out: ", "es": "Ojo: "}[language]
		assert.Contains(t, strings.Join(strings.Fields(screen), " "), heading+said)
		assert.Contains(t, html.UnescapeString(string(sheet)), heading+said)
	}
	job, err := os.ReadFile("job-es/handoff.json")
	require.NoError(t, err)
	assert.Contains(t, string(job), `"The date 8/12/2026 was read as Wednesday 12 August, but may be Tuesday 8 December."`)
}
