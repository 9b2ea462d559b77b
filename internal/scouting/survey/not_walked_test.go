package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Rows at which nobody counted are no stops that were lost: remarks, headings, feet and
// totals, and planned stops that were not walked, which are noted. What tells that
// somebody was there is.
func TestRowsAtWhichNobodyCounted(t *testing.T) {
	const header = "stop,longitude,latitude,count,leaves,date,observer,pest,kind,notes,crew"
	const planned, lost, neither = "planned", "lost", "neither"
	for row, want := range map[string]string{
		"Scout: Ann,,,,,,,,,,":                      neither,
		"# walked by A":                             neither,
		"North block,,,,,,,sorghum aphid,,,":        neither,
		"7,,,,,,,,,,":                               planned,
		"1,,,,,,,,,,":                               neither, // above the rows of the stop
		",,,,,,,,,gate was shut,":                   neither,
		",wet in the morning,,,,,,,,,":              neither,
		"North total 2,,,700,90,,,,,,":              neither,
		"Pivot Totals:,,,700,90,,,,,,":              neither,
		"Total 2,-101.6,35.9,x,10,,,,,,":            lost,
		"Totality,,,7,10,,,,,,":                     lost,
		"7,,,5,,,,,,,":                              lost,
		",,,5,,,,,,,":                               lost,
		",,,,10,,,,,,":                              lost,
		"7,,,,,2026-07-15,,,,,":                     lost,
		"7,,,,,,,,,sticky,":                         lost,
		"7,-101.6,35.9,,,,,,,,":                     planned,
		"7,-101.6,35.9,,,,,sorghum aphid,,,":        planned,
		"7,-101.6,35.9,":                            lost,
		"7,-101.6,35.9,,10,,,,planned,,":            planned,
		"7,-101.6,35.9,,10,,,,,,":                   lost,
		"7,-101.6,35.9,,10,2026-07-15,,,planned,,":  lost,
		"7,-101.6,35.9,,,,B,,,,":                    lost,
		"7,-101.6,35.9,,,,,,,sticky,":               lost,
		"7,-101.6,35.9,,,,,,,Too wet today,":        planned,
		"7,-101.6,35.9,,,,,,,no se entró,":          planned,
		"7,-101.6,35.9,,10,2026-07-15,A,,,too wet,": lost,
		"7,-101.6,35.9,,,,,,,,two":                  lost,
		"7,-101.6,35.9,NA,,,,,,,":                   lost,
		"7,-101.6,x,,,,,,,,":                        lost,
		",-101.6,35.9,,,,,,,,":                      lost,
		"1,-101.6,35.9,,,,,,,,":                     lost, // of a stop that was counted
	} {
		s, err := survey.Read(given.Table(header+"\n1,-101.6,35.9,7,10,2026-07-15,A,,,,\n"+row), survey.Options{})
		require.NoError(t, err, row)
		got := neither
		switch {
		case len(s.Unread) > 0:
			got = lost
		case strings.Contains(strings.Join(s.Notes, "; "), "not walked"):
			assert.Contains(t, s.Notes, "a planned stop was not walked: 7")
			got = planned
		}
		assert.Equal(t, want, got, row)
		assert.Equal(t, survey.Tally{Read: 2, Used: 1, SetAside: 1}, s.Tally, row)
	}
}

// Where stops that were counted tell no more than name and place, a blank may be a zero.
func TestABlankAloneIsNoStopNotWalked(t *testing.T) {
	for header, want := range map[string]int{"stop,longitude,latitude,count": 2, "stop,longitude,latitude,count,date": 2, "stop,longitude,latitude,count,leaves": 0} {
		end := strings.Repeat(",", strings.Count(header, ",")-3)
		first := end
		if strings.HasSuffix(header, "leaves") {
			first = ",10"
		}
		s, err := survey.Read(given.Table(fmt.Sprintf("%s\n1,-101.6,35.9,7%s\n2,-101.6,35.9,%s\n3,-101.6,35.9,%s", header, first, end, end)), survey.Options{})
		require.NoError(t, err, header)
		assert.Len(t, s.Unread, want, header)
		if want == 0 {
			assert.Contains(t, s.Notes, "2 planned stops were not walked: 2, 3")
		}
	}
}

// A plan's table that was walked in part: stops below the last count were not walked, whatever
// the plan filled in before; a blank above may be a zero.
func TestPlansWalkedInPart(t *testing.T) {
	rows := []string{"stop,longitude,latitude,count,leaves,date,time,observer,pest,stage,kind,notes"}
	for i, count := range []string{"4", "", "9", "", ""} {
		rows = append(rows, fmt.Sprintf("%d,%g,35.9,%s,10,,,,sorghum aphid,,planned,%s", i+1, -101.6+0.001*float64(i), count, []string{"", "edge"}[i%2]))
	}
	s, err := survey.Read(given.Table(strings.Join(rows, "\n")), survey.Options{})
	require.NoError(t, err)
	require.Len(t, s.Unread, 1)
	assert.Equal(t, "2", s.Unread[0].Row.Stop)
	assert.Contains(t, s.Notes, "2 planned stops were not walked: 4, 5")
}

// A note on why nobody was there tells a stop that was not walked from one that was forgotten, in a
// table that tells nothing else.
func TestANoteOnWhyNobodyWasThere(t *testing.T) {
	for note, lost := range map[string]int{"too wet": 0, "inundado": 0, "": 1, "wet leaves": 1} {
		s, err := survey.Read(given.Table("stop,longitude,latitude,count,notes\n1,-101.6,35.9,7,\n2,-101.61,35.9,,"+note), survey.Options{})
		require.NoError(t, err)
		assert.Len(t, s.Unread, lost, note)
		assert.Equal(t, lost == 0, len(s.Notes) > 0 && strings.Contains(strings.Join(s.Notes, ";"), "a planned stop was not walked: 2"), note)
	}
}

// A waypoint with its name alone is a stop that was planned; one with a time was marked.
func TestWaypointsThatWereNotWalked(t *testing.T) {
	point := func(name, rest string) string {
		return fmt.Sprintf(`<wpt lat="35.9" lon="-101.6">%s<name>%s</name></wpt>`, rest, name)
	}
	text := `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="35.91" lon="-101.6"><time>2026-07-15T11:10:00Z</time><name>1</name><cmt>9 on 10</cmt></wpt>` +
		point("2", "") + point("3", "<time>2026-07-15T11:11:00Z</time>") + `</gpx>`
	s, err := survey.Read([]geofile.Source{{Name: "walk.gpx", Content: []byte(text)}}, survey.Options{})
	require.NoError(t, err)
	require.Len(t, s.Unread, 1)
	assert.Equal(t, "3", s.Unread[0].Row.Stop)
	assert.Contains(t, s.Notes, "a planned stop was not walked: 2")
}
