package cli_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	cells "github.com/geocoris/geocoris/internal/files/spreadsheet"
)

// unplaced takes the positions out of farm.csv of one lattice: into counts.csv, and a table
// of them into places.csv. It returns the rows of farm.csv.
func unplaced(t *testing.T) (rows [][]string) {
	t.Helper()
	lattices(t, []lattice{{"North", alike(250)}})
	file, err := os.Open("farm.csv")
	require.NoError(t, err)
	defer file.Close()
	rows, err = csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	var counts, places strings.Builder
	for _, r := range rows {
		fmt.Fprintln(&counts, strings.Join(append([]string{r[0]}, r[3:]...), ","))
		fmt.Fprintln(&places, strings.Join(r[:3], ","))
	}
	put(t, "counts.csv", counts.String())
	put(t, "places.csv", places.String())
	return rows
}

func gpxOf(rows [][]string, tag string, more func(i int) string) string {
	var b strings.Builder
	for i, r := range rows[1:] {
		fmt.Fprintf(&b, `<%s lon="%s" lat="%s">%s</%s>`+"\n", tag, r[1], r[2], more(i), tag)
	}
	return b.String()
}

const gpxHead = `<?xml version="1.0"?><gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">` + "\n"

func mapCounts(more ...string) []string {
	return append([]string{"map", "counts.csv", "--field", "farm.geojson", "--out", "out"}, more...)
}

func TestCountsAreJoinedToPlacesByName(t *testing.T) {
	rows := unplaced(t)
	code, _, _ := run(t, mapCounts()...)
	require.NotZero(t, code)
	code, _, errs := run(t, "map", "farm.csv", "--field", "farm.geojson", "--out", "want")
	require.Zero(t, code, errs)
	want := contents(t, "want")["zones.geojson"]

	put(t, "stops.gpx", gpxHead+gpxOf(rows, "wpt", func(i int) string { return fmt.Sprintf("<name>%03d</name>", i+1) })+"</gpx>")
	for _, places := range []string{"places.csv", "stops.gpx"} {
		code, out, errs := run(t, mapCounts("--places", places, "--details")...)
		require.Zero(t, code, errs)
		assert.Equal(t, want, contents(t, "out")["zones.geojson"], places)
		assert.Contains(t, out, "counts.csv: 12 rows have their place from "+places)
		assert.Contains(t, inputsOf(t, "out"), places)
	}
	code, _, errs = run(t, "report", "out")
	require.Zero(t, code, errs)

	// A spreadsheet with a title above its header is read likewise.
	sheet := [][]any{{"North, walked at dawn"}, {""}}
	for _, r := range rows {
		row := []any{r[0]}
		for _, cell := range r[3:] {
			row = append(row, cell)
		}
		sheet = append(sheet, row)
	}
	var book strings.Builder
	require.NoError(t, cells.WriteBook(&book, cells.Sheet{Name: "North", Rows: sheet}))
	put(t, "counts.xlsx", book.String())
	code, _, errs = run(t, "map", "counts.xlsx", "--places", "stops.gpx", "--field", "farm.geojson", "--out", "out")
	require.Zero(t, code, errs)
	assert.Equal(t, want, contents(t, "out")["zones.geojson"])

	// What is on one side alone is said.
	put(t, "places.csv", strings.Replace(strings.Replace(contents1(t, "places.csv"), "\n3,", "\nGate,", 1), "\n12,", "\n12 ,", 1))
	code, out, errs := run(t, mapCounts("--places", "places.csv", "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "counts.csv: without a place: 3 (no such name)")
	assert.Contains(t, out, `places.csv: places without a count: "Gate"`)

	// Counts that tell their positions keep them.
	code, out, errs = run(t, "map", "farm.csv", "--field", "farm.geojson", "--out", "out", "--places", "places.csv", "--details")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "farm.csv: tells its positions, so places.csv is not used for it")
	assert.Equal(t, want, contents(t, "out")["zones.geojson"])
}

// contents1 is a file of the working folder.
func contents1(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.FromSlash(name))
	require.NoError(t, err)
	return string(text)
}

