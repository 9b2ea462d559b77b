package spray

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

// Lines and strips meet the same ground, to the bit, and look at few rings of many.
func TestBandsHideNoRing(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	ground := orb.MultiPolygon{{square(0, 0, 1000)}}
	for range 400 {
		hole := square(10+970*random.Float64(), 10+970*random.Float64(), 8)
		ground[0] = append(ground[0], hole)
	}
	b := newBanded(ground)
	looked := 0
	for i := range 500 {
		y := -20 + 1040*random.Float64()
		if i%5 == 0 { // right at the edges of a ring
			y = ground[0][i%len(ground[0])][i%4][1]
		}
		assert.Equal(t, geo.InsideSpans(ground, y), geo.InsideSpans(b.between(y, y), y))
		s := strip{low: y, high: y + 24}
		assert.Equal(t, s.touched(ground), s.touched(b.between(s.low, s.high)))
		looked += len(b.between(y, y)[0])
	}
	assert.Less(t, looked/500, 40)
	for _, y := range []float64{-1e9, 0, 1000, 1e9} {
		assert.Equal(t, geo.InsideSpans(ground, y), geo.InsideSpans(b.between(y, y), y))
	}
}

func TestBandsOfNothingAndOfOneLine(t *testing.T) {
	assert.Empty(t, newBanded(nil).between(0, 1))
	level := orb.MultiPolygon{{{{0, 3}, {5, 3}, {9, 3}, {0, 3}}}}
	s := strip{low: 2, high: 4}
	assert.Equal(t, s.touched(level), s.touched(newBanded(level).between(2, 4)))
}

func square(x, y, side float64) orb.Ring {
	return orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
}
