//go:build !js

package cli

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/testdata/demo"
)

// From a German spreadsheet with faults to the files for the sprayer, by the keyboard
// alone: what is saved is what the commands shown write.
func TestTheLaptopByKeyboard(t *testing.T) {
	inDemo(t)
	file := german(t)
	saved := t.TempDir()
	p := newLaptop(t, ".", 1366)
	p.DownloadTo(saved)
	p.pressed(`[data-use="field.geojson"]`)
	p.Await(`document.querySelector("[data-file='field.geojson']") !== null`)
	p.pressed(fmt.Sprintf(`[data-use=%q]`, file))
	p.Await(`document.querySelector("#read-columns") !== null`)
	assert.Equal(t, "Läuse", p.Text(`document.querySelector("[data-column='count']").value`), "the engine's proposal is chosen")
	p.looks("columns")
	p.pressed("#read-columns")
	p.Await(`document.querySelectorAll("#problems .refused").length === 4`)
	assert.Equal(t, "true", p.Text(`[...document.querySelectorAll("#problems .bad")].some(e => e.textContent === "1l")`))
	p.looks("bring")
	rows := p.Text(`document.getElementById("problems").textContent`)
	assert.Contains(t, rows, "tick “Latitude and longitude are swapped” under “Your files”, or correct the file")
	assert.NotContains(t, rows, "--", "a flag is nothing to click on")
	p.TabTo("#fix-swap")
	p.Key("Space")
	p.Await(`document.querySelectorAll("#problems .refused").length === 3 && document.querySelector("#command pre").textContent.includes("--fix swap")`)
	p.pressed("#go-answer")
	p.Await(`document.querySelector("#map svg") !== null`)
	assert.Contains(t, p.Text(`document.getElementById("sentence").textContent`), "Spray the red ground")
	assert.Equal(t, "3", p.Text(`document.querySelectorAll("#reasons li").length`))
	p.looks("answer")

	before := p.Text(`document.getElementById("screen").dataset.shown`)
	p.typed("#set-treat-at", "200,5")
	p.Await(fmt.Sprintf(`document.getElementById("screen").dataset.shown !== %q && document.querySelector("#command pre").textContent.includes("--treat-at 200.5")`, before))
	p.pressed("#go-hand-over")
	p.typed("#job-swath", "24m")
	p.Await(`document.querySelector("#says p") !== null`)
	p.typed("#job-heading", "30")
	p.typed("#job-rate", "140L/ha")
	p.Await(`document.querySelector("[data-save='TASKDATA.zip']") !== null && document.querySelector("#command pre").textContent.includes("--heading 30")`)
	p.looks("handover")
	lines := strings.Split(p.Text(`document.querySelector("#command pre").textContent`), "\n")
	require.Len(t, lines, 2)
	p.pressed(`[data-save="TASKDATA.zip"]`)
	p.pressed(`[data-save="jobsheet.html"]`)
	p.pressed("#settings summary")
	p.pressed(`[data-save="map.toml"]`)
	p.pressed(`[data-save="job.toml"]`)
	bySettings := strings.Split(p.Text(`document.querySelector("#settings pre").textContent`), "\n")
	p.quiet()
	for _, line := range lines {
		runsLine(t, line)
	}
	assertSaved(t, saved, "job", "TASKDATA.zip", "jobsheet.html")
	require.NoError(t, os.RemoveAll("job"))
	for _, name := range []string{"map.toml", "job.toml"} {
		require.NoError(t, os.Rename(filepath.Join(saved, name), name))
	}
	for _, line := range bySettings {
		runsLine(t, line)
	}
	assertSaved(t, saved, "job", "TASKDATA.zip", "jobsheet.html")
}

// assertSaved holds that files that the browser saved are those of a folder, once they are
// there whole.
func assertSaved(t *testing.T, saved, folder string, names ...string) {
	t.Helper()
	for _, name := range names {
		want, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		require.Eventually(t, func() bool {
			got, err := os.ReadFile(filepath.Join(saved, name))
			return err == nil && bytes.Equal(got, want)
		}, time.Minute, 50*time.Millisecond, "%s is not what the command writes", name)
	}
}

