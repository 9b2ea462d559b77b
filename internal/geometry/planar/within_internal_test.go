package planar

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the rim encloses is all labelled ground: with a hole, a part of its own, two labels side
// by side and one within another, far from the origin.
func TestGroundWithinTheRim(t *testing.T) {
	box := func(x, y, side float64) orb.LineString {
		x, y = x+4000, y-7000
		return orb.LineString{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
	}
	a, err := Arrange([]orb.LineString{box(0, 0, 10), box(10, 0, 10), box(2, 2, 3), box(13, 2, 4), box(40, 40, 2)})
	require.NoError(t, err)
	labels := make([]int, len(a.Faces))
	for i, f := range a.Faces {
		switch f.Area {
		case 9:
			labels[i] = Void
		case 16, 4:
			labels[i] = 2
		default:
			labels[i] = 1 + i%2
		}
	}
	c := a.Dissolve(labels)
	assert.InDelta(t, 100-9+100+4, c.within(), 1e-6)
	assert.InEpsilon(t, c.total(), c.within(), 1e-12)
}
