package boundary_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// A name that says what an outline is, one that may say so, and one that says where a field is.
func TestWhatANameSaysOfAnOutline(t *testing.T) {
	const field, closed, asked = "field", "closed", "asked"
	for name, want := range map[string]string{
		"Pond": closed, "Farm pond N": closed, "Pond north of the road": closed, "Pile of rocks": closed, "Area of trees": closed, "Buffer 30 ft": closed,
		"No spray": closed, "No-spray zone": closed, "Do not spray": closed, "Bee hives": closed, "Exclude": closed,
		"Laguna": asked, "La Laguna": asked, "Estanque del norte": asked, "Casa Grande": asked, "Árboles": asked, "Playa lake": asked, "Stock tank 2": asked,
		"NO SPRAY - organic garden": asked, "Keep off: bees and ducks": asked, "No fumigar": closed, "No rociar, huerta": asked,
		"West of pond": field, "W of road": field, "By the creek": field, "Pivot by the road": field, "Oeste de la laguna": field, "North": field,
		"Lake Field": field, "Pond field": field, "Creek bottom": field, "Field by the lake": field, "Well 3": field, "Spray north": field,
		"Duck Pond": asked, "Hog Barn": asked, "Mill Pond 3": asked, "Beaver dam by the road": asked, "Laguna Seca": asked, "Dugout": asked, "Wet spot": asked, "North of the dugout": field,
	} {
		for where, x := range map[string]float64{"inside": 100, "over the edge": 330} {
			o, err := boundary.Read([]geo.Feature{feature(patch(t, 0, 0, 400, 400), named("A")), feature(patch(t, x, 100, x+100, 200), named(name))}, boundary.Settings{})
			require.NoError(t, err)
			deep := [][2]float64{plane(t).Inverse(orb.Point{x + 40, 150}), plane(t).Inverse(orb.Point{x + 60, 150})}
			what := fmt.Sprintf("%s, %s", name, where)
			assert.Equal(t, want == closed, len(o.NoField) == 1, what)
			err = o.Hold(deep[:1])
			if want == asked {
				assert.ErrorContains(t, err, fmt.Sprintf("outline %q lies on field \"A\", and may be no field by its name", name), what)
				assert.Contains(t, o.Warnings, fmt.Sprintf("%q is taken for a field, and may be none by its name", name), what)
				assert.NoError(t, o.Hold(deep), what+", with stops in it")
			} else {
				assert.NoError(t, err, what)
			}
		}
	}
}

// Only what reaches into a larger field is asked for, and one answer does for all.
func TestAnOutlineThatMayBeNoFieldIsAskedForWhereItTakesGround(t *testing.T) {
	big := feature(patch(t, 0, 0, 400, 400), named("A"))
	for name, c := range map[string]struct {
		pond  orb.Polygon
		inner string
		asked bool
		want  map[string]float64
	}{
		"a twentieth in it": {patch(t, 395, 100, 495, 200), "", true, map[string]float64{"A": 159500, "Duck Pond": 10000}},
		"less":              {patch(t, 395.5, 100, 495.5, 200), "", false, map[string]float64{"A": 159550, "Duck Pond": 10000}},
		"larger":            {patch(t, 300, 0, 800, 400), "", false, map[string]float64{"A": 160000, "Duck Pond": 160000}},
		"a hole":            {patch(t, 350, 100, 450, 200), "hole", false, map[string]float64{"A": 155000}},
		"a field":           {patch(t, 350, 100, 450, 200), "field", false, map[string]float64{"A": 155000, "Duck Pond": 10000}},
	} {
		o, err := boundary.Read([]geo.Feature{big, feature(c.pond, named("Duck Pond"))}, boundary.Settings{Inner: c.inner})
		require.NoError(t, err)
		got := areas(t, o.Fields)
		require.Len(t, got, len(c.want), name)
		for field, want := range c.want {
			assert.InDelta(t, want, got[field], 0.5, "%s: %s", name, field)
		}
		assert.Equal(t, c.asked, o.Hold(nil) != nil, name)
	}
}

// A field called River is one where people count in it and somebody grows it, or the counts
// call it a field. A pond with a stray stop is none, nor is one that lies in a field or that a
// property says to be water, whoever owns it.
func TestAnOutlineNamedLikeWaterIsAFieldWherePeopleCount(t *testing.T) {
	at := func(x float64) [2]float64 { return plane(t).Inverse(orb.Point{x, 150}) }
	grown := func(name string, more ...geo.Property) geo.Properties {
		return append(geo.Properties{{Name: "name", Value: name}, {Name: "grower", Value: "Olde"}}, more...)
	}
	apart, within := patch(t, 500, 100, 600, 200), patch(t, 100, 100, 200, 200)
	for name, c := range map[string]struct {
		outline    orb.Polygon
		properties geo.Properties
		stops      []boundary.Counted
		want       string
	}{
		"grower and two stops":      {apart, grown("River"), []boundary.Counted{{At: at(540)}, {At: at(560)}}, `"River" is named like ground that is no field, but 2 stops lie in it and it has a grower: taken for a field`},
		"named by the counts":       {apart, geo.Properties{named("River")}, []boundary.Counted{{At: at(540), Field: " river"}, {At: at(560)}}, `"River" is named like ground that is no field, but 2 stops lie in it and the counts call it a field: taken for one`},
		"one stop":                  {apart, grown("River"), []boundary.Counted{{At: at(540)}}, ""},
		"one of two near the edge":  {apart, grown("River"), []boundary.Counted{{At: at(540)}, {At: at(588)}}, ""},
		"no stop":                   {apart, grown("River"), nil, ""},
		"neither grower nor a name": {apart, geo.Properties{named("River")}, []boundary.Counted{{At: at(540)}, {At: at(560), Field: "A"}}, ""},
		"in a field":                {within, grown("River"), []boundary.Counted{{At: at(140)}, {At: at(160)}}, ""},
		"water by a property":       {apart, grown("Low", geo.Property{Name: "natural", Value: "water"}), []boundary.Counted{{At: at(540)}, {At: at(560)}}, ""},
	} {
		o, err := boundary.Read([]geo.Feature{feature(patch(t, 0, 0, 400, 400), named("A")), feature(c.outline, c.properties...)}, boundary.Settings{})
		require.NoError(t, err, name)
		require.Len(t, o.NoField, 1, name)
		got, taken, why, err := o.Claim(c.stops)
		require.NoError(t, err, name)
		require.Len(t, o.NoField, 1, "%s: what was read stays as it was", name)
		require.Len(t, o.Closed, 1, name)
		if c.want == "" {
			assert.Empty(t, taken, name)
			assert.Len(t, got.Fields, 1, name)
			continue
		}
		assert.Equal(t, []string{c.want}, why, name)
		assert.Contains(t, o.Warnings, taken[0].LeftOut(), name)
		assert.Len(t, got.Fields, 2, name)
		assert.Empty(t, got.NoField, name)
		assert.Empty(t, got.Closed, name)
	}
}
