package web_test

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
)

// How long a tap takes until it is on the disk and on the screen, in ms, and whether the
// last of a long walk take longer than its first. Told, not held to: machines differ.
func TestTapToStored(t *testing.T) {
	p := arrived(t, mean)
	p.taps(`[data-guess="hundreds"]`)
	first := p.tapTimes(60)
	t.Logf("a walk's first taps: median %.1f ms, the slowest of 60 %.1f ms", median(first), slices.Max(first))
	p.keep(longWalk()...)
	p.shows("count")
	heap := p.Evaluate(`performance.memory.usedJSHeapSize`).(float64)
	last := p.tapTimes(60)
	t.Logf("after 60 stops of 10 leaves: median %.1f ms, the slowest of 60 %.1f ms, heap %.1f MB", median(last), slices.Max(last), heap/1e6)
	require.Equal(t, 120, p.onLeaf())
}

// slower is how many times the processor is slowed, for a phone of some years ago.
const slower = 4

// How soon, on a slow processor, the first screen stands, the engine is ready, a map of 60
// stops is drawn and drawn again, and a tap is stored. In ms, and how much of it all of the
// browser had a processor; told, not held to, as machines differ. On a quiet machine
//
//	go test ./internal/web -count=1 -v -run 'PhoneIsSoonReady|TapToStored'
//
// measures it. Where nobody reads the figures the processor is as fast as it is, and nothing
// is waited for: that the phone is ready, and answers, is held to all the same.
func TestPhoneIsSoonReady(t *testing.T) {
	walks := []time.Duration{0}
	if testing.Verbose() {
		walks = append(walks, 12*time.Second)
	}
	address, profile := served(t), testkit.BrowserProfile(t)
	p := slowPhone(t, testkit.BrowserProfile(t), address)
	t.Logf("never opened before: first screen after %s, engine ready after %s", p.worked(p.firstScreen()), p.worked(p.engineTime()))
	p.Kill()

	morning := phone{testkit.StartBrowserIn(t, profile), t, address}
	morning.open(390, 844)
	events := begun(t, mean, 1)
	events[2]["stops"] = []any{}
	morning.keep(append(events, sixtyStops()...)...)
	morning.Await(`navigator.serviceWorker.controller !== null`)
	if testing.Verbose() {
		morning.Rest()              // the engine is warm
		time.Sleep(8 * time.Second) // the browser keeps what it has compiled
	}
	morning.Kill()
	for _, walked := range walks { // until the map is asked for
		p = slowPhone(t, profile, address)
		t.Logf("opened again with 60 stops: first screen after %s, engine ready after %s", p.worked(p.firstScreen()), p.worked(p.engineTime()))
		time.Sleep(walked)
		p.worked(0)
		first := p.worked(p.mapTime(`document.getElementById("noon").click();`))
		var again []string
		for i := range 3 {
			again = append(again, p.worked(p.mapTime(fmt.Sprintf(`const e = document.getElementById("noon-level"); e.value = %d; e.dispatchEvent(new Event("change"));`, 30+i))))
		}
		t.Logf("the map %v after the engine was ready: %s; with other thresholds: %s: %s", walked, first, again, p.status("answer"))
		assert.Contains(t, p.status("answer"), "pray", "the last of the answers")
		p.Kill()
	}
	p = slowPhone(t, profile, address)
	p.firstScreen()
	p.Evaluate(`document.getElementById("here").click()`)
	p.Evaluate(`(async () => { while (!document.querySelector('[data-guess="tens"]')?.offsetParent) await new Promise(requestAnimationFrame); document.querySelector('[data-guess="tens"]').click(); while (!document.querySelector('[data-add="1"]').offsetParent) await new Promise(requestAnimationFrame); })()`)
	taps := p.tapTimes(30)
	t.Logf("a tap stored after 60 stops, the page just opened: median %.0f ms, the slowest of 30 %.0f ms", median(taps), slices.Max(taps))
}

