package web_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// A walk of three hours, 60 stops of ten leaves, counted by its keys on a clock that runs
// ahead: neither the page nor the engine holds more at its end than what was counted takes.
// How long the keys and the band take is told.
func TestLongWalkHoldsNoMore(t *testing.T) {
	p := newPhone(t)
	s := scout{p.Browser, t}
	s.Evaluate(hands + " ?? 0")
	s.Evaluate(clockAhead + " ?? 0")
	s.choosePivot()
	s.run(`await scout.there("#free"); scout.get("#free").click(); await scout.shows("walk");`)
	heap, engine := map[int]float64{}, map[int]float64{}
	for stop := range 60 {
		begun := time.Now()
		r, turn := 360*math.Sqrt((float64(stop)+0.5)/60), 2.399963*float64(stop) // metres, and the golden angle
		s.run(fmt.Sprintf(`scout.stand(%v, %v);
			await scout.until("the way", () => scout.get("#way")?.textContent.includes("±"));
			scout.get("#here").click();
			await scout.shows("count");`, -101.6+r*math.Cos(turn)/90_200, 35.9+r*math.Sin(turn)/111_000))
		s.run(fmt.Sprintf(`for (let leaf = 0; leaf < 10; leaf++) {
			clockAhead(18000);
			if (leaf %% 5) await scout.tap('[data-tell="' + (leaf + %d) %% 10 + '"]');
			else for (const key of ['[data-guess="tens"]', '[data-add="25"]', '[data-add="10"]', "#next"]) await scout.tap(key);
		}`, stop))
		counted := time.Now()
		s.leave()
		if n := stop + 1; n == 10 || n == 30 || n == 60 {
			heap[n], engine[n] = p.Heap(), p.Evaluate(`import("./main.js").then(({ modules }) => modules["engine.js"]).then(m => m.held)`).(float64)
			t.Logf("stop %d: page %.2f MB, engine %.1f MB; the keys took %v, the band %v", n, heap[n]/1e6, engine[n]/1e6, counted.Sub(begun).Round(time.Millisecond), time.Since(counted).Round(time.Millisecond))
		}
	}
	assert.InDelta(t, 600, p.Evaluate(rowsCounted), 0)
	assert.InDelta(t, 3*60, p.Evaluate(walkMinutes).(float64), 20)
	const stored = 2e3 // bytes of a leaf's events in the page, at most: they are its log
	assert.Less(t, heap[60]-heap[10], 500*stored)
	assert.Less(t, heap[60]-heap[30], 300*stored)
	assert.Less(t, engine[60], 64e6)
	// When the collector runs is chance: it may come to two arenas of the Go heap more, which
	// have 4 MB each, with their books. A leak comes with each
	// twenty: two of them are as sharp on it as one was with half the room.
	const slack = 12e6
	once := p.Evaluate(askedOn).(float64)
	p.Evaluate(askedOn)
	again := p.Evaluate(askedOn).(float64)
	t.Logf("asked another 20 times: engine %.1f MB; and twice more: %.1f MB", once/1e6, again/1e6)
	assert.Less(t, once, 64e6)
	assert.LessOrEqual(t, once, engine[60]+slack, "the engine grows")
	assert.LessOrEqual(t, again, once+slack, "the engine grows")
}

// askedOn is what the engine holds when it was asked another twenty times.
const askedOn = `import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["calls.js"], modules["engine.js"]]).then(async ([s, l, c, e]) => {
	const state = l.stateOf(await (await s.openStore()).all()), walk = l.openWalk(state);
	for (let i = 0; i < 20; i++) await c.after(state.fields.get(walk.field), walk, null);
	return e.held; })`

// clockAhead lets the page's clock run ahead by what it is told.
const clockAhead = `(() => {
	const Real = Date;
	let ahead = 0;
	window.clockAhead = ms => { ahead += ms; };
	window.Date = class extends Real {
		constructor(...given) { if (given.length) super(...given); else super(Real.now() + ahead); }
		static now() { return Real.now() + ahead; }
	};
})()`

// rowsCounted is how many leaves the table of the walk has.
const rowsCounted = `import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["csv.js"]]).then(async ([s, l, c]) => c.table(l.openWalk(l.stateOf(await (await s.openStore()).all()))).rows)`

// walkMinutes is how long a walk took by its log.
const walkMinutes = `import("./main.js").then(({ modules }) => modules["store.js"]).then(m => m.openStore()).then(s => s.all()).then(all => {
	const at = all.filter(e => e.kind === "tell").map(e => Date.parse(e.at));
	return (at.at(-1) - at[0]) / 60000; })`
