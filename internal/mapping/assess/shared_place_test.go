package assess_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A place copied one row down and a place counted again that day are told from plants at a stop,
// second scouts, stops marked as extra and positions that were rounded.
func TestPlacesSharedByTwoNamesAreTold(t *testing.T) {
	row := func(name string, place int, rest string) string {
		count := 7
		if name != fmt.Sprint(place+1) {
			count = 70 // beyond chance
		}
		return fmt.Sprintf("%s,%.5f,35.91234,%d,10,%s\n", name, -101.60001+0.001*float64(place), count, rest)
	}
	walk := func(stops int) (rows string) {
		for i := range stops {
			rows += row(fmt.Sprint(i+1), i, ",,")
		}
		return rows
	}
	twos := func(n int) (rows string) {
		for i := range 2 * n {
			rows += row(fmt.Sprint(i+1), i/2, ",,")
		}
		return rows
	}
	again := func(n int) (rows string) {
		for i := range n {
			rows += row(fmt.Sprint(i+1, " again"), i, ",,")
		}
		return rows
	}
	for name, c := range map[string]struct {
		rows          string
		copied, again int
	}{
		"each its own":             {walk(10), 0, 0},
		"copied down":              {walk(10) + row("11", 9, ",,"), 1, 0},
		"three in all":             {walk(10) + row("11", 9, ",,") + row("12", 9, ",,"), 2, 0},
		"four, as told otherwise":  {walk(10) + row("11", 9, ",,") + row("12", 9, ",,") + row("13", 9, ",,"), 0, 0},
		"that of a stop far above": {walk(10) + row("11", 3, ",,"), 0, 1},
		"again, just below":        {walk(10) + row("10 again", 9, ",,"), 0, 1},
		"later that day":           {walk(10) + row("3b", 2, ",,"), 0, 1},
		"half of the places":       {walk(10) + again(5), 0, 5},
		"more, by another scout":   {walk(10) + again(6), 0, 0},
		"on another day":           {strings.ReplaceAll(walk(10), ",,\n", "2026-07-15,,\n") + row("11", 9, "2026-07-16,,"), 0, 0},
		"of another scout":         {strings.ReplaceAll(walk(10), ",,\n", ",A,\n") + row("11", 9, ",B,"), 0, 0},
		"marked as extra":          {walk(10) + row("11", 9, ",,extra"), 0, 0},
		"plants by letters":        {walk(10) + row("11a", 12, ",,") + row("11b", 12, ",,"), 0, 0},
		"plants by numbers":        {walk(10) + row("11-1", 12, ",,") + row("11-2", 12, ",,"), 0, 0},
		"all by twos":              {twos(6), 0, 0},
		"numbered after a letter":  {walk(12) + row("C1", 20, ",,") + row("C2", 20, ",,"), 1, 0},
		"rounded":                  {strings.NewReplacer("35.91234", "35.912", "01,", ",").Replace(walk(10) + row("11", 9, ",,")), 0, 0},
	} {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte("stop,longitude,latitude,count,leaves,date,observer,kind\n" + c.rows)}}, survey.Options{})
		require.NoError(t, err, name)
		copied, again := 0, 0
		for _, p := range assess.SharedPlaces(s, nil, len(s.Stops), func(i int) *survey.Stop { return &s.Stops[i] }) {
			if assert.Less(t, p.First, p.Then, name); p.Copied {
				copied++
			} else {
				again++
			}
		}
		assert.Equal(t, []int{c.copied, c.again}, []int{copied, again}, name)
	}
	s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte("stop,longitude,latitude,count,leaves\n3,-101.60001,35.91234,364,10\n4,-101.61001,35.91234,7,10\n9,-101.60002,35.91234,18,10\n")}}, survey.Options{})
	require.NoError(t, err)
	for within, n := range map[float64]int{9.8: 1, 9.9: 0} {
		assert.Len(t, assess.SharedPlaces(s, []assess.Together{{At: 0, Others: []int{2}, Within: within}}, 3, func(i int) *survey.Stop { return &s.Stops[i] }), n)
	}
}