// The engine is not warmed while somebody taps, and then all the same. A worker's timer may end
// a millisecond early by the window's clock: both round.
func TestTapsGoBeforeWarming(t *testing.T) {
	const rounding = 2 // ms
	own, err := fs.ReadFile(web.App(), "worker.js")
	require.NoError(t, err)
	b := testkit.StartBrowser(t)
	b.Open("about:blank#", 390, 844)
	waited := b.Evaluate(fmt.Sprintf(`(async () => {
		const worker = new Worker(URL.createObjectURL(new Blob([%q, 'start = async () => { globalThis.geocoris = { version: "t", warm: () => { postMessage({ warmed: true }); return false; } }; return "t"; };'])));
		let tapped = 0;
		const warmed = new Promise(done => { worker.onmessage = ({ data }) => { if (data.warmed) done(performance.now() - tapped); }; });
		worker.postMessage({ begin: {} });
		for (let i = 0; i < 8; i++) {
			tapped = performance.now();
			worker.postMessage({ wait: true });
			await new Promise(done => setTimeout(done, 100));
		}
		return warmed; })()`, own)).(float64)
	assert.GreaterOrEqual(t, waited, 1500.0-rounding, "ms after the last tap")
}

// A slowed phone is one on a slow processor.
type slowed struct {
	phone
	had *time.Duration // a processor, when it was asked last
}

// slowPhone shows the page, on a slow processor where that is measured. The browser and its
// tab are there before and at rest: a window makes ready boxes of its own that no phone has,
// which is more work than the page.
func slowPhone(t *testing.T, profile, address string) slowed {
	t.Helper()
	p := phone{testkit.StartBrowserIn(t, profile), t, address}
	p.LetLocate("granted")
	p.Open("about:blank#", 390, 844)
	if testing.Verbose() {
		if !testkit.First(t) {
			t.Log("other programs on this machine make it slower yet")
		}
		before := p.loop()
		p.Rest()
		testkit.Slow(t, p.Process(), slower)
		t.Logf("a loop takes %.1f times as long", median(p.loop())/slices.Min(before))
	}
	had := testkit.Worked(p.Process())
	p.Load(address, `new MutationObserver(() => { if (!window.firstScreen && "ready" in document.documentElement.dataset) window.firstScreen = performance.now(); }).observe(document, { attributes: true, subtree: true });`)
	return slowed{p, &had}
}

// worked says how long something took, and how long the browser had a processor since it was
// asked last.
func (s slowed) worked(took float64) string {
	had := testkit.Worked(s.Process())
	defer func() { *s.had = had }()
	return fmt.Sprintf("%.0f ms (%d at work)", took, (had - *s.had).Milliseconds())
}

// loop is how long the processor needs for some work in a worker, in ms, a few times.
func (p phone) loop() (times []float64) {
	p.t.Helper()
	for _, ms := range p.Evaluate(`(async () => {
		const work = "onmessage = () => { const begun = performance.now(); let x = 0; for (let i = 0; i < 1e8; i++) x += i % 7; postMessage(performance.now() - begun + x * 0); }";
		const worker = new Worker(URL.createObjectURL(new Blob([work]))), times = [];
		for (let i = 0; i < 3; i++) times.push(await new Promise(done => { worker.onmessage = e => done(e.data); worker.postMessage(0); }));
		worker.terminate();
		return times; })()`).([]any) {
		times = append(times, ms.(float64))
	}
	return times
}

// firstScreen is when the first screen stood, in ms from the page's begin.
func (p phone) firstScreen() float64 {
	p.t.Helper()
	return p.Evaluate(`(async () => { while (!window.firstScreen) await new Promise(requestAnimationFrame); return window.firstScreen; })()`).(float64)
}

// engineTime is when the engine was ready, in ms from the page's begin, or what is a little
// later, when it was asked.
func (p phone) engineTime() float64 {
	p.t.Helper()
	return p.Evaluate(`import("./main.js").then(({ modules }) => modules["engine.js"]).then(m => m.ready).then(() => performance.now())`).(float64)
}

