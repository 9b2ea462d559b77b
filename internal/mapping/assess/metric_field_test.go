package assess_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
)

// What is kept goes through the counts: at every node of the map it is what the
// stops say there. Growth and the like must not have changed it on the way.
func TestTheKeptSurfaceIsThatOfTheStops(t *testing.T) {
	for name, set := range map[string]assess.Settings{
		"plain":     {},
		"by chance": {Chance: assess.ChanceSettings{Surface: true}},
		"caught":    {Chance: assess.ChanceSettings{Catch: 0.9}, Margin: 5},
	} {
		set.KeepSurface = true
		r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")),
			surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv")), set)
		require.NoError(t, err)
		for _, f := range r.Fields {
			g, err := f.Metric()
			require.NoError(t, err)
			require.Len(t, g.Samples, len(f.Stops))
			assert.Equal(t, f.Frame.ForwardPolygons(f.Boundary), g.XY)
			p, err := f.Settings.IDW.Fit(g.Samples)
			require.NoError(t, err)
			v := g.Surface.Value
			inside := 0
			for i, got := range v.Values {
				if math.IsNaN(got) {
					continue
				}
				if inside++; inside%testkit.Few(1, 5) != 0 {
					continue
				}
				x, y := v.Node(i%v.Cols, i/v.Cols)
				want, far := p.PredictWithDistance(x, y)
				require.Equal(t, want, got, "%s, %s, node %d", name, f.Name, i)
				d := g.Surface.Distance.Values[i] // longer, as stops reach less far
				require.True(t, far <= d && d <= far*f.Settings.Reach/f.Settings.LeastReach*(1+1e-12), "%s, %s, node %d: %v m is %v", name, f.Name, i, far, d)
			}
			assert.Greater(t, float64(inside)*v.Cell*v.Cell, f.Area, name)
		}
	}
}

// Runs of many fields keep none, and who wants one is told, not given another.
func TestNoSurfaceIsKeptUnasked(t *testing.T) {
	r := demo(t, "week2.csv")
	assert.Nil(t, r.Fields[0].Surface)
	_, err := r.Fields[0].Metric()
	require.EqualError(t, err, `field "Pivot": its surface was not kept`)
	away := &assess.Field{}
	away.Name = "East"
	_, err = away.Metric()
	require.EqualError(t, err, `field "East": not scouted, so there is no surface`)
}
