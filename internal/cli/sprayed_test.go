package cli_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const notCounted = "the spray of Friday 17 July in Pivot is not counted in, so red ground may be sprayed already; --treated "

// A record of a spray beside a map is not passed by in silence: without its ground the
// answer is that of a field that nobody sprayed.
func TestCompareTellsOfARecordedSpray(t *testing.T) {
	handedOver(t)
	code, _, errs := run(t, recordPivot("15.5ac")...)
	require.Zero(t, code, errs)
	compare := []string{"compare", "out", "week3.csv", "--field", "field.geojson", "--out", "change"}
	code, _, errs = run(t, compare...)
	require.Zero(t, code, errs)
	ground := filepath.Join("out", "applied_2026-07-17_Pivot.geojson")
	assert.Contains(t, errs, notCounted+ground)
	code, _, errs = run(t, append(compare, "--treated", ground)...)
	require.Zero(t, code, errs)
	assert.NotContains(t, errs, "not counted in")
}

// A job made anew from a map whose ground was sprayed since says so, until it is kept off.
func TestHandoffTellsOfARecordedSpray(t *testing.T) {
	handedOver(t)
	code, _, errs := run(t, recordPivot("15.5ac")...)
	require.Zero(t, code, errs)
	again := []string{"handoff", "out", "--swath", "24m", "--out", "again", "--force"}
	kept := filepath.Join("out", "applied_2026-07-17_Pivot.geojson") + "=0m"
	code, _, errs = run(t, again...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "to leave it out give --keep-off "+kept)
	_, _, errs = run(t, append(again, "--keep-off", kept)...)
	assert.NotContains(t, errs, "to leave it out")
}

