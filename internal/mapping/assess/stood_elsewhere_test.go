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

// Two visits without a day, each numbered from 1 and at places of its own, are told from fields
// numbered alike, from scouts with a part each and from places along rows.
func TestTwoTablesAtOtherPlacesAreTold(t *testing.T) {
	square := func(name string, east float64) geo.Field {
		return geo.Field{Name: name, Boundary: orb.MultiPolygon{{{{east, 0}, {east + 0.006, 0}, {east + 0.006, 0.006}, {east, 0.006}, {east, 0}}}}}
	}
	row := func(name string, lon, lat float64, rest string) string {
		return fmt.Sprintf("%s,%.6f,%.6f,7,10,%s\n", name, lon, lat, rest)
	}
	walk := func(from, stops int, east, north float64, rest string) (rows string) {
		for i := range stops {
			rows += row(fmt.Sprint(from+i), 0.0004+0.001*float64(i%5)+east, 0.0004+0.001*float64(i/5)+north, rest)
		}
		return rows
	}
	along := ""
	for i := range 10 {
		for k := range 2 {
			along += row(fmt.Sprint("row ", i), 0.0004+0.0005*float64(i), 0.001+0.0005*float64(k), ",")
		}
	}
	const apart = 0.0003 // 33 m either way
	for name, c := range map[string]struct {
		rows string
		want int
	}{
		"once":                      {walk(1, 20, 0, 0, ","), 0},
		"numbered on":               {walk(1, 10, 0, 0, ",") + walk(11, 10, apart, apart, ","), 0},
		"at other places":           {walk(1, 20, 0, 0, ",") + walk(1, 20, apart, apart, ","), 20},
		"after a name by mistake":   {walk(1, 5, 0, 0, ",") + walk(5, 15, 0, 0.001, ",") + walk(1, 20, apart, apart, ","), 19},
		"three of them":             {walk(1, 10, 0, 0, ",") + walk(1, 10, apart, apart, ",") + walk(1, 10, 2*apart, 0, ","), 10},
		"one of them with days":     {walk(1, 10, 0, 0, "2026-07-08,") + walk(1, 10, apart, apart, ","), 10},
		"both with days":            {walk(1, 10, 0, 0, "2026-07-08,") + walk(1, 10, apart, apart, "2026-07-15,"), 0},
		"as near as phones err":     {walk(1, 20, 0, 0, ",") + walk(1, 20, apart/2, 0, ","), 0},
		"five":                      {walk(1, 20, 0, 0, ",") + walk(1, 5, apart, apart, ","), 5},
		"four":                      {walk(1, 20, 0, 0, ",") + walk(1, 4, apart, apart, ","), 0},
		"three in four":             {walk(1, 9, 0, 0, ",") + walk(1, 9, apart, apart, ",") + walk(51, 3, apart, 2*apart+0.002, ","), 9},
		"fewer":                     {walk(1, 9, 0, 0, ",") + walk(1, 6, apart, apart, ",") + walk(51, 3, apart, 2*apart+0.002, ","), 0},
		"two scouts":                {walk(1, 20, 0, 0, ",A") + walk(1, 20, apart, apart, ",B"), 0},
		"a part each":               {walk(1, 10, 0, 0, ",") + walk(1, 10, 0, 0.003, ","), 0},
		"two fields, each from 1":   {walk(1, 20, 0, 0, ",") + walk(1, 20, 0.01, 0, ","), 0},
		"two places along each row": {along, 0},
		"no names":                  {row("", 0.001, 0.001, ",") + row("", 0.002, 0.002, ",") + row("", 0.003, 0.003, ",") + row("", 0.004, 0.004, ",") + row("", 0.005, 0.005, ",") + row("", 0.002, 0.005, ","), 0},
	} {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte("stop,longitude,latitude,count,leaves,date,observer\n" + c.rows)}}, survey.Options{})
		require.NoError(t, err, name)
		placed, away, err := assess.Place([]geo.Field{square("A", 0), square("B", 0.01)}, s.Stops)
		require.NoError(t, err, name)
		require.Empty(t, away, name)
		assert.Equal(t, c.want, placed[0].StoodElsewhere(), name)
		assert.True(t, c.want == 0 || assess.MayStandElsewhere(s.Stops), name)
	}
}
