package web_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrived is a phone at the first stop of a walk.
func arrived(t *testing.T, protocol map[string]any) phone {
	t.Helper()
	p := newPhone(t)
	p.keep(begun(t, protocol, 12)...)
	p.shows("walk")
	p.taps("#here")
	p.shows("count")
	return p
}

// leaf is what the screen says is counted next.
func (p phone) leaf() string { return p.Text(`document.querySelector(".leaf").textContent`) }

// taps presses keys one after another, each when what it has to do is shown, and returns
// how many they were.
func (p phone) taps(selectors ...string) int {
	p.t.Helper()
	for _, s := range selectors {
		before := p.stored()
		p.tap(s)
		p.awaitStored(before + 1)
	}
	return len(selectors)
}

// stored is how many events are on the disk.
func (p phone) stored() int {
	return int(p.Evaluate(`import("./main.js").then(({ modules }) => modules["store.js"]).then(m => m.openStore()).then(s => s.all()).then(a => a.filter(e => e.kind !== "place" && e.kind !== "track").length)`).(float64))
}

func (p phone) awaitStored(n int) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`import("./main.js").then(({ modules }) => modules["store.js"]).then(m => m.openStore()).then(s => s.all()).then(a => a.filter(e => e.kind !== "place" && e.kind !== "track").length >= %d)`, n))
}

func tell(n int) string { return fmt.Sprintf(`[data-tell="%d"]`, n) }
func add(n int) string  { return fmt.Sprintf(`[data-add="%d"]`, n) }

