package spray_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// ridden is a box as a receiver draws it on a way round: a point every few metres, off
// the edge by up to a metre, begun in the middle of the long side.
func ridden(across, along float64) orb.MultiPolygon {
	corners := orb.Ring{{0, along / 2}, {0, along}, {-across, along}, {-across, 0}, {0, 0}, {0, along / 2}}
	var ring orb.Ring
	for i := 1; i < len(corners); i++ {
		a, b := corners[i-1], corners[i]
		steps := int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / 7))
		for k := range steps {
			f, off := float64(k)/float64(steps), math.Sin(float64(3*k+i))
			if k == 0 {
				off = 0
			}
			ring = append(ring, orb.Point{a[0] + f*(b[0]-a[0]) + off*(b[1]-a[1])/math.Hypot(b[0]-a[0], b[1]-a[1]), a[1] + f*(b[1]-a[1]) - off*(b[0]-a[0])/math.Hypot(b[0]-a[0], b[1]-a[1])})
		}
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

// The passes go where they are asked to; else along the rows; else along the longest edge,
// however many points it was drawn with. Across the rows they go only where the fewest
// passes were asked for.
func TestWhatTheHeadingGoesBy(t *testing.T) {
	field := ridden(240, 500)
	patch := box(-200, 100, -20, 130) // 180 m across the field, 30 m along it
	for _, c := range []struct {
		name    string
		set     spray.Settings
		by      spray.By
		heading float64
		near    float64
		across  float64 // the rows; -1 where they are not known
	}{
		{"nothing known", spray.Settings{}, spray.LongestEdge, 0, 1, -1},
		{"rows known", spray.Settings{Rows: at(12)}, spray.Rows, 12, 0, 0},
		{"rows the other way round", spray.Settings{Rows: at(192)}, spray.Rows, 12, 0, 0},
		{"rows west of north", spray.Settings{Rows: at(-10)}, spray.Rows, 170, 0, 0},
		{"asked", spray.Settings{Rows: at(12), Heading: at(100)}, spray.Asked, 100, 0, 88},
		{"asked, at right angles", spray.Settings{Rows: at(170), Heading: at(260)}, spray.Asked, 260, 0, 90},
		{"asked, nearly along", spray.Settings{Rows: at(179), Heading: at(1)}, spray.Asked, 1, 0, 2},
		{"fewest passes", spray.Settings{Rows: at(0), FewestPasses: true}, spray.FewestPasses, 90, 1, 90},
	} {
		c.set.Swath = 30
		_, p := plan(t, spray.Zone{Treat: patch, Field: field}, c.set)
		assert.Equal(t, c.by, p.By, c.name)
		assert.InDelta(t, c.heading, math.Mod(p.Heading+1, 360)-1, c.near+1e-9, c.name)
		across, known := p.AcrossRows()
		assert.Equal(t, c.across >= 0, known, c.name)
		if known {
			assert.InDelta(t, c.across, across, 1, c.name)
		}
	}
	require.Error(t, spray.Settings{Swath: 24, Heading: at(1), FewestPasses: true}.Validate())
	require.Error(t, spray.Settings{Swath: 24, Rows: at(math.NaN())}.Validate())
	require.NoError(t, spray.Settings{Swath: 24, Rows: at(-360)}.Validate())
}
