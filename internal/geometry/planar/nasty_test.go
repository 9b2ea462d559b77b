package planar_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/testkit"
)

// nastyPolygons compares what a function makes of each of them with the areas of a
// column, found by cutting the rings into faces and testing one inside point per face
// with Shapely 1.8.5 over GEOS 3.11.1, see SOURCE.md.
func nastyPolygons(t *testing.T, column func(name string) string, of func(orb.MultiPolygon) (orb.MultiPolygon, error)) {
	table := testkit.ReadTable(t, testkit.Testdata(t, "reference", "nasty-polygons", "nasty_expected.csv"))
	want := map[string]float64{}
	for row := range table.Len() {
		name := table.Text(t, row, "name")
		v, ok := table.Number(t, row, column(name))
		require.True(t, ok)
		want[name] = v
	}
	nasty := testkit.NastyPolygons[orb.Polygon, orb.MultiPolygon](t, "nasty_plane.geojson")
	require.Len(t, nasty, 46)
	for _, f := range nasty {
		name := f.Name
		t.Run(name, func(t *testing.T) {
			mp := asMulti(f.Geometry.(orb.Geometry))
			before := mp.Clone()
			made, err := of(mp)
			require.NoError(t, err)
			assert.Equal(t, before, mp, "the input was changed")
			area, ok := want[name]
			require.True(t, ok)
			assert.InDelta(t, area, geo.Area(made), 1e-9*area+1e-6)
			assertValid(t, made)
		})
	}
}

// Holes are cut out whole and parts united. The one difference is meant: what a ring runs
// round twice is left out, as in the even-odd column.
func TestGroundOfNastyPolygons(t *testing.T) {
	nastyPolygons(t, func(name string) string {
		if name == "pentagram" {
			return "even_odd_fill_area"
		}
		return "nonzero_shell_minus_holes_area"
	}, planar.Ground)
}

func TestRepairGivesTheEvenOddAreaOfNastyPolygons(t *testing.T) {
	nastyPolygons(t, func(string) string { return "even_odd_fill_area" }, planar.Repair)
}
