package assess_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func TestBoundsAreOfTheStatistic(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves,plant\n"+
		"1,-100,37,11-50,1,a\n1,-100,37,60,1,a\n1,-100,37,0,1,b\n1,-100,37,51-100,1,c\n2,-100.1,37,11-50,5,a\n3,-100.2,37,60,1,a\n"), survey.Options{})
	require.NoError(t, err)
	nan := math.NaN()
	for _, c := range []struct {
		name  string
		of    assess.Statistic
		wants [3][2]float64
	}{
		{"mean", assess.Statistic{}, [3][2]float64{{122.0 / 4, 210.0 / 4}, {11.0 / 5, 10}, {60, 60}}},
		{"share from 40", assess.Statistic{Tally: 40}, [3][2]float64{{50, 75}, {0, nan}, {100, 100}}},
		{"share from 51", assess.Statistic{Tally: 51}, [3][2]float64{{50, 50}, {0, 0}, {100, 100}}},
		{"plants from 61", assess.Statistic{Unit: "plant", Part: "leaf", Tally: 61}, [3][2]float64{{0, 100.0 / 3}, {0, 0}, {0, 0}}},
	} {
		for i, want := range c.wants {
			low, high := c.of.Bounds(s.Stops[i])
			assert.InDelta(t, want[0], low, 1e-9, "%s, stop %d", c.name, i+1)
			if math.IsNaN(want[1]) {
				assert.True(t, math.IsNaN(high), "%s, stop %d", c.name, i+1)
				continue
			}
			assert.InDelta(t, want[1], high, 1e-9, "%s, stop %d", c.name, i+1)
		}
	}
}
