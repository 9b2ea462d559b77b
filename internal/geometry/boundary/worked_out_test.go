package boundary_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// Zones of a map and ground of a spray job are no fields; a field that bears a name alike is.
func TestWhatWasWorkedOutIsNoField(t *testing.T) {
	read := func(p ...geo.Property) error {
		square := orb.Polygon{{{1, 1}, {1.004, 1}, {1.004, 1.004}, {1, 1.004}, {1, 1}}}
		_, err := boundary.Read([]geo.Feature{{Geometry: square, Properties: p}}, boundary.Settings{})
		return err
	}
	field, area := geo.Property{Name: "field", Value: "North"}, geo.Property{Name: "area_ha", Value: 3.5}
	zone := []geo.Property{{Name: "zone", Value: "treat"}, field, area, {Name: "unit", Value: "mean per leaf"}, {Name: "share", Value: "0.2"}}
	assert.EqualError(t, read(zone...), "feature 1: this is a zone of a map, not a field")
	for kind, said := range map[string]string{"ground": "ground to spray", "swath": "swaths"} {
		assert.EqualError(t, read(geo.Property{Name: "kind", Value: kind}, field, area, geo.Property{Name: "counted", Value: "2031-07-08"}),
			"feature 1: this is of a spray job, "+said+", not a field")
	}
	require.NoError(t, read(zone[:3]...), "a grower's own zones of soil, say")
	require.NoError(t, read(geo.Property{Name: "kind", Value: "boundary"}, field, area, geo.Property{Name: "counted", Value: "2031-07-08"}))
	require.NoError(t, read(geo.Property{Name: "kind", Value: "ground"}, field))
}
