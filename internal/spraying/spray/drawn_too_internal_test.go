package spray

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A hole that was drawn as a pond besides is one thing with the pond, also where outlines were
// rounded; a hole beside it, or larger, is one more.
func TestHolesThatWereDrawnToo(t *testing.T) {
	square := func(x, y, side float64) orb.Ring {
		return orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
	}
	pond := []Neighbour{{"Pond", orb.MultiPolygon{{square(100, 100, 50)}}}}
	for name, c := range map[string]struct {
		holes  []orb.Ring
		closed []Neighbour
		named  bool
	}{
		"the pond":         {[]orb.Ring{square(100, 100, 50)}, pond, true},
		"rounded":          {[]orb.Ring{square(99.95, 99.95, 50)}, pond, true},
		"a larger hole":    {[]orb.Ring{square(100, 100, 51)}, pond, false},
		"one more":         {[]orb.Ring{square(100, 100, 50), square(300, 300, 20)}, pond, false},
		"nothing is drawn": {[]orb.Ring{square(100, 100, 50)}, nil, false},
	} {
		field := orb.Polygon{square(0, 0, 500)}
		for _, h := range c.holes {
			h.Reverse()
			field = append(field, h)
		}
		all, err := bars(Zone{Field: orb.MultiPolygon{field}, Closed: c.closed})
		require.NoError(t, err)
		require.Equal(t, Hole, all[0].Kind)
		assert.Equal(t, c.named, all[0].Named, name)
	}
}
