package planar_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

func TestSpikesAreTakenOff(t *testing.T) {
	const width = 0.01
	square := orb.Ring{{0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}
	hole := orb.Ring{{40, 40}, {40, 60}, {60, 60}, {60, 40}, {40, 40}}
	one := func(rings ...orb.Ring) orb.MultiPolygon { return orb.MultiPolygon{orb.Polygon(rings)} }
	for name, c := range map[string]struct{ in, want orb.MultiPolygon }{
		"none":            {one(square, hole), one(square, hole)},
		"a fin":           {one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {120, 100}, {0, 100}, {0, 0}}), one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {0, 100}, {0, 0}})},
		"a fin at start":  {one(orb.Ring{{120, 100}, {0, 100}, {0, 0}, {100, 0}, {100, 99.999}, {120, 100}}), one(orb.Ring{{0, 100}, {0, 0}, {100, 0}, {100, 99.999}, {0, 100}})},
		"a blunt fin":     {one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {120, 99.999}, {120, 100}, {0, 100}, {0, 0}}), one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {0, 100}, {0, 0}})},
		"a long fin":      {one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {110, 99.998}, {120, 100}, {112, 100}, {104, 100}, {0, 100}, {0, 0}}), one(orb.Ring{{0, 0}, {100, 0}, {100, 99.999}, {0, 100}, {0, 0}})},
		"a slit":          {one(orb.Ring{{0, 0}, {50, 0}, {50, 60}, {50.002, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}), one(orb.Ring{{0, 0}, {50, 0}, {50.002, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}})},
		"a thin part":     {append(one(square), orb.Polygon{{{200, 0}, {300, 0}, {300, 0.01}, {200, 0}}}), one(square)},
		"a thin hole":     {one(square, orb.Ring{{10, 10}, {60, 10.001}, {60, 10}, {10, 10}}), one(square)},
		"nothing else":    {one(orb.Ring{{200, 0}, {300, 0}, {300, 0.01}, {200, 0}}), nil},
		"a narrow wedge":  {one(orb.Ring{{0, 0}, {100, 0}, {100, 1}, {0, 0}}), one(orb.Ring{{0, 0}, {100, 0}, {100, 1}, {0, 0}})},
		"short, no spike": {one(orb.Ring{{0, 0}, {99.999, 0}, {100, 0.001}, {100, 100}, {0, 100}, {0, 0}}), one(orb.Ring{{0, 0}, {99.999, 0}, {100, 0.001}, {100, 100}, {0, 100}, {0, 0}})},
	} {
		t.Run(name, func(t *testing.T) {
			before := c.in.Clone()
			assert.Equal(t, c.want, planar.WithoutSpikes(c.in, width))
			assert.Equal(t, before, c.in, "the input is as it was")
		})
	}
}
