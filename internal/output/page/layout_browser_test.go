package page_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// overlaps names what covers something else: lines of text, buttons, boxes to tick and
// maps, but what lies on a map or within one chart.
const overlaps = `(() => {
	const boxes = [], clips = new Map([[null, { left: -1e9, right: 1e9, top: -1e9, bottom: 1e9 }]]);
	const within = (r, c) => ({ left: Math.max(r.left, c.left), right: Math.min(r.right, c.right), top: Math.max(r.top, c.top), bottom: Math.min(r.bottom, c.bottom) });
	const clip = (e) => { // of what lies in e
		if (!clips.has(e)) clips.set(e, getComputedStyle(e).overflowX === "visible" ? clip(e.parentElement) : within(e.getBoundingClientRect(), clip(e.parentElement)));
		return clips.get(e);
	};
	const add = (owner, r) => {
		const box = { owner, ...within(r, clip(owner.parentElement)) };
		if (box.right - box.left > 1 && box.bottom - box.top > 1) boxes.push(box);
	};
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange();
	while (walk.nextNode()) {
		const parent = walk.currentNode.parentElement;
		if (!walk.currentNode.data.trim() || parent.closest("script, style, svg") || !parent.checkVisibility({ contentVisibilityAuto: true })) continue;
		range.selectNodeContents(walk.currentNode);
		[...range.getClientRects()].forEach((r) => add(parent, r));
	}
	document.querySelectorAll("svg.plot, svg.chart, svg.small, .disc, .bar, button, input").forEach((e) => { if (e.checkVisibility()) add(e, e.getBoundingClientRect()); });
	const slack = 3, out = [];
	boxes.sort((a, b) => a.top - b.top);
	boxes.forEach((a, i) => {
		for (let k = i + 1; k < boxes.length && boxes[k].top < a.bottom - slack; k++) {
			const b = boxes[k];
			if (a.owner === b.owner || a.owner.contains(b.owner) || b.owner.contains(a.owner)) continue;
			if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > slack && Math.min(a.bottom, b.bottom) - b.top > slack) {
				out.push(a.owner.outerHTML.slice(0, 60) + " / " + b.owner.outerHTML.slice(0, 60));
			}
		}
	});
	return boxes.length + "|" + out.join("\n");
})()`

// widths are of small phones to wide screens, parted where the page's behaviour begins
// otherwise: within a part a tab that is made wider is as one that was opened so wide.
var widths = [][]int{{320, 360, 390}, {768, 1024}, {1366, 1920}}

// Folds are as the page opened them, or all open.
const keepFolds = `window.folds ??= [...document.querySelectorAll("details")].map((d) => d.open); document.querySelectorAll("details").forEach((d, i) => { d.open = window.folds[i]; })`

func TestBrowserNothingOverlaps(t *testing.T) {
	b := testkit.StartBrowser(t)
	pages := map[string]string{"field": saved(t, "week3"), "unlike": savedPage(t, unlike(t)), "fields": savedPage(t, twelve(t)), "weeks": savedWeeks(t, sprayed(t)),
		"fields_es": savedPage(t, spanish(twelve(t))), "weeks_es": savedText(t, spanishWeeks(t, sprayed(t)))}
	for name, path := range pages {
		for _, alike := range widths {
			open(b, path, alike[0], 800)
			for _, width := range alike {
				b.Size(width, 800)
				assertApart(t, b, name, width)
			}
		}
		b.Picture("open_" + name + ".png")
	}
}

// assertApart holds that nothing of a page covers something else at a width.
func assertApart(t testing.TB, b *testkit.Browser, name string, width int) {
	t.Helper()
	for _, folds := range []string{keepFolds, openAll} {
		b.Evaluate(folds)
		boxes, found, _ := strings.Cut(b.Text(overlaps), "|")
		assert.Greater(t, len(boxes), 1, "there are boxes to compare")
		assert.Empty(t, found, "%s, %d px, %s", name, width, folds)
		assert.LessOrEqual(t, b.Evaluate(`document.documentElement.scrollWidth`), float64(width), "%s: no sideways scroll", name)
	}
}

// A heap of two lines is found, or the test above holds nothing.
func TestBrowserFindsWhatOverlaps(t *testing.T) {
	b := testkit.StartBrowser(t)
	open(b, saved(t, "week2"), 1366, 800)
	b.Evaluate(`document.querySelector(".verdict").animate([{ transform: "translateY(40px)" }, { transform: "translateY(40px)" }], { duration: 1e6 })`)
	_, found, _ := strings.Cut(b.Text(overlaps), "|")
	assert.Contains(t, found, "verdict")
}

// bottom is how far down the lowest of some elements reaches.
func bottom(b *testkit.Browser, selector string) float64 {
	return b.Evaluate(fmt.Sprintf(`Math.max(...[...document.querySelectorAll(%q)].filter((e) => e.checkVisibility()).map((e) => e.getBoundingClientRect().bottom))`, selector)).(float64)
}

