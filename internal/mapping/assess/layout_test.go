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

// Twenty stops that rise along one side of a field say nothing of the rest, however
// well they predict one another; spread over it they do.
func TestStopsOfAPartSpeakForItOnly(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	bound := fields[0].Boundary.Bound()
	for _, c := range []struct {
		name    string
		wide    float64 // of the field's width, from its west
		partial bool
	}{{"a road", .1, true}, {"the field", 1, false}} {
		t.Run(c.name, func(t *testing.T) {
			rows := "stop,longitude,latitude,count,leaves\n"
			for i := range 20 {
				u, v := .1+.8*c.wide*(float64(i%5)+.5)/5, .2+.6*(float64(i/5)+.5)/4
				rows += fmt.Sprintf("%d,%.6f,%.6f,%d,10\n", i+1, bound.Min[0]+u*(bound.Max[0]-bound.Min[0]), bound.Min[1]+v*(bound.Max[1]-bound.Min[1]), 100*(i/5))
			}
			s, err := survey.Read(given.Table(rows), survey.Options{})
			require.NoError(t, err)
			r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
			require.NoError(t, err)
			f := r.Fields[0]
			assert.Positive(t, f.Trust.Score.Skill)
			assert.Equal(t, c.partial, f.Layout.Partial(), "%+v", f.Layout)
			assert.Equal(t, !c.partial, f.Trust.Believed(), "%v", f.Trust.Doubts)
			if c.partial {
				assert.Equal(t, []assess.Doubt{assess.PartOnly}, f.Trust.Doubts)
			} else {
				assert.Greater(t, f.Layout.Share, .85)
			}
		})
	}
}
