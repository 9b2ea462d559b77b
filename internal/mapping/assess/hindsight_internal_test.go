package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// Of the stops at the level extra ones are not counted, as they are not in the score and
// the mean; of a field of nothing but extra stops they all are.
func TestHindsightIsOfTheStopsOfTheMean(t *testing.T) {
	stops := make([]Stop, 6)
	for i, value := range []float64{39.9, 40, 41, 90, 95, 99} {
		stops[i].Value = value
		stops[i].Extra = i > 2
	}
	treat := func(int) zones.Class { return zones.Treat }
	f := &Field{Stops: stops}
	assert.Equal(t, Hindsight{Over: 2, Treat: 2}, f.hindsight(40, treat))
	for i := range stops {
		stops[i].Extra = true
	}
	assert.Equal(t, Hindsight{Over: 5, Treat: 5}, f.hindsight(40, treat))
}
