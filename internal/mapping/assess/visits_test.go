package assess_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Two visits on one map are told from one that took several days.
func TestTwoVisitsAreTold(t *testing.T) {
	const side = 0.006 // degrees, some 670 m
	field := geo.Field{Name: "A", Boundary: orb.MultiPolygon{{{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}}}}}
	stop := func(name string, x, y float64, day int) survey.Stop {
		return survey.Stop{Name: name, Longitude: side * x, Latitude: side * y, Date: fmt.Sprintf("2026-07-%02d", day)}
	}
	grid := func(n, day int, from, to float64, names string) (stops []survey.Stop) { // n by n, from a share of the field to another northward
		for i := range n * n {
			stops = append(stops, stop(fmt.Sprintf("%s%d", names, i), (float64(i%n)+0.5)/float64(n), from+(to-from)*(float64(i/n)+0.5)/float64(n), day))
		}
		return stops
	}
	random := func(n, day int) (stops []survey.Stop) {
		r := rand.New(rand.NewPCG(3, uint64(day)))
		for i := range n {
			stops = append(stops, stop(fmt.Sprint(day, "-", i), r.Float64(), r.Float64(), day))
		}
		return stops
	}
	line := func(day int, names string) (stops []survey.Stop) { // along a road
		for i := range 8 {
			stops = append(stops, stop(fmt.Sprint(names, i), (float64(i)+0.5)/8, 0.1, day))
		}
		return stops
	}
	round := func(day int, x, y float64) (stops []survey.Stop) {
		for i, d := range [][2]float64{{0.08, 0}, {-0.08, 0}, {0, 0.08}, {0, -0.08}} {
			stops = append(stops, stop(fmt.Sprint("r", x, i), x+d[0], y+d[1], day))
		}
		return stops
	}
	extra := grid(4, 22, 0, 1, "x")
	for i := range extra {
		extra[i].Extra = true
	}
	var third []survey.Stop
	for i, s := range grid(5, 15, 0, 1, "") {
		if i%3 == 0 {
			third = append(third, s)
		}
	}
	for name, c := range map[string]struct {
		stops      [][]survey.Stop
		last, next string
	}{
		"one day":                           {[][]survey.Stop{grid(5, 8, 0, 1, "")}, "", ""},
		"a week apart":                      {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(4, 15, 0, 1, "b")}, "2026-07-08", "2026-07-15"},
		"at random, three days apart":       {[][]survey.Stop{random(40, 8), random(30, 11)}, "2026-07-08", "2026-07-11"},
		"two days apart":                    {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(5, 10, 0, 1, "")}, "2026-07-08", "2026-07-10"},
		"the day after, with other names":   {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(5, 9, 0, 1, "b")}, "2026-07-08", "2026-07-09"},
		"other stops, two days apart":       {[][]survey.Stop{random(40, 8), random(30, 10)}, "", ""},
		"three visits":                      {[][]survey.Stop{grid(5, 22, 0, 1, ""), grid(5, 8, 0, 1, ""), grid(5, 15, 0, 1, "")}, "2026-07-08", "2026-07-15"},
		"by halves, a week apart":           {[][]survey.Stop{grid(5, 8, 0, 0.5, ""), grid(5, 15, 0.5, 1, "")}, "", ""},
		"by small halves":                   {[][]survey.Stop{grid(3, 8, 0, 0.5, ""), grid(3, 15, 0.5, 1, "")}, "", ""},
		"by thirds over a week":             {[][]survey.Stop{grid(4, 8, 0, 0.33, ""), grid(4, 11, 0.33, 0.67, ""), grid(4, 15, 0.67, 1, "")}, "", ""},
		"along the road again":              {[][]survey.Stop{line(8, ""), line(15, "")}, "2026-07-08", "2026-07-15"},
		"along the road, with other names":  {[][]survey.Stop{line(8, ""), line(15, "b")}, "2026-07-08", "2026-07-15"},
		"eight hot stops again":             {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(5, 15, 0, 1, "")[:8]}, "", ""},
		"every third stop again":            {[][]survey.Stop{grid(5, 8, 0, 1, ""), third}, "2026-07-08", "2026-07-15"},
		"three stops, three times":          {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(5, 15, 0, 1, "")[:3], grid(5, 22, 0, 1, "")[:3]}, "", ""},
		"finished, with five stops again":   {[][]survey.Stop{grid(5, 8, 0, 1, "")[:17], grid(5, 11, 0, 1, "")[12:20]}, "", ""},
		"all of it once more, marked extra": {[][]survey.Stop{grid(4, 8, 0, 1, ""), extra}, "", ""},
		"four stops again":                  {[][]survey.Stop{grid(5, 8, 0, 1, ""), grid(2, 15, 0, 1, "")}, "", ""},
		"round hot stops, three days later": {[][]survey.Stop{grid(5, 8, 0, 1, ""), round(11, 0.3, 0.3), round(11, 0.7, 0.5), round(11, 0.5, 0.9)}, "", ""},
		"marked as extra":                   {[][]survey.Stop{grid(5, 8, 0, 1, ""), extra}, "", ""},
		"half without a day":                {[][]survey.Stop{grid(5, 8, 0, 1, ""), {{Name: "u", Longitude: side / 2, Latitude: side / 2}}}, "", ""},
	} {
		var all []survey.Stop
		for _, stops := range c.stops {
			all = append(all, stops...)
		}
		placed, _, err := assess.Place([]geo.Field{field}, all)
		require.NoError(t, err)
		two := assess.TwoVisits(placed[0])
		assert.Equal(t, []string{c.last, c.next}, []string{two.Last, two.Next}, name)
		assert.Equal(t, c.last != "" && name != "at random, three days apart" && name != "a week apart" && name != "other stops, two days apart", two.Again, name)
	}
}
