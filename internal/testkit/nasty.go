package testkit

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Nasty polygon is one of testdata/reference/nasty-polygons.
type Nasty struct {
	Name     string
	Geometry any // of the type asked for
}

// NastyPolygons are those of a GeoJSON file of the folder, in types of nested rings for one
// polygon and for several. Reading three members of it here spares a library with all that
// it needs.
func NastyPolygons[One, Several any](t testing.TB, file string) (all []Nasty) {
	t.Helper()
	raw, err := os.ReadFile(Testdata(t, "reference", "nasty-polygons", file))
	require.NoError(t, err)
	var read struct {
		Features []struct {
			Properties struct{ Name string }
			Geometry   struct {
				Type        string
				Coordinates json.RawMessage
			}
		}
	}
	require.NoError(t, json.Unmarshal(raw, &read))
	for _, f := range read.Features {
		n := Nasty{Name: f.Properties.Name}
		switch f.Geometry.Type {
		case "Polygon":
			n.Geometry = decoded[One](t, f.Geometry.Coordinates)
		case "MultiPolygon":
			n.Geometry = decoded[Several](t, f.Geometry.Coordinates)
		}
		require.NotNil(t, n.Geometry, "%s is a %s", n.Name, f.Geometry.Type)
		all = append(all, n)
	}
	return all
}

func decoded[T any](t testing.TB, text []byte) (v T) {
	t.Helper()
	require.NoError(t, json.Unmarshal(text, &v))
	return v
}
