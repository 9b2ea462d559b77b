package assess_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Two visits without their days, of which the second has names of its own, are told from plants
// at one place, from a way back beside the way there and from two scouts.
func TestTwoTablesUnderOtherNamesAreTold(t *testing.T) {
	field := geo.Field{Name: "A", Boundary: orb.MultiPolygon{{{{0, 0}, {0.006, 0}, {0.006, 0.006}, {0, 0.006}, {0, 0}}}}}
	row := func(name string, i int, north float64, count int, rest string) string {
		return fmt.Sprintf("%s,%.6f,%.6f,%d,10,%s\n", name, 0.0003+0.0004*float64(i), 0.003+north/111320, count, rest)
	}
	walk := func(names string, stops int, north float64, add int, rest string) (rows string) {
		for i := range stops {
			rows += row(fmt.Sprint(names, i), i, north, 7*i+add, rest)
		}
		return rows
	}
	plants := ""
	for i := range 10 {
		for k := range 2 {
			plants += row(fmt.Sprint(i, "-", k), i, 0, 7*i+k, ",")
		}
	}
	for name, c := range map[string]struct {
		rows  string
		twice int
		two   bool
	}{
		"once":                  {walk("", 10, 0, 0, ","), 0, false},
		"numbered anew":         {walk("", 10, 0, 0, ",") + walk("b", 10, 4, 5, ","), 10, true},
		"one of them with days": {walk("", 10, 0, 0, "2026-07-15,") + walk("b", 10, 4, 5, ","), 10, true},
		"both with days":        {walk("", 10, 0, 0, "2026-07-15,") + walk("b", 10, 4, 5, "2026-07-16,"), 0, false},
		"three of ten":          {walk("", 10, 0, 0, ",") + walk("b", 3, 4, 5, ","), 3, false},
		"three times":           {walk("", 10, 0, 0, ",") + walk("b", 10, 0, 5, ",") + walk("c", 10, 0, 5, ","), 0, false},
		"plants at one place":   {plants, 0, false},
		"the way back beside":   {walk("", 10, 0, 0, ",") + walk("b", 10, 11, 5, ","), 0, false},
		"two scouts":            {walk("", 10, 0, 0, ",A") + walk("b", 10, 4, 5, ",B"), 0, false},
	} {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte("stop,longitude,latitude,count,leaves,date,observer\n" + c.rows)}}, survey.Options{})
		require.NoError(t, err, name)
		placed, _, err := assess.Place([]geo.Field{field}, s.Stops)
		require.NoError(t, err, name)
		stood := placed[0].Renumbered()
		assert.Equal(t, c.twice, stood.Twice, name)
		assert.Equal(t, c.two, stood.TwoTables(), name)
		assert.True(t, !c.two || assess.MayBeRenumbered(s.Stops), name)
	}
}
