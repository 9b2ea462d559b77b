package geofile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// Names and values are byte for byte as the library for JSON writes them, at the ends of what
// is written without it too.
func TestValuesOfGeoJSONAreAsTheLibraryWritesThem(t *testing.T) {
	all := []any{nil, true, int64(-3), math.Copysign(0, -1)}
	for _, text := range append(hostile, `\`, `"`, "\x1f", "\x7f", "\u2028", "a/b") {
		all = append(all, text)
	}
	for _, v := range []float64{0, 0.1, 12.5, 1e-6, 1e21, 5e-324, math.MaxFloat64} {
		all = append(all, v, -v, math.Nextafter(v, 0), math.Nextafter(-v, -1))
	}
	var features []geo.Feature
	var want []string
	for i, v := range all {
		name := hostile[i%len(hostile)]
		features = append(features, geo.Feature{Geometry: orb.Point{1, 2}, Properties: geo.Properties{{Name: name, Value: v}}})
		want = append(want, fmt.Sprintf(`{"type":"Feature","properties":{%s:%s},`, inJSON(t, name), inJSON(t, v)))
	}
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: features}))
	lines := strings.Split(b.String(), "\n")[1:]
	for i := range want {
		assert.Equal(t, want[i], lines[i][:min(len(want[i]), len(lines[i]))])
	}
}

func inJSON(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	require.NoError(t, e.Encode(v))
	return strings.TrimSuffix(b.String(), "\n")
}

// A name that stands twice is refused among few names and among many.
func TestANameTwiceAmongFewAndMany(t *testing.T) {
	for _, n := range []int{2, 31, 32, 33, 100} {
		var all geo.Properties
		for i := range n {
			all = append(all, geo.Property{Name: fmt.Sprint("n", i)})
		}
		write := func() error {
			return geofile.WriteGeoJSON(&bytes.Buffer{}, geofile.FeatureCollection{Features: []geo.Feature{{Properties: all}}})
		}
		assert.NoError(t, write(), n)
		all[n-1].Name = "n0"
		assert.ErrorContains(t, write(), `the name "n0" stands twice`, n)
	}
}
