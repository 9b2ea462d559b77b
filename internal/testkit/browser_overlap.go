//go:build !js

package testkit

import (
	"fmt"

	"github.com/stretchr/testify/assert"
)

// AllWidths are those from a small phone to a large screen, in CSS pixels.
func AllWidths() []int { return []int{320, 360, 390, 480, 640, 768, 1024, 1366, 1920} }

// AssertNothingOverlaps holds that at each width of the tab no words or controls lie on
// others, and that nothing reaches past the window's side, by their boxes.
func (b *Browser) AssertNothingOverlaps(what string, widths ...int) {
	b.t.Helper()
	for _, w := range widths {
		b.Size(w, 800)
		assert.Empty(b.t, b.Overlaps(), "%s at %d px", what, w)
	}
}

// Overlaps are the pairs of words or controls of which one lies on the other, and what
// reaches past the window's side. What is scrolled out of sight within a frame is not
// there; glyphs do not fill their boxes, of which a margin is left out.
func (b *Browser) Overlaps() (found []string) {
	b.t.Helper()
	list, _ := b.Evaluate(overlaps).([]any)
	for _, one := range list {
		found = append(found, fmt.Sprint(one))
	}
	return found
}

const overlaps = `(() => {
	const whole = { left: -1e9, top: -1e9, right: 1e9, bottom: 1e9 }, known = new Map([[null, whole], [document.documentElement, whole]]);
	const seen = e => { // of what lies in e, whatever frames there are round it
		if (known.has(e)) return known.get(e);
		let r = seen(e.parentElement);
		const s = getComputedStyle(e);
		if ((s.overflowX !== "visible" || s.overflowY !== "visible") && e !== document.body) {
			const c = e.getBoundingClientRect();
			r = { left: Math.max(r.left, c.left), top: Math.max(r.top, c.top), right: Math.min(r.right, c.right), bottom: Math.min(r.bottom, c.bottom) };
		}
		known.set(e, r);
		return r;
	};
	const boxes = [];
	const add = (node, element, c, text) => {
		const v = seen(element);
		const r = { left: Math.max(c.left, v.left), top: Math.max(c.top, v.top), right: Math.min(c.right, v.right), bottom: Math.min(c.bottom, v.bottom) };
		if (r.right - r.left > 2 && r.bottom - r.top > 2) boxes.push({ at: boxes.length, node, text, ...r });
	};
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const n = walk.currentNode, e = n.parentElement;
		if (!n.data.trim() || e.closest("script, style, template, title, desc, textarea, option") || getComputedStyle(e).visibility === "hidden") continue;
		const range = document.createRange();
		range.selectNodeContents(n);
		for (const c of range.getClientRects()) {
			const margin = 0.15 * c.height;
			add(n, e, { left: c.left + 1, right: c.right - 1, top: c.top + margin, bottom: c.bottom - margin }, n.data.trim().slice(0, 40));
		}
	}
	for (const e of document.querySelectorAll("input, select, textarea, button, output"))
		if (getComputedStyle(e).visibility !== "hidden") add(e, e, e.getBoundingClientRect(), "<" + e.tagName.toLowerCase() + " id=" + e.id + ">");
	const pairs = [];
	boxes.sort((a, b) => a.top - b.top);
	boxes.forEach((a, i) => {
		for (let k = i + 1; k < boxes.length && boxes[k].top < a.bottom - 1; k++) {
			const b = boxes[k];
			if (Math.min(a.right, b.right) - Math.max(a.left, b.left) <= 1 || Math.min(a.bottom, b.bottom) - b.top <= 1) continue;
			if (a.node === b.node || a.node.contains(b.node) || b.node.contains(a.node)) continue;
			pairs.push(a.at > b.at ? [a, b] : [b, a]);
		}
	});
	pairs.sort(([a, b], [c, d]) => a.at - c.at || b.at - d.at);
	const found = pairs.map(([a, b]) => a.text + " lies on " + b.text);
	const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
	if (wide > 0) found.push("the page is " + wide + " px wider than the window");
	return found;
})()`