// From a spreadsheet of the United States with faults, dropped, to a job whose passes go
// along a line that is dragged, with hives kept off, and its files as the commands shown
// write them; then the weeks.
func TestTheLaptopWithAMouse(t *testing.T) {
	inDemo(t)
	file := workbook(t)
	hives := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.5965,35.8985]}}]}`
	require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o600))
	p, saved := newLaptop(t, ".", 1920), t.TempDir()
	p.DownloadTo(saved)
	p.looks("bring-empty")
	p.drop(file, "field.geojson")
	p.Await(`[...document.querySelectorAll("#problems .bad")].some(e => e.textContent === "lots")`)
	p.press("#go-answer")
	p.Await(`document.querySelector("#set-rule option[value='sorghum-aphid-texas-mean']") !== null`)
	p.choose("#set-rule", "sorghum-aphid-texas-mean")
	p.choose("#set-stage", "boot")
	p.Await(`document.querySelector("#command pre").textContent.includes("--rule sorghum-aphid-texas-mean --stage boot")`)
	p.choose("#set-units", "us")
	p.Await(`document.querySelector("#command pre").textContent.includes("--units us")`)
	p.press(`[data-field="Corner block"]`)
	p.Await(`document.getElementById("sentence").textContent.startsWith("Do not spray")`)
	p.press(`[data-field="Pivot"]`)
	p.Await(`document.getElementById("sentence").textContent.startsWith("Spray")`)
	p.press("#go-hand-over")
	p.put("#job-swath", "80ft")
	p.Await(`document.querySelector("#says p") !== null`)
	p.drag("#job-map svg", [2]float64{0.4, 0.6}, [2]float64{0.6, 0.4})
	p.Await(`/--heading \d/.test(document.querySelector("#command pre").textContent)`)
	assert.Equal(t, p.Text(`document.getElementById("job-heading").value`), p.Text(`/--heading (\S+)/.exec(document.querySelector("#command pre").textContent)[1]`))
	p.put("#job-rate", "15gal/ac")
	p.give("keep-off-files", "hives.geojson")
	p.Await(`document.getElementById("says").textContent === "Type how far to stay away from hives.geojson."`)
	assert.Equal(t, "0", p.Text(`document.querySelectorAll("[data-save]").length`), "no job while it is open how far to stay away")
	p.put("[data-set-back='hives.geojson']", "150ft")
	p.Await(`document.querySelector("#command pre").textContent.includes("--keep-off hives.geojson=150ft") && document.querySelector("[data-save='TASKDATA.zip']") !== null`)
	p.Await(`document.querySelector("#job-map .off") !== null && document.querySelector("#job-map .left") !== null`)
	p.looks("handover-keep-off")
	lines := strings.Split(p.Text(`document.querySelector("#command pre").textContent`), "\n")
	p.press(`[data-save="TASKDATA.zip"]`)
	p.press(`[data-save="jobsheet.html"]`)
	for _, line := range lines {
		runsLine(t, line)
	}
	assertSaved(t, saved, "job", "TASKDATA.zip", "jobsheet.html")

	p.press("#step-weeks")
	p.press("#keep")
	p.Await(`document.getElementById("screen").dataset.told === "Pivot"`)
	p.press("#step-bring")
	p.Evaluate(`document.querySelector("[data-file='` + file + `'] button").click()`)
	p.press("[data-use='week2.csv']")
	p.Await(`document.querySelector("[data-file='week2.csv']") !== null`)
	p.press("#step-weeks")
	p.press("#keep")
	p.Await(`document.querySelectorAll("#season thead th").length === 3 && !document.getElementById("told").textContent.includes("Working …")`)
	require.Contains(t, p.Text(`document.getElementById("told").textContent + document.getElementById("alert").textContent`), "What changed")
	assert.Contains(t, p.Text(`document.querySelector("#kept-notes").textContent`), "the rule is taken at boot, as asked", "as season add says it")
	assert.Contains(t, p.Text(`document.querySelector("#told [data-part='notes']")?.textContent ?? ""`), " set aside", "as compare says it")
	p.looks("weeks")
	p.quiet()
}

// What was really sprayed is written down, begun with the job, by the keyboard alone: it
// is in the folder, as its command writes it, and in the season.
func TestTheLaptopRecords(t *testing.T) {
	testkit.WantBrowser(t)
	inDemo(t)
	runsLine(t, "geocoris season add season.gpkg week1.csv --field field.geojson")
	p := newLaptop(t, ".", 1366)
	p.pressed("#step-bring")
	p.pressed(`[data-use="field.geojson"]`)
	p.Await(`document.querySelector("[data-file='field.geojson']") !== null`)
	p.pressed(`[data-use="week2.csv"]`)
	p.pressed("#go-answer")
	p.pressed("#go-hand-over")
	p.typed("#job-swath", "24m")
	p.typed("#job-rate", "140L/ha")
	p.typed("#job-product", "product A=2kg/ha")
	p.Await(`document.querySelector("#command pre").textContent.includes("--product")`)
	p.pressed("#record summary")
	area := p.Text(`document.getElementById("record-area").value`)
	assert.Regexp(t, `^\d+(\.\d+)?ha$`, area)
	assert.Regexp(t, `^product A=\d+(\.\d+)? kg$`, p.Text(`document.getElementById("record-products").value`))
	assert.Empty(t, p.Text(`document.getElementById("record-who").value + document.getElementById("record-date").value + document.getElementById("record-wind").value`))
	p.pressed("#record-write")
	p.Await(`document.getElementById("alert").textContent === "Still missing: Day of the spraying, Who applied."`)
	p.Evaluate(`(() => { const e = document.getElementById("record-date"); e.value = "2026-07-17"; e.dispatchEvent(new Event("change")); })()`)
	p.typed("#record-wind", "3 m/s from SW")
	p.typed("#record-who", "the applicator")
	p.pressed("#record-write")
	p.Await(`document.getElementById("record-done").textContent.includes("applied_2026-07-17_Pivot.json")`)
	assert.Empty(t, p.Text(`document.getElementById("alert").textContent`))
	p.looks("record")
	lines := strings.Split(p.Text(`document.querySelector("#command pre").textContent`), "\n")
	require.Len(t, lines, 3)
	p.pressed("#record-season")
	p.Await(`document.querySelector("#record-done").textContent.includes("The season knows it.")`)
	p.pressed("#step-weeks")
	p.Await(`document.getElementById("season").textContent.includes("Sprayed on Friday 17 July 2026. product A:")`)

	// A job made anew would spray that ground once more, until it is left out.
	p.pressed("#step-hand-over")
	p.Await(`document.querySelector("[data-sprayed]")?.textContent.includes("applied_2026-07-17_Pivot.geojson tells of ground that was sprayed already, and the label limits repeats.")`)
	p.Await(`/Of this ground [0-9.]+ ha .* was sprayed on Friday 17 July\. The label limits repeats\./.test(document.getElementById("says").textContent)`)
	p.looks("sprayed")
	p.pressed("[data-sprayed] button")
	p.Await(`document.querySelector("[data-set-back='applied_2026-07-17_Pivot.geojson']")?.value === "0m"`)
	p.Await(`document.querySelector("#says .wrong") !== null`)
	assert.Contains(t, p.Text(`document.getElementById("says").textContent`), "No ground is left to spray.")
	assert.True(t, p.Evaluate(`document.querySelector("[data-sprayed]") === null`).(bool))
	p.quiet()

	made := map[string]string{}
	for _, name := range []string{"applied_2026-07-17_Pivot.json", "applied_2026-07-17_Pivot.geojson", "applied.csv"} {
		content, err := os.ReadFile(name)
		require.NoError(t, err)
		made[name] = string(content)
		require.NoError(t, os.Remove(name))
	}
	for _, line := range lines {
		runsLine(t, line)
	}
	for name, want := range made {
		content, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, want, string(content), name)
	}
}

// Ground to keep off is drawn: by taps on the map, and by who types its corners. It is a
// file in the folder, and the command shown reads it there.
func TestTheLaptopDrawsKeepOffs(t *testing.T) {
	inDemo(t)
	p := newLaptop(t, ".", 1366)
	p.pressed(`[data-use="field.geojson"]`)
	p.Await(`document.querySelector("[data-file='field.geojson']") !== null`)
	p.pressed(`[data-use="week2.csv"]`)
	p.pressed("#go-answer")
	p.pressed("#go-hand-over")
	p.typed("#job-swath", "24m")
	p.Await(`document.querySelector("[data-save='passes.gpx']") !== null`)
	p.pressed("#draw")
	assert.Equal(t, "draw-name", p.Text(`document.activeElement.id`))
	p.Type("hives")
	p.pressed("#draw-done")
	p.Await(`document.getElementById("alert").textContent === "Type how far to stay away from hives."`)
	p.typed("#draw-set-back", "50m")
	p.pressed("#draw-done")
	p.Await(`document.getElementById("alert").textContent.startsWith("nothing is drawn")`)
	p.typed("#draw-corners", "-101.5965,35.8985")
	p.Await(`document.querySelectorAll("#job-map .corner").length === 1`)
	p.pressed("#draw-done")
	p.Await(`document.querySelector("#command pre").textContent.includes("--keep-off keep-off-hives.geojson=50m")`)
	p.Await(`document.querySelector("#job-map .off") !== null && document.getElementById("drawn").textContent === "keep-off-hives.geojson is in 001."`)

	p.press("#draw")
	p.put("#draw-name", "Höfe am Weg")
	p.put("#draw-set-back", "30ft")
	for _, at := range [][2]float64{{0.5, 0.4}, {0.6, 0.4}, {0.6, 0.5}, {0.5, 0.5}, {0.1, 0.1}} {
		p.click("#job-map svg", at)
	}
	p.Await(`document.querySelectorAll("#job-map .corner").length === 5`)
	p.press("#draw-back")
	p.Await(`document.querySelectorAll("#job-map .corner").length === 4 && /^(-101\.\d{6},35\.\d{6}\n){3}-101\.\d{6},35\.\d{6}$/.test(document.getElementById("draw-corners").value)`)
	p.looks("drawing")
	p.press("#draw-done")
	p.Await(`document.querySelector("#command pre").textContent.includes('--keep-off "keep-off-Höfe-am-Weg.geojson=30ft"')`)
	p.looks("drawn")
	lines := strings.Split(p.Text(`document.querySelector("#command pre").textContent`), "\n")
	saved := t.TempDir()
	p.DownloadTo(saved)
	p.Evaluate(`document.querySelectorAll("#job-files details").forEach(d => { d.open = true; })`)
	p.press(`[data-save="keep_off.geojson"]`)
	for _, line := range lines {
		runsLine(t, line)
	}
	assertSaved(t, saved, "job", "keep_off.geojson")

	// Another day the file is known as what it is.
	p.press("#step-bring")
	p.Evaluate(`document.querySelector("[data-file='keep-off-hives.geojson'] button").click()`)
	p.press(`[data-use="keep-off-hives.geojson"]`)
	p.Await(`document.querySelector("[data-file='keep-off-hives.geojson'] select")?.value === "keep-off"`)
	p.quiet()
}

// What a row that cannot be read is to be read as stays a list beside the file: it is
// exported, taken back in, and given to the command line. A program that reads no such
// list offers none.
func TestTheLaptopCorrects(t *testing.T) {
	inDemo(t)
	p := newLaptop(t, "", 1366)
	p.drop("week3.csv", "field.geojson")
	p.Await(`document.querySelectorAll("#problems .refused").length === 3`)
	if _, facts := answered(t, "folder", `{}`); !slices.Contains(facts["named"].([]any), any("corrections")) {
		assert.Equal(t, "0", p.Text(`document.querySelectorAll("#problems input").length`))
		return
	}
	saved := t.TempDir()
	p.DownloadTo(saved)
	p.typed(`[data-now="10:count"]`, "12")
	p.Await(`document.querySelectorAll("#problems .refused").length === 2 && document.querySelector("#save-corrections") !== null`)
	p.looks("corrections")
	p.pressed("#save-corrections")
	var list []byte
	require.Eventually(t, func() bool {
		var err error
		list, err = os.ReadFile(filepath.Join(saved, "corrections.csv"))
		return err == nil && len(list) > 0 // the browser makes it before it fills it
	}, time.Minute, 50*time.Millisecond)
	assert.Equal(t, "file,line,column,was,now,why\nweek3.csv,10,count,,12,\"is blank, and a blank is not a zero\"\n", string(list))
	p.press("#go-answer")
	p.Await(`document.querySelector("#map svg") !== null`)
	command := p.Text(`document.querySelector("#command pre").textContent`)
	assert.Contains(t, command, "--corrections corrections.csv")
	require.NoError(t, os.WriteFile("corrections.csv", list, 0o600))
	runsLine(t, command)
	reply, _ := answered(t, "map", `{}`, brought(t, "boundary:field.geojson", "counts:week3.csv", "corrections:corrections.csv")...)
	assertSame(t, "out", reply)
	before, err := fs.ReadFile(demo.Files(), "week3.csv")
	require.NoError(t, err)
	now, err := os.ReadFile("week3.csv")
	require.NoError(t, err)
	assert.Equal(t, string(before), string(now), "the file stays")

	// Another day the list is dropped beside the file.
	again := newLaptop(t, "", 1366)
	again.drop("week3.csv", "field.geojson")
	again.Await(`document.querySelectorAll("#problems .refused").length === 3`)
	again.Evaluate(fmt.Sprintf(`(() => { const d = new DataTransfer(); d.items.add(new File([%q], "corrections.csv")); document.getElementById("drop").dispatchEvent(new DragEvent("drop", { dataTransfer: d, bubbles: true })); })()`, list))
	again.Await(`document.querySelectorAll("#problems .refused").length === 2`)
	again.press("#corrections button")
	again.Await(`document.querySelectorAll("#problems .refused").length === 3`)

	// A file with names of its own is corrected under these.
	own := newLaptop(t, "", 1366)
	own.drop(german(t), "field.geojson")
	own.press("#read-columns")
	own.Await(`document.querySelectorAll("#problems .refused").length === 4`)
	own.put(`[data-now="6:count"]`, "11")
	own.Await(`document.querySelectorAll("#problems .refused").length === 3`)
	assert.Contains(t, own.Text(`document.querySelector("#corrections li").textContent`), "woche 3.csv, row 6, Läuse: 11 in place of 1l")
}
