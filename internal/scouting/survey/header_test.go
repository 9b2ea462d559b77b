package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func TestTitleAboveTheHeader(t *testing.T) {
	s, err := regress(t, "title_above_header.csv")
	require.NoError(t, err)
	assert.Contains(t, s.Notes, `title_above_header.csv: the header is line 5; skipped above it: "Sorghum aphid survey, Pivot", "Scout:", "A", "Date:", "14 July 2026"`)
	assert.Equal(t, survey.Tally{Read: 3, Used: 1, SetAside: 2}, s.Tally)
	assert.Equal(t, []string{
		`title_above_header.csv:7: stop "Total": is a sum or mean of other rows, not a stop; leave the row out, or name the stop otherwise`,
		`title_above_header.csv:8: stop "Average": is a sum or mean of other rows, not a stop; leave the row out, or name the stop otherwise`,
	}, problems(s))

	s, err = regress(t, "title_with_commas_semicolon_table.csv")
	require.NoError(t, err)
	assert.Equal(t, survey.Tally{Read: 2, Used: 1, SetAside: 1}, s.Tally)
	assert.Equal(t, -101.6, s.Stops[0].Longitude)
	assert.Contains(t, strings.Join(s.Notes, "\n"), "the header is line 3")
}

func TestHeaderIsLookedForNearTheTop(t *testing.T) {
	above := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "note %d\n\n", i)
		}
		return b.String() + "stop,longitude,latitude,count\nA,1,2,3\n"
	}
	s := read(t, above(25), survey.Options{})
	assert.Len(t, s.Stops, 1)
	assert.Contains(t, s.Notes[0], `skipped above it: "note 0", "note 1", "note 2", "note 3", "note 4", "note 5" and 19 more`)
	_, err := decode(t, "counts.csv", above(26), survey.Options{})
	assert.ErrorContains(t, err, `the header has "note 0"`, "then the first line is said to be none")

	s = read(t, "my farm\nwhere,east of,lat,bugs\nA,1,2,3\n", survey.Options{Rename: map[string]string{"where": "stop", "east of": "lon", "bugs": "count"}})
	assert.Len(t, s.Stops, 1, "columns that are renamed are known")
	s = read(t, "A,1,2,3\nlongitude,5,latitude,4\n", survey.Options{Columns: []string{"stop", "longitude", "latitude", "count"}})
	assert.Equal(t, 2, s.Tally.Read, "a header that is given is not looked for")
	s = read(t, "stop,place,,count\n,longitude,latitude,\nA,1,2,3\n", survey.Options{})
	assert.Len(t, s.Stops, 1, "a header over two rows, cells merged")
}

func TestSumsAreNoStops(t *testing.T) {
	for name, is := range map[string]bool{"Total": true, "TOTAL:": true, "grand  total": true, "Mean": true, "Summe": true, "Promedio": true, "Total 1": false, "Meanderthal": false, "S": false} {
		s := read(t, "stop,longitude,latitude,count\nA,1,2,3\n"+name+",1,3,3\n", survey.Options{})
		assert.Equal(t, is, s.Tally.SetAside == 1, name)
	}
	s := read(t, "longitude,latitude,count\n1,2,3\nTotal,,3\n,,3\n", survey.Options{UnnamedStops: true})
	assert.Equal(t, survey.Tally{Read: 3, Used: 1, SetAside: 2}, s.Tally)
	assert.Contains(t, problems(s)[0], "is a sum or mean of other rows")
}

// A table that came in one column says how to part it, whatever parts its words.
func TestATableOfOneColumnSaysHowToPartIt(t *testing.T) {
	for _, text := range []string{"stop longitude latitude count\nA 1 2 3\n", "stop|longitude|latitude|count\nA|1|2|3\n", "\"stop,longitude,latitude,count\"\n\"A,1,2,3\"\n"} {
		_, err := survey.Read(given.Table(text), survey.Options{})
		assert.ErrorContains(t, err, "that is one column: part columns by commas, semicolons or tabs, and take quotes off that hold whole rows", text)
	}
	_, err := survey.Read(given.Table("stop,count\nA,3\n"), survey.Options{})
	assert.NotContains(t, fmt.Sprint(err), "one column")
}