func TestCountsArePlacedByTheTimeAlongATrack(t *testing.T) {
	rows := unplaced(t)
	// The track has a point 2 minutes before and one 2 minutes after each stop, 2e-5 degrees
	// to the west and to the east; stops are ten minutes apart, from 12:00 UTC on.
	var track strings.Builder
	counts := "time,count,leaves,date,pest\n"
	for i, r := range rows[1:] {
		var lon float64
		_, err := fmt.Sscan(r[1], &lon)
		require.NoError(t, err)
		minute := 10 * i
		for _, side := range []int{-1, 1} {
			at := 12*60 + minute + 2*side
			fmt.Fprintf(&track, `<trkpt lon="%.7f" lat="%s"><time>2031-08-14T%02d:%02d:00Z</time></trkpt>`, lon+2e-5*float64(side), r[2], at/60, at%60)
		}
		counts += fmt.Sprintf("%02d:%02d,%s,10,2031-08-14,sorghum aphid\n", 7+minute/60, minute%60, r[3])
	}
	put(t, "walk.gpx", gpxHead+"<trk><trkseg>"+track.String()+"</trkseg></trk></gpx>")
	put(t, "counts.csv", counts)
	args := mapCounts("--places", "walk.gpx", "--unnamed-stops")
	code, out, errs := run(t, append(args, "--utc-offset", "-5", "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "counts.csv: 12 rows have their place from walk.gpx, 12 of them by the time along its track")
	code, _, errs = run(t, "map", "farm.csv", "--field", "farm.geojson", "--out", "want")
	require.Zero(t, code, errs)
	assert.Equal(t, zoneAreas(t, "want"), zoneAreas(t, "out"), "midway between two points of the track each stop stood")

	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "counts.csv:2: the track is in UTC, and nothing says how far the clocks of the counts are from it: give --utc-offset")

	// Six minutes lie between the points of two stops.
	put(t, "counts.csv", counts+"07:05,4,10,2031-08-14,sorghum aphid\n05:00,4,10,2031-08-14,sorghum aphid\n")
	code, out, errs = run(t, append(args, "--utc-offset", "-5", "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "counts.csv: without a place: line 14 (in a gap of 6 minutes of the track), line 15 (before or after the track)")
	code, out, errs = run(t, append(args, "--utc-offset", "-5", "--details", "--track-gap", "6")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "counts.csv: without a place: line 15 (before or after the track)")
	assert.NotContains(t, out, "line 14 (in a gap")
}

func zoneAreas(t *testing.T, folder string) (zones []any) {
	t.Helper()
	for _, f := range summaryOf(t, folder) {
		zones = append(zones, f["zones"])
	}
	return zones
}

func TestPlacesThatDoNotFit(t *testing.T) {
	rows := unplaced(t)
	twice := slices.Clone(rows[:3])
	for text, want := range map[string]string{
		"stop,longitude\n1,2\n":                                  "places.csv: has no column latitude: want stop, longitude, latitude",
		"stop,longitude,latitude\n1,west,3\n":                    `places.csv:2: "west": want degrees with decimals`,
		"stop,longitude,latitude\nA,0.001,0.001\n":               `counts.csv: no row has a place in places.csv: 1 (no such name)`,
		"stop,longitude,latitude\n1,0.001,0.001\n01,0.002,0.001": `counts.csv:2: places.csv has several places called "1"`,
		"stop,longitude,latitude\n":                              "places.csv: names no place",
	} {
		put(t, "places.csv", text)
		code, _, errs := run(t, mapCounts("--places", "places.csv")...)
		assert.Equal(t, 1, code, text)
		assert.Contains(t, errs, want, text)
		assert.NoDirExists(t, "out", text)
	}
	var places strings.Builder
	for _, r := range rows {
		fmt.Fprintln(&places, strings.Join(r[:3], ","))
	}
	put(t, "places.csv", places.String())
	put(t, "more.csv", contents1(t, "counts.csv"))
	code, _, errs := run(t, mapCounts("more.csv", "--places", "places.csv")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "more.csv:2: the place \"1\" of places.csv is that of counts.csv:2 already\nhint: give each a name of its own in the counts and in places.csv")
	assert.NoDirExists(t, "out")
	put(t, "line.gpx", gpxHead+"<trk><trkseg>"+gpxOf(twice, "trkpt", func(int) string { return "" })+"</trkseg></trk></gpx>")
	code, _, errs = run(t, mapCounts("--places", "line.gpx")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "line.gpx: names no place and holds no track with times")
	code, _, errs = run(t, mapCounts("--track-gap", "6")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--track-gap goes with --places")
}