// What was sprayed by the map of the week before is named by this week's map and its job,
// which lie in folders of their own; the record says where its ground goes, and compare how
// the rest is handed over.
func TestASprayIsKnownToTheMapsOfLaterWeeks(t *testing.T) {
	handedOver(t)
	code, _, errs := run(t, "season", "add", "season.gpkg", "week2.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	ground := filepath.Join("out", "applied_2026-07-17_Pivot.geojson")
	code, out, errs := run(t, recordPivot("15.5ac")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "geocoris season add season.gpkg --treated "+ground+"\n")
	assert.Contains(t, out, "geocoris compare out NEXTMAP --treated "+ground+" --out change\n")
	code, _, errs = run(t, append(recordPivot("1ac")[:12], "--date", "2026-07-18")...) // without ground
	require.Zero(t, code, errs)
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "again")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "applied_2026-07-18_Pivot.json: Pivot was sprayed on Saturday 18 July 2026, and the label limits repeats; which ground it was is not recorded\n")
	assert.Equal(t, 1, strings.Count(errs, ground+" tells of ground"))
	assert.NotContains(t, errs, ground+": ground of")

	code, _, errs = run(t, "map", "week3.csv", "--field", "field.geojson", "--out", "out3", "--language", "es")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, ground+": en terreno de Pivot se aplicó el viernes 17 de julio de 2026, y la etiqueta limita las repeticiones: compare con --treated "+ground)
	assert.Contains(t, errs, "applied_2026-07-18_Pivot.json: en Pivot se aplicó el sábado 18 de julio de 2026, y la etiqueta limita las repeticiones; no se anotó en qué terreno")
	kept := ground + "=0m"
	// counts of before the spray know nothing of it
	code, _, errs = run(t, "map", "week1.csv", "--field", "field.geojson", "--out", "out1")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "Friday 17 July 2026, and the label limits repeats: that was after this count\n")
	// files of counts are told of the record beside as folders are
	code, _, errs = run(t, "compare", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "change23")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: "+notCounted+ground+" counts it in and tells whether it worked\n")
	assert.Equal(t, 1, strings.Count(errs, "not counted in"))
	assert.Contains(t, errs, "Pivot was sprayed on Saturday 18 July 2026, and the label limits repeats; which ground")
	code, _, errs = run(t, "compare", "out", "out3", "--out", "change")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(errs, "not counted in"))
	code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "change12")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "that was after this count")
	assert.NotContains(t, errs, "not counted in")
	job := []string{"handoff", "out3", "--swath", "24m", "--out", "job3"}
	code, out, errs = run(t, job...)
	require.Zero(t, code, errs)
	const onSheet = "Of this ground 6.18 ha (15.3 ac) was sprayed on Friday 17 July. The field was sprayed on Saturday 18 July; which ground is not recorded. The label limits repeats."
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "Look out: "+onSheet)
	assert.Contains(t, contents(t, "job3")["jobsheet.html"], onSheet)
	assert.Contains(t, errs, ground+": ground of Pivot was sprayed on Friday 17 July 2026, and the label limits repeats: to leave it out give --keep-off "+kept)

	code, _, errs = run(t, "compare", "out", "out3", "--out", filepath.Join("far", "change"))
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(errs, "Pivot was sprayed on Saturday 18 July 2026"))
	// so does a map that is made anew in the folder
	code, _, errs = run(t, "map", "week2.csv", "--field", "field.geojson", "--out", "out", "--force")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(errs, "Pivot was sprayed on Saturday 18 July 2026, and the label limits repeats; which ground it was is not recorded\n"))
	assert.Contains(t, errs, ground+": ground of Pivot was sprayed on Friday 17 July 2026, and the label limits repeats: that was after this count")

	code, out, errs = run(t, "compare", "out", "out3", "--treated", ground, "--out", "change")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "For the ground that was not sprayed:\n  geocoris handoff out3 --swath WIDTH --keep-off "+kept+" --good-for 1 --out out3-job\n")
	// in whatever order: the ground is that of the newest map
	code, out, errs = run(t, "compare", "out3", "out", "--treated", ground, "--out", "change", "--only", "Pivot")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "  geocoris handoff out3 --swath WIDTH")
	// what came as files of counts is mapped first, by the same flags
	code, out, errs = run(t, "compare", "week3.csv", "week2.csv", "--field", "field.geojson", "--only", "Pivot", "--treat-at", "41", "--treated", ground, "--out", "change23")
	require.Zero(t, code, errs)
	_, commands, _ := strings.Cut(out, "For the ground that was not sprayed:\n")
	assert.Equal(t, "  geocoris map week3.csv --field field.geojson --only Pivot --treat-at 41 --out change23-map\n"+
		"  geocoris handoff change23-map --swath WIDTH --keep-off "+kept+" --good-for 1 --out change23-map-job\n", commands)
	for _, line := range strings.Split(strings.TrimSpace(commands), "\n") {
		code, _, errs = run(t, strings.Fields(blanksFilled.Replace(line))[1:]...)
		require.Zero(t, code, errs)
	}
	// its sheet has the day that compare says, not the map's
	sheet := contents(t, "change23-map-job")["jobsheet.html"]
	assert.Contains(t, sheet, "Thursday 23 July")
	assert.NotContains(t, sheet, "by Saturday 25 July")
	// counts whose settings a season tells are not mapped by flags alone
	code, out, errs = run(t, "compare", "season.gpkg", "week3.csv", "--treated", ground, "--out", "change23")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "For the ground that was not sprayed, with the folder of the map of Wednesday 22 July as MAPDIR:\n  geocoris handoff MAPDIR --swath WIDTH --keep-off "+kept+" --good-for 1 --out job\n")
	// a season that holds the spray counts it in
	code, _, errs = run(t, "season", "add", "season.gpkg", "--treated", ground)
	require.Zero(t, code, errs)
	code, out, errs = run(t, "compare", "season.gpkg", "week3.csv", "--out", "change23")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Spray the red ground that was not sprayed")
	assert.NotContains(t, errs, "not counted in")
	assert.NotContains(t, errs, ground)
	code, out, errs = run(t, append(job, "--force", "--keep-off", kept)...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Keep off: ground sprayed on Friday 17 July.\n")
	assert.NotContains(t, out, "Of this ground")
	assert.NotContains(t, errs, ground)
}

// An area that is not that of the ground given with it is asked about, as both go on file.
func TestRecordComparesTheAreaWithItsGround(t *testing.T) {
	handedOver(t)
	for area, asked := range map[string]bool{"15.5ac": false, "6.3ha": false, "12.8ac": true, "16.1ac": true} {
		code, _, errs := run(t, append(recordPivot(area), "--notes", area)...)
		require.Zero(t, code, errs)
		if asked {
			assert.Contains(t, errs, "the ground measures 15.5 ac, and "+area[:4]+" ac was typed", area)
		} else {
			assert.Empty(t, errs, area)
		}
	}
}

func handedOver(t *testing.T) {
	t.Helper()
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--quiet")
	require.Zero(t, code, errs)
}

func recordPivot(area string) []string {
	return []string{"record", "out", "--date", "2026-07-17", "--field", "Pivot", "--area", area, "--product", "product A=46.5 lb",
		"--who", "the applicator", "--ground", filepath.Join("job", "swaths.geojson")}
}
