package web_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
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

// How soon the first screen stands, the engine is ready, and the map of 60 stops is drawn,
// first and again, in ms on this machine. Told, not held to.
func TestPhoneIsSoonReady(t *testing.T) {
	p := newPhone(t, `new MutationObserver(() => { if (!window.firstScreen && "ready" in document.documentElement.dataset) window.firstScreen = performance.now(); }).observe(document, { attributes: true, subtree: true });`)
	engine := p.Evaluate(`import("./engine.js").then(m => m.ready).then(() => performance.now())`).(float64)
	t.Logf("first screen after %.0f ms, engine ready before %.0f ms", p.Evaluate(`window.firstScreen`), engine)
	p.keep(append(begun(t, mean, 12), longWalk()...)...)
	p.shows("count")
	p.engineReady()
	p.Evaluate(`history.back()`)
	p.shows("before")
	p.openAll()
	const map60 = `(async () => {
		const begun = performance.now();
		%s
		while (document.getElementById("answer")?.textContent !== "Making the map …") await new Promise(requestAnimationFrame);
		while (document.getElementById("answer").textContent === "Making the map …") await new Promise(requestAnimationFrame);
		return performance.now() - begun; })()`
	first := p.Evaluate(fmt.Sprintf(map60, `[...document.querySelectorAll(".walks button")].at(-1).click();`)).(float64)
	again := p.Evaluate(fmt.Sprintf(map60, `const e = document.getElementById("noon-level"); e.value = 30; e.dispatchEvent(new Event("change"));`)).(float64)
	t.Logf("map of 60 stops: first %.0f ms, again with another threshold %.0f ms: %s", first, again, p.status("answer"))
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
