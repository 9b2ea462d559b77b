package web_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/testdata/demo"
)

// A morning without a network: the field's file, twelve planned stops walked and counted,
// the answer, and the files. The counts and the boundary that the phone shares give the
// command line the zones that the phone shares, byte for byte. Counts are invented: more
// the farther east, none in the west.
func TestMorningOnThePhone(t *testing.T) {
	p, shared := newPhone(t), t.TempDir()
	p.DownloadTo(shared)
	p.engineReady()
	p.Offline()
	p.giveBoundary(t)
	p.Await(`document.querySelectorAll("#stage .plant").length > 1`)
	p.tap("#stage-boot")
	p.screen("before-field")
	p.openAll()
	p.write("my-observer", "scout A")
	p.tap("#plan")
	p.shows("walk")
	for stop := range 12 {
		at := p.nextStop()
		p.stand(at[0]+0.00002, at[1]-0.00001, 5)
		p.Await(`document.getElementById("way").textContent.includes("±")`)
		p.tap("#here")
		p.shows("count")
		for leaf := range 10 {
			p.countLeaf(max(0, int(math.Round((at[0]+101.6)*30000))+leaf-5))
		}
		p.taps("#leave")
		p.shows("walk")
		p.Await(`!document.getElementById("band").textContent.includes("Counting what")`)
		require.Contains(t, p.Text(`document.getElementById("band").innerHTML`), "strong")
		if stop < 11 {
			assert.Equal(t, "KEEP GOING", p.Text(`document.querySelector("#band strong").textContent`), "stop %d", stop+1)
		}
		t.Logf("stop %d: %s", stop+1, p.status("band"))
	}
	p.screen("walk-end")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found svg") !== null`)
	t.Log(p.status("answer"))
	assert.Contains(t, p.Text(`document.getElementById("cautions").textContent`), "label", "cautions stand wherever an answer may lead to a spraying")
	assert.Regexp(t, `^Pivot, [A-Z][a-z]+day \d+ [A-Z][a-z]+ \d{4}$`, p.Text(`document.querySelector("header .quiet").textContent`))
	assert.Equal(t, "boot", p.Text(`document.getElementById("noon-stage").value`))
	p.openAll()
	p.screen("noon")
	for _, file := range []string{"counts", "boundary", "zones (GeoJSON)", "zones (KML)", "picture"} {
		p.tap(fmt.Sprintf(`[data-save="%s"]`, file))
	}
	zones := wait(t, shared, "zones.geojson")
	counts, field := wait(t, shared, "counts-Pivot-*.csv"), wait(t, shared, "field.geojson")
	wait(t, shared, "map.png")

	out := filepath.Join(t.TempDir(), "map")
	testkit.Program(t, nil, "go", "run", "github.com/geocoris/geocoris/cmd/geocoris", "map", counts, "--field", field, "--out", out, "--rule", "sorghum-aphid-mean-40", "--stage", "boot")
	want, err := os.ReadFile(filepath.Join(out, "zones.geojson"))
	require.NoError(t, err)
	got, err := os.ReadFile(zones)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
}

// Where enough was counted the band says so with the answer, and the map is the main thing
// to do. Taken back, it is gone. Invented: twelve stops without an insect.
func TestBandSaysEnough(t *testing.T) {
	p := newPhone(t)
	p.keep(append(begun(t, mean, 12), cleanWalk(12)...)...)
	p.shows("walk")
	p.Await(`document.querySelector("#band.enough") !== null`)
	assert.Contains(t, p.status("band"), "ENOUGH ")
	assert.Contains(t, p.status("band"), "Do not spray")
	assert.Equal(t, "noon", p.Text(`document.querySelector(".main").id`))
	p.screen("walk-enough")
	p.tap("#undo")
	p.shows("count")
	for range 5 {
		p.taps("#undo")
	}
	p.openAll()
	p.taps("#early")
	p.shows("walk")
	p.Await(`document.querySelector("#band strong") !== null`)
	assert.Len(t, p.csv(), 115, "leaves")
}

