package web_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/testdata/demo"
)

// makes are the browsers that phones and laptops have, by their engines. keeps says whether
// one that is driven keeps what was counted when it ends; from, where the page comes from:
// on an iPhone a file runs no script that asks for the position, and Chromium has walked
// from a host in TestMorningOnThePhone.
var makes = []struct {
	name  string
	keeps bool
	from  []string
	start func(t testing.TB, profile string) testkit.Driver
}{
	{"Chromium", true, []string{"file"}, func(t testing.TB, profile string) testkit.Driver { return testkit.StartBrowserIn(t, profile) }},
	{"Firefox", true, []string{"host"}, func(t testing.TB, profile string) testkit.Driver { return testkit.StartFirefox(t, profile) }},
	{"WebKit", false, []string{"host"}, func(t testing.TB, _ string) testkit.Driver { return testkit.StartWebKit(t) }},
}

// The morning in each make of browser, from a host and from a file: a plan of twelve stops
// is walked and counted without a network, the page or the whole browser going down on the
// way; and the counts give the command line the zones of the phone, byte for byte.
func TestMorningInEachBrowser(t *testing.T) {
	half := []any{"count", "Plant 1 of 5, upper leaf", 25.0}
	for _, of := range makes {
		for _, from := range of.from {
			t.Run(of.name+" from a "+from, func(t *testing.T) {
				if of.name == "WebKit" && os.Getenv("GEOCORIS_WEBKIT") == "" {
					t.Skip("its driver does not start on every machine: GEOCORIS_WEBKIT=1 asks for it")
				}
				address, cut := opened(t, from)
				profile := testkit.BrowserProfile(t)
				s := scout{of.start(t, profile), t}
				s.open(address)
				s.plan()
				for range 5 {
					s.stop()
				}
				s.here()
				s.leaf(3)
				s.run(`await scout.tap('[data-guess="tens"]'); await scout.tap('[data-add="25"]');`)
				s.open(address)
				assert.Equal(t, half, s.onLeaf(), "shown anew")
				if of.keeps {
					s.Kill()
					s = scout{of.start(t, profile), t}
					s.open(address)
					assert.Equal(t, half, s.onLeaf(), "killed")
				}
				cut()
				s.run(`await scout.tap("#next");`)
				for range 8 {
					s.leaf(4)
				}
				s.leave()
				for range 6 {
					s.stop()
				}
				s.share()
			})
		}
	}
}

// opened is the address of the page, and what cuts its host off.
func opened(t *testing.T, from string) (address string, cut func()) {
	t.Helper()
	testkit.WantBrowser(t)
	e, err := built()
	require.NoError(t, err)
	folder := t.TempDir()
	if from == "file" {
		page, err := web.Page(web.App(), e, nil)
		require.NoError(t, err)
		path := filepath.Join(folder, "walk.html")
		require.NoError(t, os.WriteFile(path, page, 0o644))
		return "file://" + path, func() {}
	}
	files, err := web.Site(web.App(), e)
	require.NoError(t, err)
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(folder, f.Name), f.Content, 0o644))
	}
	server := httptest.NewServer(http.FileServer(http.Dir(folder)))
	t.Cleanup(server.Close)
	return strings.Replace(server.URL, "127.0.0.1", "localhost", 1) + "/", func() {
		server.CloseClientConnections()
		server.Close()
	}
}

// A scout works the page in any browser.
type scout struct {
	testkit.Driver
	t testing.TB
}

// hands are what a scout does on a page, with a position of our own: not every browser can
// be given one. Files that the page hands on are kept.
const hands = `(() => {
	const watchers = new Set(), blobs = new Map(), pause = ms => new Promise(done => setTimeout(done, ms));
	let at = null;
	const fix = () => ({ coords: at, timestamp: Date.now() });
	const geolocation = {
		watchPosition(told) { watchers.add(told); if (at) setTimeout(() => told(fix())); return told; },
		clearWatch(told) { watchers.delete(told); },
		getCurrentPosition(told) { if (at) setTimeout(() => told(fix()), 20); },
	};
	Object.defineProperty(navigator, "geolocation", { value: geolocation, configurable: true });
	Object.defineProperty(navigator, "language", { value: "en-US", configurable: true });
	const address = URL.createObjectURL.bind(URL);
	URL.createObjectURL = blob => { const url = address(blob); blobs.set(url, blob); return url; };
	const scout = window.scout = { saved: {} };
	const click = HTMLAnchorElement.prototype.click;
	HTMLAnchorElement.prototype.click = function () { if (this.download) scout.saved[this.download] = blobs.get(this.href); else click.call(this); };
	scout.until = async (what, is) => {
		for (const end = performance.now() + 45000; performance.now() < end; await pause(5)) if (is()) return;
		throw new Error("never: " + what + "; alert: " + document.getElementById("alert").textContent + "; shown: " + document.getElementById("screen").textContent.slice(0, 400));
	};
	scout.get = selector => document.querySelector(selector);
	scout.there = selector => scout.until(selector, () => scout.get(selector) && !scout.get(selector).disabled && scout.get(selector).getClientRects().length > 0);
	scout.shows = screen => scout.until(screen, () => document.getElementById("screen").className === screen);
	scout.stand = (longitude, latitude) => { at = { longitude, latitude, accuracy: 5 }; for (const told of watchers) told(fix()); };
	const face = () => document.getElementById("screen").className + document.getElementById("screen").textContent + document.querySelector(".figure")?.hidden;
	scout.tap = async selector => { await scout.there(selector); const before = face(); scout.get(selector).click(); await scout.until("a change by " + selector, () => face() !== before); };
	const events = () => new Promise((done, failed) => {
		const asked = indexedDB.open("geocoris");
		asked.onerror = () => failed(asked.error);
		asked.onsuccess = () => { const all = asked.result.transaction("events").objectStore("events").getAll(); all.onsuccess = () => { asked.result.close(); done(all.result); }; };
	});
	scout.next = async () => {
		const all = await events(), stops = all.findLast(e => e.kind === "walk").stops;
		return stops.find(s => !all.some(e => e.kind === "arrive" && e.stop === s.name));
	};
})()`

