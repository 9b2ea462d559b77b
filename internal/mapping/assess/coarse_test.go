package assess_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A least patch, or cells, of which a field has too few leave nothing of its map, and are
// refused by the largest field; in a small one a smaller patch will do.
func TestWhatIsTooCoarseForAField(t *testing.T) {
	fields, counts := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")), surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv"))
	of := func(area float64) *float64 { return &area }
	for want, set := range map[string]assess.Settings{
		`min-area 1e+09: field "Pivot" has 50.1 ha: want a quarter of it at the most, 125226 m²`:         {MinArea: of(1e9)},
		`min-area 125227: field "Pivot" has 50.1 ha: want a quarter of it at the most, 125226 m²`:        {MinArea: of(125227)},
		`cell 400: field "Pivot" has 50.1 ha, and so large cells show no zones in it: want 88 m or less`: {Cell: 400},
		`cell 89: field "Pivot" has 50.1 ha, and so large cells show no zones in it: want 88 m or less`:  {Cell: 89},
	} {
		_, err := assess.Run(t.Context(), fields, counts, set)
		assert.EqualError(t, err, want)
	}
	r, err := assess.Run(t.Context(), fields, counts, assess.Settings{MinArea: of(125226), Cell: 50})
	require.NoError(t, err)
	assert.Equal(t, 125226.0, r.Fields[0].Settings.MinArea)
	assert.InDelta(t, r.Fields[1].Area/4, r.Fields[1].Settings.MinArea, 1e-6)
}

// The margin is for the spraying: what choices cost is the same with and without, while the
// treat zone grows by it.
func TestTheMarginIsNotCharged(t *testing.T) {
	fields, counts := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))[:1], surveyOf(t, survey.Options{}, testkit.Testdata(t, "demo", "week2.csv"))
	plain, err := assess.Run(t.Context(), fields, counts, assess.Settings{Cell: 20})
	require.NoError(t, err)
	wide, err := assess.Run(t.Context(), fields, counts, assess.Settings{Cell: 20, Margin: 150})
	require.NoError(t, err)
	p, w := plain.Fields[0], wide.Fields[0]
	assert.Equal(t, p.Losses(p.Settings.Levels.TreatAt), w.Losses(w.Settings.Levels.TreatAt))
	assert.Equal(t, p.Trust, w.Trust)
	assert.Greater(t, w.Map.Zone(zones.Treat).Area, 3*p.Map.Zone(zones.Treat).Area)
}
