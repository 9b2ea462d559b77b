package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// walk is an invented visit to a square field: stops of some columns of six by six.
func walk(t *testing.T, id int64, day string, columns ...int) seasonVisit {
	t.Helper()
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves,date\n")
	for n, column := range columns {
		for row := range 6 {
			fmt.Fprintf(&b, "%d,%.5f,%.5f,%d,10,%s\n", 6*n+row+1, -100+0.0005+0.001*float64(column), 38.0005+0.001*float64(row), column+row, day)
		}
	}
	counts, err := survey.Read(given.Table(b.String()), survey.Options{})
	require.NoError(t, err)
	return seasonVisit{season.Line{ID: id}, counts}
}

// Visits of a season are one where they are parts of one walk: of one day, as the season tells,
// or of days as near as no two visits are, each with half of the field.
func TestPartsOfAWalkAreOneVisitOfASeason(t *testing.T) {
	ground := groundOfSeason([]geo.Field{{Name: "A", Boundary: given.Rectangle(-100, 38, -99.994, 38.006)}})
	west, east, all := []int{0, 1, 2}, []int{3, 4, 5}, []int{0, 1, 2, 3, 4, 5}
	weekBefore := walk(t, 1, "2026-07-08", all...)
	treated := func(day string) []compare.Treatment { return []compare.Treatment{{Date: day}} }
	for name, c := range map[string]struct {
		visits  []seasonVisit
		beside  []season.Beside
		treated []compare.Treatment
		stops   []int
		asks    string
	}{
		// The season tells of none where the field has two names.
		"of one day, two names":      {visits: []seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-15", east...)}, stops: []int{36, 36}},
		"of one day, twice, by them": {visits: []seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-15", west...)}, asks: "visits 2, 3 are both of A on 2026-07-15"},
		"of one day":                 {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-15", east...)}, []season.Beside{{Field: "A", Date: "2026-07-15", Visits: []int64{2, 3}, Apart: [][2]int64{{2, 3}}}}, nil, []int{36, 36}, ""},
		"of one day, left out":       {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-15", west...)}, []season.Beside{{Field: "A", Date: "2026-07-15", Visits: []int64{2, 3}}}, nil, []int{36, 18, 18}, ""},
		"the day after":              {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-16", east...)}, nil, treated("2026-07-17"), []int{36, 36}, ""},
		"two days after":             {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-17", east...)}, nil, treated("2026-07-14"), []int{36, 36}, ""},
		"three days after":           {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-18", east...)}, nil, nil, []int{36, 18, 18}, ""},
		"treated meanwhile":          {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-16", east...)}, nil, treated("2026-07-15"), []int{36, 18, 18}, ""},
		"at the same places":         {[]seasonVisit{weekBefore, walk(t, 2, "2026-07-15", west...), walk(t, 3, "2026-07-16", west...)}, nil, nil, []int{36, 18, 18}, ""},
		"all the field twice":        {[]seasonVisit{walk(t, 2, "2026-07-15", 0, 2, 4), walk(t, 3, "2026-07-16", 1, 3, 5)}, nil, nil, []int{18, 18}, ""},
		"in three days":              {[]seasonVisit{walk(t, 1, "2026-07-15", 0, 1), walk(t, 2, "2026-07-16", 2, 3), walk(t, 3, "2026-07-17", 4, 5)}, nil, nil, []int{36}, ""},
		"and then all the field":     {[]seasonVisit{walk(t, 1, "2026-07-15", west...), walk(t, 2, "2026-07-16", east...), walk(t, 3, "2026-07-18", 1, 3, 5)}, nil, nil, []int{36, 18}, ""},
	} {
		v := visits{ground: ground}
		whole, err := v.whole(clashing{all: c.beside}, c.visits, c.treated, nil)
		if c.asks != "" {
			assert.EqualError(t, err, c.asks, name)
			continue
		}
		require.NoError(t, err, name)
		var stops []int
		for _, s := range whole {
			stops = append(stops, len(s.Stops))
		}
		assert.Equal(t, c.stops, stops, name)
		assert.Equal(t, len(c.visits)-len(c.stops), len(v.notes), name)
		keys := map[string]bool{}
		for _, s := range whole[len(whole)-1].Stops {
			keys[survey.StopKey(s)] = true
		}
		assert.Len(t, keys, c.stops[len(c.stops)-1], "%s: stops are told apart, though the files have one name", name)
	}
}
