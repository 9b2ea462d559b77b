package geo_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

// Strips and squares by their sides: an inside is as long as several stops apart need it.
func TestHasInside(t *testing.T) {
	rect := func(w, h float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{0, 0}, {w, 0}, {w, h}, {0, h}, {0, 0}}}}
	}
	for _, c := range []struct {
		w, h float64
		want bool
	}{{3, 400, false}, {15.9, 400, false}, {18, 400, true}, {20, 20, false}, {27, 27, false}, {29.5, 29.5, true}, {48, 48, true}, {500, 500, true}} {
		assert.Equal(t, c.want, geo.HasInside(rect(c.w, c.h), 8), "%v by %v m", c.w, c.h)
	}
	assert.InDelta(t, 3*400/806.0, geo.HalfWidth(rect(3, 400)), 1e-12)
	assert.Zero(t, geo.HalfWidth(nil))
	assert.False(t, geo.HasInside(nil, 8))
}
