package cli_test

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The soybean aphid's rule wants 250 a plant and 80 % of plants infested: a field with
// its mean surely over is sprayed where they are, and looked at again where not. The
// counts are invented.
func TestARuleThatAsksForPlantsInfested(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		infested int // plants of ten at each stop
		want     string
	}{
		{8, "verdict: treat the whole field: "}, {7, "verdict: do not spray now: over the threshold, but too little is infested for the rule; look again "},
	} {
		rows := "stop,longitude,latitude,plant,count,pest\n"
		for stop := range 12 {
			for plant := range 10 {
				count := 0
				if plant < c.infested {
					count = 600 + 20*stop
				}
				rows += fmt.Sprintf("%d,%.6f,%.6f,%d,%d,soybean aphid\n", stop+1, -101.6015+0.0008*float64(stop%4), 35.8985+0.0008*float64(stop/4), plant+1, count)
			}
		}
		require.NoError(t, os.WriteFile("plants.csv", []byte(rows), 0o600))
		code, out, errs := run(t, "map", "plants.csv", "--details", "--field", "field.geojson", "--out", "out", "--rule", "soybean-aphid", "--watch-at", "100")
		require.Zero(t, code, errs)
		assert.Contains(t, out, c.want)
	}
}