func (s scout) run(script string) any {
	s.t.Helper()
	return s.Evaluate("(async () => { " + script + " })()")
}

// open shows the page, and waits for its first screen.
func (s scout) open(address string) {
	s.t.Helper()
	s.Go(address)
	s.Evaluate(hands + " ?? 0")
	s.run(`await scout.until("the first screen", () => "ready" in document.documentElement.dataset);`)
}

// choosePivot loads the demo's field, and chooses it.
func (s scout) choosePivot() {
	s.t.Helper()
	field, err := fs.ReadFile(demo.Files(), "field.geojson")
	require.NoError(s.t, err)
	s.run(fmt.Sprintf(`
		if (scout.get("#speak-en").getAttribute("aria-pressed") !== "true") await scout.tap("#speak-en");
		await scout.until("the engine", () => scout.get("#engine-said").textContent === "");
		const files = new DataTransfer(), input = scout.get("#boundary");
		files.items.add(new File([%q], "field.geojson"));
		input.files = files.files;
		input.dispatchEvent(new Event("change"));
		await scout.there('input[name="field"]');
		[...document.querySelectorAll("label.choice")].find(l => l.textContent === "Pivot").querySelector("input").click();
		await scout.until("the pivot", () => scout.get("#my-name").value === "Pivot");
		await scout.there("#stage-boot");
		scout.get("#stage-boot").click();`, field))
}

// plan plans twelve stops on the demo's field.
func (s scout) plan() {
	s.t.Helper()
	s.choosePivot()
	s.run(`await scout.there("#plan"); scout.get("#plan").click(); await scout.shows("walk");`)
}

// here walks to the next planned stop and begins to count, and is how far east it is.
func (s scout) here() (longitude float64) {
	s.t.Helper()
	return s.run(`
		const { longitude, latitude } = await scout.next();
		scout.stand(longitude + 0.00002, latitude - 0.00001);
		await scout.until("the way", () => scout.get("#way")?.textContent.includes("±"));
		scout.get("#here").click();
		await scout.shows("count");
		return longitude;`).(float64)
}

// leaf counts one leaf.
func (s scout) leaf(n int) {
	s.t.Helper()
	var keys []string
	if n <= 9 {
		keys = append(keys, tell(n))
	} else {
		keys = append(keys, `[data-guess="tens"]`)
		for _, group := range []int{100, 50, 25, 10, 5, 1} {
			for ; n >= group; n -= group {
				keys = append(keys, add(group))
			}
		}
		keys = append(keys, "#next")
	}
	text, err := json.Marshal(keys)
	require.NoError(s.t, err)
	s.run(fmt.Sprintf(`for (const key of %s) await scout.tap(key);`, text))
}

// stop counts a whole stop. Counts are invented: more the farther east, none in the west.
func (s scout) stop() {
	s.t.Helper()
	longitude := s.here()
	for leaf := range 10 {
		s.leaf(max(0, int(math.Round((longitude+101.6)*30000))+leaf-5))
	}
	s.leave()
}

// leave ends a stop, and waits for what the engine says after it.
func (s scout) leave() {
	s.t.Helper()
	s.run(`await scout.there("#leave"); scout.get("#leave").click(); await scout.shows("walk");
		await scout.until("the band", () => scout.get("#band strong"));`)
}

// onLeaf is the screen, the leaf, and how many it says are on it.
func (s scout) onLeaf() any {
	s.t.Helper()
	return s.run(`return [scout.get("#screen").className, scout.get(".leaf").textContent, parseInt(scout.get(".figure").textContent)];`)
}

// share maps the walk, takes its files, and holds them against the command line.
func (s scout) share() {
	s.t.Helper()
	saved := s.run(`
		scout.get("#noon").click();
		await scout.shows("noon");
		await scout.until("the map", () => scout.get("#found svg"));
		document.querySelectorAll("details").forEach(d => { d.open = true; });
		for (const file of ["counts", "boundary", "zones (GeoJSON)"]) await scout.there('[data-save="' + file + '"]'), scout.get('[data-save="' + file + '"]').click();
		await scout.until("three files", () => Object.keys(scout.saved).length === 3);
		return Object.fromEntries(await Promise.all(Object.entries(scout.saved).map(async ([name, blob]) => [name, await blob.text()])));`).(map[string]any)
	folder := s.t.TempDir()
	var counts string
	for name, content := range saved {
		require.NoError(s.t, os.WriteFile(filepath.Join(folder, name), []byte(content.(string)), 0o644))
		if strings.HasPrefix(name, "counts-Pivot-") {
			counts = filepath.Join(folder, name)
		}
	}
	assert.Equal(s.t, 1+12*10, strings.Count(saved[filepath.Base(counts)].(string), "\n"))
	out := filepath.Join(folder, "map")
	testkit.Program(s.t, nil, "go", "run", "github.com/geocoris/geocoris/cmd/geocoris", "map", counts, "--field", filepath.Join(folder, "field.geojson"), "--out", out, "--rule", "sorghum-aphid-mean-40", "--stage", "boot")
	want, err := os.ReadFile(filepath.Join(out, "zones.geojson"))
	require.NoError(s.t, err)
	assert.Equal(s.t, string(want), saved["zones.geojson"])
}
