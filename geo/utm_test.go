package geo_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

func TestNewUTMRefusesZonesThatDoNotExist(t *testing.T) {
	for _, zone := range []int{-1, 0, 61} {
		_, err := geo.NewUTM(zone, true)
		require.ErrorContains(t, err, "zones run from 1 to 60")
	}
	for _, zone := range []int{1, 60} {
		_, err := geo.NewUTM(zone, false)
		require.NoError(t, err)
	}
}

func TestZeroUTMGivesNaN(t *testing.T) {
	for _, p := range []orb.Point{geo.UTM{}.Forward(orb.Point{3, 45}), geo.UTM{}.Inverse(orb.Point{500000, 0})} {
		assert.True(t, math.IsNaN(p[0]) && math.IsNaN(p[1]), "%v", p)
	}
}

// The limits are those of NGA.SIG.0012_2.0.0_UTMUPS (2014), from memory; positions inside
// the zones are in the table of TestUTMAgainstGeoConvert.
func TestUTMZoneAtItsLimits(t *testing.T) {
	tests := []struct {
		name   string
		lonlat orb.Point
		zone   int
		north  bool
	}{
		{"southern end", orb.Point{3, -80}, 31, false},
		{"beyond the southern end", orb.Point{3, -80.01}, 0, false},
		{"northern end", orb.Point{45, 84}, 38, true},
		{"beyond the northern end", orb.Point{45, 84.01}, 0, false},
		{"longitude beyond 180", orb.Point{181, 10}, 1, true},
		{"east of Svalbard", orb.Point{42, 78}, 38, true},
		{"west of Svalbard", orb.Point{-0.01, 78}, 30, true},
		{"Norway ends at 12", orb.Point{12, 60}, 33, true},
		{"longitude not a number", orb.Point{nan, 10}, 0, false},
		{"longitude infinite", orb.Point{inf, 10}, 0, false},
		{"latitude not a number", orb.Point{10, nan}, 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			zone, north := geo.UTMZone(tt.lonlat)
			assert.Equal(t, tt.zone, zone)
			assert.Equal(t, tt.north, north)
		})
	}
}
