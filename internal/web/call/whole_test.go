//go:build !small

package call_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/web/call"
)

// All files that a page gets are those that the command line writes, but for the record,
// which names the program.
func TestFilesAreThoseOfTheCommandLine(t *testing.T) {
	boundary, counts := given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv")
	reply, _ := asked(t, "map", `{"rule":"sorghum-aphid-texas-mean","stage":"boot"}`, boundary, counts)
	require.Nil(t, reply.Error)
	settings := engine.Defaults()
	settings.Rule, settings.Stage = "sorghum-aphid-texas-mean", "boot"
	made, err := engine.Map(t.Context(), engine.MapRequest{
		Setup:    engine.Setup{Settings: settings},
		Samples:  []engine.Source{{Name: counts.Name, Content: counts.Content}},
		Boundary: engine.Source{Name: boundary.Name, Content: boundary.Content},
	})
	require.NoError(t, err)
	same := 0
	for _, f := range made.Files {
		if f.Name != "zones.kmz" && f.Name != "run.json" {
			assert.Equal(t, string(f.Content), string(content(t, reply, f.Name)), f.Name)
			same++
		}
	}
	assert.Equal(t, 4, same)
}