// A walk takes a tap in as it comes, without what was tapped before it, and is then what all
// its events at once make, undone ones left out.
func TestTheWalkGrowsTapByTap(t *testing.T) {
	p := arrived(t, mean)
	p.openAll()
	p.taps(tell(3), `[data-guess="tens"]`, add(10), add(5), "#undo", "#next", `[data-seen="honeydew"]`, tell(0))
	found := p.Evaluate(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"]]).then(async ([s, l]) => {
		const all = await (await s.openStore()).all(), grown = l.emptyState();
		let anew = 0, last = null;
		for (const e of all) {
			const walk = l.theWalk(l.take(grown, e), "w");
			if (walk !== last) anew++;
			last = walk;
		}
		return [anew, all.filter(e => e.kind === "walk" || e.kind === "undo").length, JSON.stringify(last) === JSON.stringify(l.theWalk(l.stateOf(all), "w"))]; })`)
	assert.Equal(t, []any{2.0, 2.0, true}, found)
}

// The fewest taps are a promise: an empty leaf 1, a leaf of 80 at most 10, a stop of ten
// leaves with few at most 15.
func TestTapsOfALeaf(t *testing.T) {
	p := arrived(t, mean)
	assert.Equal(t, "Plant 1 of 5, lower leaf", p.leaf())
	empty := p.taps(tell(0))
	assert.Equal(t, "Plant 1 of 5, upper leaf", p.leaf())

	eighty := p.taps(`[data-guess="tens"]`, add(25), add(25), add(25), add(5))
	assert.Equal(t, "80 on this leaf", p.Text(`document.querySelector(".figure").textContent`))
	eighty += p.taps("#next")
	assert.Equal(t, "Plant 2 of 5, lower leaf", p.leaf())
	assert.Equal(t, 1, empty)
	assert.LessOrEqual(t, eighty, 10)
	for range 8 {
		p.taps(tell(1))
	}
	assert.Equal(t, "10 leaves: 88 in all, 8.8 a leaf.", p.leaf())
	p.taps("#leave")
	p.shows("walk")

	p.taps("#here")
	p.shows("count")
	few := 0
	for _, n := range []int{0, 2, 0, 1, 9, 0, 3, 0, 0, 4} {
		few += p.taps(tell(n))
	}
	assert.Equal(t, "10 leaves: 19 in all, 1.9 a leaf.", p.leaf())
	few += p.taps("#leave")
	p.shows("walk")
	assert.LessOrEqual(t, few, 15)
	t.Logf("taps: empty leaf %d, leaf of 80 %d, ten leaves with few %d", empty, eighty, few)
	rows := p.csv()
	require.Len(t, rows, 20)
	assert.Equal(t, "1 0 1 1 lower", cells(rows[0], "stop", "count", "leaves", "plant", "leaf"))
	assert.Equal(t, "1 80 1 1 upper", cells(rows[1], "stop", "count", "leaves", "plant", "leaf"))
	assert.Equal(t, "2 4 1 5 upper", cells(rows[19], "stop", "count", "leaves", "plant", "leaf"))
	assert.Equal(t, "-101.6000000 35.9000000 6.0 measured scout A boot", cells(rows[0], "longitude", "latitude", "accuracy_m", "position", "observer", "stage"))
	assert.Regexp(t, `^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$`, rows[0]["time"])
}

// A leaf that nobody counts through is a class, two taps, which map reads as it does that of
// any table: its ends bound what the stop may hold.
func TestClassOfALeaf(t *testing.T) {
	p := arrived(t, mean)
	assert.Equal(t, 2, p.taps(`[data-guess="class"]`, `[data-class="50+"]`))
	assert.Equal(t, "Plant 1 of 5, upper leaf", p.leaf())
	assert.Equal(t, "Before: Plant 1 of 5, lower leaf, 50 or more", p.status("before"))
	p.taps(`[data-guess="class"]`)
	p.screen("count-class")
	p.taps(`[data-class="100 to 249"]`)
	p.again()
	assert.Equal(t, "Before: Plant 1 of 5, upper leaf, 100–249", p.status("before"), "after a reload")
	p.taps(`[data-guess="class"]`, "#undo", "#undo", `[data-class="10 to 24"]`)
	p.openAll()
	p.taps("#early")
	rows := p.csv()
	require.Len(t, rows, 2)
	assert.Equal(t, "50+ 1 lower", cells(rows[0], "count", "leaves", "leaf"))
	assert.Equal(t, "10 to 24 1 upper", cells(rows[1], "count", "leaves", "leaf"))
	assert.InDelta(t, (math.Sqrt(50*100)+math.Sqrt(10*24))/2, p.answered()["mean"].(float64), 1e-9, "the mid-points of the classes")
}

// Undo takes back step after step, over leaves and stops, as far as the walk goes.
func TestUndoWithoutLimit(t *testing.T) {
	p := arrived(t, mean)
	for range 9 {
		p.taps(tell(2))
	}
	p.taps(`[data-guess="hundreds"]`, add(100), "#next", "#leave")
	p.shows("walk")
	p.taps("#undo")
	p.shows("count")
	assert.Equal(t, "10 leaves: 118 in all, 11.8 a leaf.", p.leaf())
	p.taps("#undo")
	assert.Equal(t, "100 on this leaf", p.Text(`document.querySelector(".figure").textContent`))
	p.taps("#undo", add(50))
	assert.Equal(t, "50 on this leaf", p.Text(`document.querySelector(".figure").textContent`))
	p.again()
	assert.Equal(t, "50 on this leaf", p.Text(`document.querySelector(".figure").textContent`), "after a reload")
	for range 2 + 9 {
		p.taps("#undo")
	}
	assert.Equal(t, "Plant 1 of 5, lower leaf", p.leaf())
	p.taps("#undo")
	p.shows("walk")
	p.tap("#undo") // nothing is left
	p.shows("walk")
	assert.Empty(t, p.csv())
}

// A rule on shares asks a plant for yes or no.
func TestCountOfPlantsOverATally(t *testing.T) {
	p := arrived(t, over)
	assert.Equal(t, "50 or more on a leaf?", p.Text(`document.querySelector("section:not([hidden]) h2").textContent`))
	yes, no := `[data-answer="yes"]`, `[data-answer="no"]`
	p.taps(yes, no, no, yes, no)
	assert.Equal(t, "2 of 5 plants: yes.", p.leaf())
	p.taps("#leave")
	rows := p.csv()
	require.Len(t, rows, 5)
	assert.Equal(t, "1 50 1  ", cells(rows[0], "plants_over", "at_or_above", "plant", "leaf", "count"))
	assert.Equal(t, "0 50 2  ", cells(rows[1], "plants_over", "at_or_above", "plant", "leaf", "count"))
}

// Stops beyond the planned ones are extra; on a walk without any all are planned, so that
// they are in the mean of the field.
func TestKindOfStops(t *testing.T) {
	p := arrived(t, mean)
	p.openAll()
	p.taps(tell(1), "#early")
	p.openAll()
	p.taps("#extra")
	p.shows("count")
	p.openAll()
	p.taps(tell(2), "#early")
	rows := p.csv()
	assert.Equal(t, "1 planned", cells(rows[0], "stop", "kind"))
	assert.Equal(t, "X1 extra", cells(rows[1], "stop", "kind"))

	p.keep(begun(t, mean, 0)[0], begun(t, mean, 0)[2])
	p.shows("walk")
	for n := range 2 {
		p.taps("#here")
		p.shows("count")
		p.openAll()
		p.taps(tell(n), "#early")
		p.shows("walk")
	}
	rows = p.csv()
	assert.Equal(t, "1 planned", cells(rows[0], "stop", "kind"))
	assert.Equal(t, "2 planned", cells(rows[1], "stop", "kind"))
}

// A stop that the answer asked for round a hot one is extra on a walk without planned stops
// too, so that the mean goes without it; others of such a walk are not. Invented.
func TestStopsRoundAHotOneAreExtra(t *testing.T) {
	p := newPhone(t)
	events := cleanWalk(16)
	for i, e := range events {
		if e["kind"] == "tell" && i/12 == 6 {
			e["count"] = 45
		}
		if place, ok := e["place"].(map[string]any); ok { // all of them in the field
			place["latitude"] = 35.8982 + 0.0015*float64(i/12/4)
		}
	}
	p.keep(append(begun(t, mean, 0), events...)...)
	p.shows("walk")
	p.Await(`document.querySelector("#band strong") !== null`)
	require.Contains(t, p.status("band"), "round stop 7")
	p.Await(`document.getElementById("counts-extra") !== null`)
	p.openAll()
	p.screen("walk-extra")
	p.stand(-101.5992, 35.9005, 5)
	for _, here := range []string{"#here", "#ordinary"} {
		p.Await(`document.getElementById("counts-extra") !== null`)
		p.openAll()
		p.tap(here)
		p.shows("count")
		p.openAll()
		p.taps(tell(3), "#early") // so few bear out no hot stop
		p.shows("walk")
		p.Await(`document.querySelector("#band strong") !== null`)
	}
	rows := p.csv()
	assert.Equal(t, "X1 extra", cells(rows[160], "stop", "kind"))
	assert.Equal(t, "17 planned", cells(rows[161], "stop", "kind"))
	for _, row := range rows[:160] {
		assert.Equal(t, "planned", row["kind"])
	}
	found := p.answered()
	assert.InDelta(t, (45+3)/17.0, found["mean"].(float64), 0.01, "without the extra stop")
	extra := 0
	for _, s := range found["stops"].([]any) {
		if s.(map[string]any)["extra"].(bool) {
			extra++
		}
	}
	assert.Equal(t, 1, extra)
}

// What else is seen is kept on its leaf, and words cannot break the table.
func TestAlsoSeen(t *testing.T) {
	p := arrived(t, mean)
	p.Evaluate(`document.querySelector("details.also").open = true`)
	p.taps(`[data-seen="honeydew"]`, `[data-seen="predators"]`, `[data-seen="predators"]`, `[data-seen="mummies"]`)
	p.Evaluate(`document.getElementById("note").value = '=cmd, "wet"'`)
	p.taps("#keep-note", tell(3), tell(4), tell(5), "#early")
	p.shows("walk")
	rows := p.csv()
	require.Len(t, rows, 3)
	assert.Equal(t, `3 yes  2 1 '=cmd, "wet"`, cells(rows[0], "count", "honeydew", "colonies", "predators", "mummies", "notes"))
	assert.Equal(t, `4     `, cells(rows[1], "count", "honeydew", "colonies", "predators", "mummies", "notes"), "of the plant, told once")
	assert.Equal(t, `2 5   `, cells(rows[2], "plant", "count", "honeydew", "predators", "notes"))
}

// cells are those of a row with a blank between them.
func cells(row map[string]string, names ...string) string {
	var out []string
	for _, n := range names {
		out = append(out, row[n])
	}
	return strings.Join(out, " ")
}

// csv are the rows of the shared table.
func (p phone) csv() (rows []map[string]string) {
	p.t.Helper()
	text := p.Text(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["csv.js"]]).then(async ([s, l, c]) => c.table(l.theWalk(l.stateOf(await (await s.openStore()).all()), "w")).text)`)
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if text != "\n" {
		require.NoError(p.t, err)
	}
	for i, line := range all {
		if i == 0 {
			continue
		}
		row := map[string]string{}
		for c, name := range all[0] {
			row[name] = line[c]
		}
		rows = append(rows, row)
	}
	return rows
}

// answered is what the engine says of the field of the walk.
func (p phone) answered() map[string]any {
	p.t.Helper()
	return p.Evaluate(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["calls.js"]]).then(async ([s, l, c]) => {
		const state = l.stateOf(await (await s.openStore()).all()), walk = l.theWalk(state, "w");
		return (await c.map(state.fields.get("f"), walk, {}, "us")).facts.fields[0]; })`).(map[string]any)
}
