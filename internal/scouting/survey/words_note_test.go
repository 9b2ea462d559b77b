package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A waypoint of something else is no row that was not read; one that may be a stop is.
func TestWaypointsThatAreNoStops(t *testing.T) {
	for inside, want := range map[string]string{ // what it is called as a note; "" where it is not read
		"<name>Gate</name><cmt>gate</cmt>":                         "Gate",
		"<name>Gate</name>":                                        "Gate",
		"<name>Parked truck</name><cmt>parked truck, key in</cmt>": "Parked truck",
		"<name>Gate 2</name><cmt>south gate</cmt>":                 "Gate 2",
		"<name>Gate</name><cmt>2026-07-15 06:40</cmt>":             "Gate",
		"<cmt>gate</cmt>":                                          "gate",
		"<name>Gate</name><desc>locked</desc>":                     "Gate",

		"":                                        "",
		"<name>12</name>":                         "",
		"<name>012</name><cmt>gate</cmt>":         "",
		"<name>Stop 12</name><cmt>gate</cmt>":     "",
		"<name>STOP12</name>":                     "",
		"<name>W7</name>":                         "",
		"<name>w-7</name><cmt>gate</cmt>":         "",
		"<name>A</name>":                          "",
		"<name>Gate</name><cmt>gate 2</cmt>":      "",
		"<name>Gate</name><cmt>none</cmt>":        "",
		"<name>Gate</name><cmt>no count</cmt>":    "",
		"<name>Gate</name><cmt>not counted</cmt>": "",
		"<name>Gate</name><cmt>lots</cmt>":        "",
		"<name>Gate</name><cmt>heavy</cmt>":       "",
		"<name>Gate</name><cmt>twelve</cmt>":      "",
		"<name>Gate</name><cmt>aphids</cmt>":      "",
		"<name>Gate</name><desc>many</desc>":      "",
		"<name>Hot spot</name>":                   "",
		"<name>Gate</name><cmt>½</cmt>":           "",
	} {
		s := read(t, gpx("<name>W1</name><cmt>12 on 10</cmt>", inside, "<name>W3</name><cmt>none on 10</cmt>"), survey.Options{})
		assert.Len(t, s.Stops, 2, inside)
		notes := strings.Join(s.Notes, "\n")
		if want == "" {
			assert.Len(t, s.Unread, 1, inside)
			assert.Equal(t, 3, s.Tally.Read, inside)
			assert.NotContains(t, notes, "taken for a note", inside)
			continue
		}
		assert.Empty(t, s.Unread, inside)
		assert.Empty(t, s.Problems, inside)
		assert.Equal(t, 2, s.Tally.Read, inside)
		assert.Contains(t, notes, `counts.csv: 1 of its waypoints is taken for a note, not a stop, without a number or a word of a count: "`+want+`"; a stop needs a count, 0 if nothing was found`)
	}
}

// Where stops have words for names, a word may be the name of one.
func TestWaypointsNamedAsStopsAre(t *testing.T) {
	s := read(t, gpx("<name>North</name><cmt>12 on 10</cmt>", "<name>South</name><cmt>none on 10</cmt>", "<name>East</name>"), survey.Options{})
	require.Len(t, s.Unread, 1)
	assert.Equal(t, `counts.csv:4 "East": cmt "": gives no count; write it as "count 12, leaves 10", the count on all leaves together`, s.Unread[0].String())

	// Counts in the names themselves.
	s = read(t, gpx("<name>Stop 1 - 12 on 10</name>", "<name>Gate</name>", "<name>Stop 3</name>"), survey.Options{})
	require.Len(t, s.Unread, 1)
	assert.Equal(t, `counts.csv:4: name "Stop 3": gives no count`, strings.SplitN(s.Unread[0].String(), ";", 2)[0])

	// Without any stop that is counted nothing tells how they are named.
	s = read(t, gpx("<name>W1</name><cmt>12 aphids 10 lvx</cmt>", "<name>Gate</name><cmt>gate</cmt>"), survey.Options{})
	assert.Len(t, s.Unread, 2)

	s = read(t, gpx("<name>W1</name><cmt>12</cmt>", "<name>Gate</name><cmt>gate</cmt>", "<name>Barn</name>"), survey.Options{})
	assert.Contains(t, strings.Join(s.Notes, "\n"), `2 of its waypoints are taken for notes, not stops, without a number or a word of a count: "Gate", "Barn"; a stop`)
}

// All waypoints may stand on one line: their names tell them apart.
func TestProblemsNameTheWaypoint(t *testing.T) {
	text := strings.ReplaceAll(gpx("<name>W1</name><cmt>12 on 10</cmt>", "<name>W2</name><cmt>12 aphids 10</cmt>", "<name>W3</name><cmt>1,5 on 10</cmt>", "<cmt>7 on 10</cmt>"), "\n", "")
	s := read(t, text, survey.Options{})
	assert.Equal(t, []string{
		`counts.csv:1 "W2": cmt "12 aphids 10": reads in two ways, as 12 or as 10; write it as "count 12, leaves 10", the count on all leaves together`,
		`counts.csv:1 "W3": count "1,5": has a decimal comma, and this file decimal points; write it with a point`,
		`counts.csv:1: name "": the stop has no name; name the stop`,
	}, problems(s))
	assert.Equal(t, []string{`counts.csv:2: count "x": is not a number; write a number`}, problems(read(t, "stop,longitude,latitude,count\nA,1,2,x\n", survey.Options{})))
}