// mapTime is how long it takes until the map that some script asks for is drawn, in ms.
func (p phone) mapTime(asks string) float64 {
	p.t.Helper()
	return p.Evaluate(`(async () => {
		const begun = performance.now(), answer = () => document.getElementById("answer")?.textContent;
		` + asks + `
		while (answer() !== "Making the map …") await new Promise(requestAnimationFrame);
		while (answer() === "Making the map …") await new Promise(requestAnimationFrame);
		return performance.now() - begun; })()`).(float64)
}

// sixtyStops are the events of 60 stops of ten leaves, all over the demo's field. Counts are
// invented: more in the east.
func sixtyStops() (events []map[string]any) {
	note := func(kind string, more map[string]any) {
		e := map[string]any{"kind": kind, "walk": "w", "step": true, "at": "2026-07-22T07:00:00-05:00"}
		maps.Copy(e, more)
		events = append(events, e)
	}
	for stop := range 60 {
		r, turn := 360*math.Sqrt((float64(stop)+0.5)/60), 2.399963*float64(stop) // metres, and the golden angle
		east, north := r*math.Cos(turn), r*math.Sin(turn)
		place := map[string]any{"longitude": -101.6 + east/90_200, "latitude": 35.9 + north/111_000, "accuracy": 5, "fixes": 9, "source": "measured"}
		note("arrive", map[string]any{"stop": strconv.Itoa(stop + 1), "place": place})
		for leaf := range 10 {
			note("tell", map[string]any{"plant": 1 + leaf/2, "leaf": 1 + leaf%2, "count": max(0, int(east/8)+leaf+stop%7*4)})
		}
		note("leave", nil)
	}
	return events
}

// longWalk are the events of 60 stops of ten leaves, and of the stop after them.
func longWalk() (events []map[string]any) {
	note := func(kind string, more map[string]any) {
		e := map[string]any{"kind": kind, "walk": "w", "step": true, "at": "2026-07-22T07:00:00-05:00"}
		for k, v := range more {
			e[k] = v
		}
		events = append(events, e)
	}
	note("leave", nil)
	for stop := range 60 {
		name := fmt.Sprintf("X%d", stop+1)
		place := map[string]any{"longitude": -101.604 + 0.0001*float64(stop), "latitude": 35.9, "accuracy": 5, "fixes": 9, "source": "measured"}
		note("arrive", map[string]any{"stop": name, "extra": true, "place": place})
		for leaf := range 10 {
			at := map[string]any{"plant": 1 + leaf/2, "leaf": 1 + leaf%2}
			for range 4 {
				at["add"] = 10
				note("tap", at)
			}
			note("next", at)
		}
		note("leave", nil)
	}
	note("arrive", map[string]any{"stop": "X61", "extra": true})
	note("guess", map[string]any{"plant": 1, "leaf": 1, "size": "hundreds"})
	note("tap", map[string]any{"plant": 1, "leaf": 1, "add": 60})
	return events
}

// tapTimes presses +1 so many times and measures each, in ms.
func (p phone) tapTimes(n int) (times []float64) {
	p.t.Helper()
	found := p.Evaluate(fmt.Sprintf(`(async () => {
		const figure = document.querySelector(".figure"), key = document.querySelector('[data-add="1"]'), times = [];
		for (let i = 0; i < %d; i++) {
			const shown = new Promise(done => { const o = new MutationObserver(() => { o.disconnect(); done(); }); o.observe(figure, { childList: true, characterData: true, subtree: true }); });
			const begun = performance.now();
			key.click();
			await shown;
			times.push(performance.now() - begun);
		}
		return times; })()`, n))
	for _, ms := range found.([]any) {
		times = append(times, ms.(float64))
	}
	return times
}

func median(of []float64) float64 {
	sorted := slices.Sorted(slices.Values(of))
	return sorted[len(sorted)/2]
}
