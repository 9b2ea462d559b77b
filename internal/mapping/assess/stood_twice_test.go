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

// Two visits without their days in one table are told from leaves, scouts and second looks.
func TestTwoTablesInOneAreTold(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,date,time,observer,leaf,kind\n"
	const plain = "10,,,,,"
	row := func(i, count int, rest string) string {
		return fmt.Sprintf("%d,-101.60%02d,35.9,%d,%s\n", i, i, count, rest)
	}
	walk := func(stops, add int, rest string) (rows string) {
		for i := range stops {
			rows += row(i, 7*i+add, rest)
		}
		return rows
	}
	together, shuffled, half, leaves := "", "", "", ""
	for i := range 10 {
		half += row(i, 7*i, "10,2026-07-15,,,,") + row(i, 7*i+3, plain)
		leaves += row(i, 7*i, "1,2026-07-15,,,,") + row(i, 7*i+3, "1,,,,,")
		together += row(i, 7*i, "1,,,,,") + row(i, 7*i+3, "1,,,,,")
		shuffled += row(i, 7*i, "1,,,,,") + row((i+3)%10, 7*i+3, "1,,,,,")
	}
	for name, c := range map[string]struct {
		rows             string
		twice, different int
		two              bool
	}{
		"once":                             {walk(10, 0, plain), 0, 0, false},
		"without days":                     {walk(10, 0, plain) + walk(10, 50, plain), 10, 10, true},
		"three of them":                    {walk(10, 0, plain) + walk(10, 50, plain) + walk(10, 90, plain), 10, 10, true},
		"on one day":                       {walk(10, 0, "10,2026-07-15,,,,") + walk(10, 50, "10,2026-07-15,,,,"), 10, 10, true},
		"on days of their own":             {walk(10, 0, "10,2026-07-15,,,,") + walk(10, 50, "10,2026-07-16,,,,"), 0, 0, false},
		"later that day":                   {walk(10, 0, "10,2026-07-15,08:00,,,") + walk(10, 50, "10,2026-07-15,14:00,,,"), 0, 0, false},
		"times without a day":              {walk(10, 0, "10,,08:00,,,") + walk(10, 50, "10,,08:20,,,"), 10, 10, true},
		"today's with their day":           {walk(10, 0, plain) + walk(10, 50, "10,2026-07-15,08:00,,,"), 10, 10, true},
		"the first with their day":         {walk(10, 0, "10,2026-07-15,08:00,,,") + walk(10, 50, plain), 10, 10, true},
		"half of one walk with their day":  {walk(10, 0, "10,2026-07-15,08:00,,,") + strings.ReplaceAll(walk(10, 50, plain), ",35.9,", ",35.901,"), 0, 0, false},
		"in turn, half with their day":     {half, 10, 10, true},
		"leaves in turn, likewise":         {leaves, 0, 0, false},
		"two scouts":                       {walk(10, 0, "10,,,A,,") + walk(10, 50, "10,,,B,,"), 0, 0, false},
		"leaf after leaf":                  {walk(10, 0, "1,,,,1,") + walk(10, 50, "1,,,,2,"), 0, 0, false},
		"the same leaves":                  {walk(10, 0, "1,,,,1,") + walk(10, 50, "1,,,,1,"), 10, 10, true},
		"four leaves in turn":              {walk(10, 0, "1,,,,,") + walk(10, 50, "1,,,,,") + walk(10, 90, "1,,,,,") + walk(10, 20, "1,,,,,"), 0, 0, false},
		"leaves of a stop together":        {together, 0, 0, false},
		"sorted":                           {shuffled, 0, 0, false},
		"as extra stops":                   {walk(10, 0, plain) + walk(10, 50, "10,,,,,extra"), 0, 0, false},
		"four in five":                     {walk(10, 0, plain) + walk(8, 50, plain), 8, 8, true},
		"fewer":                            {walk(10, 0, plain) + walk(7, 50, plain), 7, 7, false},
		"three stops":                      {walk(3, 0, plain) + walk(3, 50, plain), 3, 3, true},
		"two stops":                        {walk(2, 0, plain) + walk(2, 50, plain), 2, 2, false},
		"the same counts, too few to tell": {walk(4, 0, plain) + walk(4, 0, plain), 4, 0, false},
		"other leaves":                     {walk(10, 0, plain) + walk(10, 0, "12,,,,,"), 10, 10, true},
	} {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(head + c.rows)}}, survey.Options{})
		require.NoError(t, err, name)
		stood := assess.StoodTwice(s.Stops)
		assert.Equal(t, []int{c.twice, c.different}, []int{stood.Twice, stood.Different}, name)
		assert.Equal(t, c.two, stood.TwoTables(), name)
		assert.True(t, !c.two || assess.StandApart(s.Stops), name)
	}
	s, err := survey.Read([]geofile.Source{
		{Name: "a.csv", Content: []byte(head + walk(10, 0, "10,2026-07-15,,,,"))}, {Name: "b.csv", Content: []byte(head + walk(10, 50, "10,2026-07-15,,,,"))},
	}, survey.Options{})
	require.NoError(t, err)
	assert.Zero(t, assess.StoodTwice(s.Stops).Twice, "two files may be of two scouts")
}
