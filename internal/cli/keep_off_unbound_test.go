package cli_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ditch drawn as a line in the file of the fields bounds no ground, so that it is sprayed
// over: the map names it, and the job says before all else that it is not kept off.
func TestADitchDrawnAsALineIsNamed(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	const ditch = `{"type":"Feature","properties":{"name":"Ditch"},"geometry":{"type":"LineString","coordinates":[[-101.603,35.8985],[-101.596,35.8985]]}}`
	const pond = `{"type":"Feature","properties":{"name":"Pond"},"geometry":{"type":"Point","coordinates":[-101.598,35.899]}}`
	with := strings.Replace(string(text), `"features":[`, `"features":[`+ditch+","+pond+",", 1)
	if with == string(text) {
		with = strings.Replace(string(text), `"features": [`, `"features": [`+ditch+","+pond+",", 1)
	}
	require.NoError(t, os.WriteFile("farm.geojson", []byte(with), 0o600))
	require.NoError(t, os.WriteFile("ditch.geojson", []byte(`{"type":"FeatureCollection","features":[`+ditch+`]}`), 0o600))
	code, out, errs := run(t, "map", "week2.csv", "--field", "farm.geojson", "--only", "Pivot", "--out", "out")
	require.Zero(t, code, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "1 × Point, 1 × open line (Ditch, Pond)")
	job := []string{"handoff", "out", "--swath", "36m", "--force", "--out", "job"}
	for language, says := range map[string]string{
		"en": "Ditch is a line, so it is not kept off: save it as a file of its own and give --keep-off FILE=DISTANCE.",
		"es": "Ditch se dibujó como línea y no se excluye: guárdelo en su propio archivo y dé --keep-off FILE=DISTANCE.",
	} {
		code, out, errs = run(t, append(job, "--language", language)...)
		require.Zero(t, code, errs)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), says)
	}
	code, out, errs = run(t, append(job, "--keep-off", "ditch.geojson=10m")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "Ditch is a line")
	assert.Contains(t, out, "Pond is a point")
}
