package assess_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A map with exactly three quarters of its stops empty may still be believed; one stop
// more, and it may not (Dille et al. 2003: beyond it every interpolator was very poor).
func TestThreeQuartersEmptyAreNotTooMany(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	for _, c := range []struct{ stops, empty int }{{12, 9}, {16, 12}, {12, 10}, {16, 13}} {
		rows := "stop,longitude,latitude,count,leaves\n"
		for i := range c.stops { // what is not empty stands at one side
			count := 0
			if i >= c.empty {
				count = 100
			}
			rows += fmt.Sprintf("%d,%.6f,%.6f,%d,10\n", i+1, -101.6027+0.0054*float64(i/4)/float64(c.stops/4-1), 35.8979+0.0014*float64(i%4), count)
		}
		s, err := survey.Read(given.Table(rows), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
		require.NoError(t, err)
		trust := r.Fields[0].Trust
		require.Equal(t, [2]int{c.stops, c.empty}, [2]int{trust.Stops, trust.Empty})
		require.Positive(t, trust.Score.Skill)
		assert.Equal(t, 4*c.empty <= 3*c.stops, trust.Believed(), "%d of %d empty: %v", c.empty, c.stops, trust.Doubts)
	}
}