// Numbers that were counted, and plants that were answered for, both feed a rule on plants
// over a tally. Invented, without an insect.
func TestNumbersAndAnswersFeedATally(t *testing.T) {
	numbers := maps.Clone(mean)
	numbers["rule"] = "sorghum-aphid-high-plains"
	for name, protocol := range map[string]map[string]any{"numbers": numbers, "answers": over} {
		p := newPhone(t)
		events := cleanWalk(12)
		if name == "answers" {
			events = slices.DeleteFunc(events, func(e map[string]any) bool { return e["leaf"] == 2 })
			for _, e := range events {
				if e["kind"] == "tell" {
					e["kind"], e["over"] = "answer", false
				}
			}
		}
		p.keep(append(begun(t, protocol, 12), events...)...)
		p.shows("walk")
		p.tap("#noon")
		p.shows("noon")
		p.Await(`document.querySelector("#found button") !== null`)
		assert.Contains(t, p.status("answer"), "Do not spray", name)
	}
}

// cleanWalk are the events of so many planned stops of ten leaves without an insect.
func cleanWalk(stops int) (events []map[string]any) {
	at := "2026-07-22T07:00:00-05:00"
	for stop := range stops {
		place := map[string]any{"longitude": -101.6025 + 0.0017*float64(stop%4), "latitude": 35.8982 + 0.0018*float64(stop/4), "accuracy": 5, "fixes": 9, "source": "measured"}
		events = append(events, map[string]any{"kind": "arrive", "walk": "w", "step": true, "at": at, "stop": fmt.Sprint(stop + 1), "place": place})
		for leaf := range 10 {
			events = append(events, map[string]any{"kind": "tell", "walk": "w", "step": true, "at": at, "plant": 1 + leaf/2, "leaf": 1 + leaf%2, "count": 0})
		}
		events = append(events, map[string]any{"kind": "leave", "walk": "w", "step": true, "at": at})
	}
	return events
}

// wait is the path of a file that the browser saves.
func wait(t testing.TB, folder, pattern string) string {
	t.Helper()
	var found []string
	require.Eventually(t, func() bool {
		found, _ = filepath.Glob(filepath.Join(folder, pattern))
		return len(found) == 1
	}, time.Minute, 50*time.Millisecond, pattern)
	return found[0]
}

// engineReady waits for the engine.
func (p phone) engineReady() {
	p.t.Helper()
	p.Evaluate(`import("./main.js").then(({ modules }) => modules["engine.js"]).then(m => m.ready)`)
}

// giveBoundary hands the demo's field to the page as a file.
func (p phone) giveBoundary(t testing.TB) {
	t.Helper()
	text, err := fs.ReadFile(demo.Files(), "field.geojson")
	require.NoError(t, err)
	p.Evaluate(fmt.Sprintf(`(() => { const d = new DataTransfer(), e = document.getElementById("boundary"); d.items.add(new File([%q], "field.geojson")); e.files = d.files; e.dispatchEvent(new Event("change")); })()`, text))
	p.Await(`document.querySelector('input[name="field"]') !== null`)
	p.Evaluate(`[...document.querySelectorAll("label.choice")].find(l => l.textContent === "Pivot").querySelector("input").click()`)
	p.Await(`document.getElementById("my-name").value === "Pivot"`)
}

// nextStop is where the next planned stop is.
func (p phone) nextStop() (at [2]float64) {
	p.t.Helper()
	found := p.Evaluate(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["walk.js"]]).then(async ([s, l, w]) => {
		const next = w.ahead(l.openWalk(l.stateOf(await (await s.openStore()).all())))[0];
		return [next.longitude, next.latitude]; })`).([]any)
	return [2]float64{found[0].(float64), found[1].(float64)}
}

// countLeaf counts one leaf as a scout would: few at one tap, more by the largest groups.
// Each key is pressed when what the last one did is shown.
func (p phone) countLeaf(n int) {
	p.t.Helper()
	keys := []string{tell(n)}
	if n > 9 {
		keys = []string{`[data-guess="tens"]`}
		for _, group := range []int{100, 50, 25, 10, 5, 1} {
			for ; n >= group; n -= group {
				keys = append(keys, add(group))
			}
		}
		keys = append(keys, "#next")
	}
	text, err := json.Marshal(keys)
	require.NoError(p.t, err)
	p.Evaluate(fmt.Sprintf(`(async () => {
		const shown = () => document.getElementById("screen").textContent + document.querySelector(".figure").hidden;
		for (const key of %s) {
			const before = shown();
			document.querySelector(key).click();
			while (shown() === before) await new Promise(done => setTimeout(done, 2));
		}
	})()`, text))
}
