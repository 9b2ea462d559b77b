package cli_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A stop at the spray level in what the boundary leaves out makes the answer doubtful, as the
// outline may be wrong as well as the place; one at the watch level is named, a low one is not.
func TestAHotStopInWhatWasLeftOut(t *testing.T) {
	inFolder(t)
	const field, pond = "[[-101.6,36.9],[-101.591,36.9],[-101.591,36.9054],[-101.6,36.9054],[-101.6,36.9]]", "[[-101.5949,36.9022],[-101.5938,36.9022],[-101.5938,36.9032],[-101.5949,36.9032],[-101.5949,36.9022]]"
	const feature = `{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[%s]}}`
	outlines := func(name string, features ...string) {
		require.NoError(t, os.WriteFile(name, []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+"]}"), 0o600))
	}
	outlines("pond.geojson", fmt.Sprintf(feature, "Home", field), fmt.Sprintf(feature, "Pond", pond))
	outlines("hole.geojson", fmt.Sprintf(feature, "Home", field+","+pond))
	outlines("plain.geojson", fmt.Sprintf(feature, "Home", field))
	counts := func(at int) {
		text := "stop,longitude,latitude,count,leaves,date\n"
		for i := range 20 {
			n := 5 + i%4*3
			if i == 10 {
				n = at
			}
			text += fmt.Sprintf("%d,%.6f,%.6f,%d,10,2026-07-15\n", i+1, -101.598878+float64(i%4)*0.002245, 36.900541+float64(i/4)*0.001081, n)
		}
		require.NoError(t, os.WriteFile("home.csv", []byte(text), 0o600))
	}
	const named = `lies in "Pond", which was left out of the field: is the outline or the place wrong?`
	for _, c := range []struct {
		count         int
		field         string
		language      string
		says, saysNot []string
	}{
		{400, "pond", "en", []string{`Not decided yet: find out today whether stop 11 or "Pond", in which it lies, has the wrong place.`, `A stop at the spray level was left out; the other stops alone say "do not spray".`, "Stop 11 (40 a leaf) " + named}, []string{"lies in no field"}},
		{399, "pond", "en", []string{"Do not spray;", "Stop 11 (39.9 a leaf) " + named}, []string{"Not decided"}},
		{20, "pond", "en", []string{"Do not spray;"}, []string{"which was left out of", "Not decided"}},
		{880, "hole", "es", []string{`averigüe hoy si el punto 11 o el hueco de "Home", en el que está, tiene mal el lugar.`, `El punto 11 (88 por hoja) está en un hueco de "Home"`}, nil},
		{880, "plain", "en", nil, []string{"left out"}},
	} {
		counts(c.count)
		code, out, errs := run(t, "map", "home.csv", "--field", c.field+".geojson", "--out", "out", "--force", "--language", c.language)
		require.Zero(t, code, errs)
		said := strings.Join(strings.Fields(out), " ")
		for _, text := range c.says {
			assert.Contains(t, said, text, c.count)
		}
		for _, text := range c.saysNot {
			assert.NotContains(t, said, text, c.count)
		}
	}

	// a pond that the spray runs up to is told of on the screen, and named once on the sheet
	const beside = "[[-101.594388,36.903153],[-101.593266,36.903153],[-101.593266,36.904054],[-101.594388,36.904054],[-101.594388,36.903153]]"
	outlines("beside.geojson", fmt.Sprintf(feature, "Home", field), fmt.Sprintf(feature, "Pond", beside))
	counts(900)
	code, _, errs := run(t, "map", "home.csv", "--field", "beside.geojson", "--out", "out", "--force")
	require.Zero(t, code, errs)
	code, out, errs := run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--against-verdict")
	require.Zero(t, code, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "The spray runs up to Pond. Where that is water, keep off as far as the label says.")
	sheet, err := os.ReadFile("job/jobsheet.html")
	require.NoError(t, err)
	assert.Contains(t, string(sheet), "Keep off: Pond.")
}