func TestBrowserFirstScreenHoldsTheVerdictAndTheMap(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, screen := range [][2]int{{360, 800}, {390, 844}, {1366, 768}} {
		for _, week := range []string{"week1", "week2", "week3"} {
			open(b, saved(t, week), screen[0], screen[1])
			for _, part := range []string{".verdict", "svg.plot", ".bar"} {
				assert.LessOrEqual(t, bottom(b, part), float64(screen[1]), "%s, %v, %s", week, screen, part)
			}
			assert.GreaterOrEqual(t, b.Evaluate(`document.querySelector("svg.plot").getBoundingClientRect().width`), 300.0, "a map to be seen")
		}
		open(b, savedWeeks(t, sprayed(t)), screen[0], screen[1])
		assert.LessOrEqual(t, bottom(b, ".answers"), float64(screen[1]), "weeks, %v", screen)
		if screen[0] > 1000 {
			assert.LessOrEqual(t, bottom(b, "svg.plot"), float64(screen[1]), "maps of weeks, %v", screen)
		}
	}
}

// longLine is the longest line of running text in letters.
const longLine = `(() => {
	let most = 0, which = "";
	const range = document.createRange();
	document.querySelectorAll("p:not(.measures, .sizes), li, figcaption").forEach((e) => {
		if (!e.checkVisibility()) return;
		range.selectNodeContents(e);
		const rows = new Map();
		[...range.getClientRects()].forEach((r) => { const at = Math.round(r.bottom / 8); const was = rows.get(at) || [r.left, r.right]; rows.set(at, [Math.min(was[0], r.left), Math.max(was[1], r.right)]); });
		const wide = [...rows.values()].map(([left, right]) => right - left), full = wide.reduce((a, b) => a + b, 0) / Math.max(...wide); // lines, the last in part
		const letters = e.textContent.trim().length / full;
		if (rows.size > 1 && letters > most) { most = letters; which = e.textContent.trim().slice(0, 40); }
	});
	return Math.round(most) + " " + which;
})()`

func TestBrowserLinesAreShort(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, path := range []string{saved(t, "week3"), savedWeeks(t, sprayed(t))} {
		open(b, path, 1920, 1000)
		b.Evaluate(openAll)
		var most int
		found := b.Text(longLine)
		_, err := fmt.Sscan(found, &most)
		require.NoError(t, err)
		assert.Greater(t, most, 20, found)
		assert.LessOrEqual(t, most, 65, found)
	}
}

// What is folded on the screen stands on paper, and is folded again afterwards.
func TestBrowserPrintsWhatIsFolded(t *testing.T) {
	b := testkit.StartBrowser(t)
	open(b, saved(t, "week2"), 390, 844)
	const folded = `[...document.querySelectorAll("details")].filter((d) => d.open).length`
	assert.Equal(t, 0.0, b.Evaluate(folded))
	text := testkit.PDFPages(t, b.Print("folded.pdf", testkit.A4))[0].Text()
	for _, want := range []string{"Treating the whole field stays a choice", "Ground of Pivot", "inverse distance weighting", "Gordy et al. 2019"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "All 43 stops", "a list for the screen")
	assert.Equal(t, 0.0, b.Evaluate(folded))
}

// Twelve fields are read on a phone in some screens, worst first, and open one by one.
func TestBrowserTwelveFieldsAreShort(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedPage(t, twelve(t))
	for _, width := range []int{360, 1366} {
		open(b, path, width, 800)
		assert.Less(t, b.Evaluate(`document.documentElement.scrollHeight`), 12*220.0+1200, "%d px", width)
		assert.Equal(t, 12.0, b.Evaluate(`[...document.querySelectorAll("svg.small")].filter((e) => e.checkVisibility()).length`))
		b.Picture(fmt.Sprintf("twelve_%d.png", width))
	}
	assert.Equal(t, 0.0, b.Evaluate(`[...document.querySelectorAll("svg.plot")].filter((e) => e.checkVisibility()).length`))
	b.Evaluate(`document.querySelectorAll("details.one > summary")[3].click()`)
	assert.Equal(t, 1.0, b.Evaluate(`[...document.querySelectorAll("svg.plot")].filter((e) => e.checkVisibility()).length`))
	b.AssertQuiet("file://" + path)
}

// Discs are as large as the legend says, also on a map that was zoomed, and the bar is
// as long as it says: stops of the map are put as far apart as they are on the ground.
func TestBrowserMapKeepsItsScale(t *testing.T) {
	b := testkit.StartBrowser(t)
	r := demo(t, "week2")
	open(b, saved(t, "week2"), 1366, 768)
	stops := r.Fields[0].Stops
	a, z := 0, len(stops)-1
	ground := stops[z].XY[0] - stops[a].XY[0]
	const widest = `Math.max(...[...document.querySelectorAll("%s")].map((c) => c.getBoundingClientRect().width))`
	for range 3 {
		assert.InDelta(t, b.Evaluate(fmt.Sprintf(widest, ".sizes circle")), b.Evaluate(fmt.Sprintf(widest, "svg.plot .stops circle")), 0.3)
		x0, _ := place(t, b, a)
		x1, _ := place(t, b, z)
		var said float64
		_, err := fmt.Sscanf(b.Text(`document.querySelector(".length").textContent`), "%f m", &said)
		require.NoError(t, err)
		long := b.Evaluate(`document.querySelector(".bar").getBoundingClientRect().width`).(float64)
		assert.InDelta(t, (x1-x0)/ground, long/said, 0.01*long/said)
		b.Evaluate(`document.querySelector('[data-do="in"]').click()`)
	}
}
