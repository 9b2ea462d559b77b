package web_test

import (
	"fmt"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// Every screen passes axe-core, and no words lie on others, in the light and the dark.
func TestPhoneScreens(t *testing.T) {
	p := newPhone(t)
	p.screen("before-empty")
	p.keep(begun(t, mean, 12)...)
	p.shows("walk")
	p.openAll()
	p.screen("walk")
	p.taps("#here")
	p.shows("count")
	p.openAll()
	p.screen("count-first")
	p.taps(`[data-guess="tens"]`, add(25))
	p.screen("count-groups")
	p.taps("#next")
	for range 9 {
		p.taps(tell(2))
	}
	p.screen("count-done")
	p.taps("#leave")
	p.shows("walk")
	p.screen("walk-band")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found svg") !== null`)
	p.openAll()
	p.screen("noon")
	p.tap("#back-walk")
	p.shows("walk")
	p.Evaluate(`history.back()`)
	p.shows("noon")
	p.Evaluate(`history.back()`)
	p.shows("walk")
	p.Evaluate(`history.back()`) // the way back of the phone
	p.shows("before")
	p.openAll()
	p.screen("before")
}

// In Spanish, whose words are longer.
func TestPhoneScreensInSpanish(t *testing.T) {
	p := newPhone(t)
	p.keep(begun(t, mean, 12)...)
	p.keep(map[string]any{"kind": "set", "values": map[string]any{"language": "es"}})
	p.shows("walk")
	assert.Equal(t, "es", p.Text(`document.documentElement.lang`))
	p.screen("es-walk")
	p.taps("#here")
	p.shows("count")
	p.openAll()
	p.screen("es-count")
	p.taps(`[data-guess="tens"]`, add(25), "#next", "#early")
	p.shows("walk")
	p.Await(`document.querySelector("#band strong") !== null`)
	p.inSpanish("walk")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found button") !== null`)
	p.openAll()
	p.Await(`document.querySelectorAll("#noon-rule option").length > 1`)
	p.inSpanish("noon")
	p.screen("es-noon")
	p.Evaluate(`history.go(-2)`)
	p.shows("before")
	p.openAll()
	p.Await(`document.querySelector("#what p") !== null`)
	p.inSpanish("before")
	p.screen("es-before")
	p.tap("#make")
	p.shows("make")
	p.screen("es-make")
	p.Evaluate(`history.back()`)
	p.shows("before")
	p.tap("#speak-en")
	p.Await(`document.documentElement.lang === "en"`)
}

// The answer at noon over twelve stops, one of them outside the field, has no English but
// what is said to be so.
func TestNoonInSpanish(t *testing.T) {
	p := newPhone(t)
	events := cleanWalk(12)
	for i, e := range events {
		if e["kind"] == "tell" && i > 100 {
			e["count"] = 60 + i
		}
	}
	events[0]["place"] = map[string]any{"longitude": -101.6049, "latitude": 35.9, "accuracy": 5, "fixes": 9, "source": "measured"}
	p.keep(append(begun(t, mean, 12), events...)...)
	p.keep(map[string]any{"kind": "set", "values": map[string]any{"language": "es"}})
	p.shows("walk")
	p.Await(`document.querySelector("#band strong") !== null`)
	p.inSpanish("band")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found button") !== null`)
	p.openAll()
	p.inSpanish("noon")
	p.screen("es-noon-answer")
	p.tap("#back-walk")
	p.shows("walk")
	p.keep(map[string]any{"kind": "set", "values": map[string]any{"language": "en"}})
	p.Await(`document.querySelector("#band strong") !== null`)
	assert.NotContains(t, p.status("band"), "SIGA", "the band is asked for anew")
}

// inSpanish looks for English on the screen, but in what says that it is in English.
func (p phone) inSpanish(name string) {
	p.t.Helper()
	text := p.Text(`(() => { const all = document.getElementById("screen").cloneNode(true); all.querySelectorAll('[lang="en"]').forEach(e => e.remove()); return [...all.querySelectorAll("*")].flatMap(e => [...e.childNodes]).filter(n => n.nodeType === 3).map(n => n.data).join("\n"); })()`)
	require.Greater(p.t, len(text), 100)
	assert.Empty(p.t, english.FindAllString(text, -1), "%s in Spanish: %s", name, text)
}

// english are words that no sentence in Spanish has.
var english = regexp.MustCompile(`(?i)\b(the|of|and|to|is|are|at|by|spray|stops?|field|ground|watch|look|days?|leaf|with|any|rows?|told|keep|enough|plants|label|memory|aphid)\b`)

func TestPhoneScreenOfAnswers(t *testing.T) {
	p := arrived(t, over)
	p.screen("count-answer")
}

// openAll shows what is folded away.
func (p phone) openAll() {
	p.t.Helper()
	p.Evaluate(`document.querySelectorAll("details").forEach(d => { d.open = true; })`)
}

// screen looks at the screen that is shown.
func (p phone) screen(name string) {
	p.t.Helper()
	if os.Getenv("GEOCORIS_AXE") != "" || testkit.Strict() {
		p.AssertAccessibleInBoth("screen", name, testkit.EnhancedContrast)
	}
	p.Media("screen", "light")
	assert.Equal(p.t, "", p.Text(faint), "faint in the sun: %s", name)
	p.Media("screen", "dark")
	p.AssertNothingOverlaps(name, testkit.AllWidths()...)
	assert.Equal(p.t, "", p.Text(narrow), "less than 48 px: %s", name)
	p.Evaluate(`document.documentElement.style.fontSize = "225%"; 0`) // twice its size
	p.AssertNothingOverlaps(name+" at twice the text", 320, 360, 390, 768)
	p.Evaluate(`document.documentElement.style.fontSize = ""; 0`)
	p.pictures(name)
}

// narrow are the controls that a thumb would miss; what stands beside a label is pressed by it.
const narrow = `[...document.querySelectorAll("button, select, summary, input:not(.hidden):not([type=radio]):not([type=checkbox]), label.choice")].filter(e => e.offsetParent !== null)
	.map(e => [e, e.getBoundingClientRect()]).filter(([, r]) => r.width < 48 || r.height < 48).map(([e]) => e.outerHTML).join("; ")`

// glare is what the sun does to a screen: so much light comes back from the glass that black
// is a third as bright as white, in the screen's own numbers. That is a guess: how much it is
// differs with glass, sky and screen.
const glare = `document.documentElement.style.filter = "contrast(0.5) brightness(1.3333)"; 0`

// faint are the words that have less than 4.5 to 1 on what lies behind them in the glare, or
// 3 to 1 where they are bold and of 18 px or more (WCAG 2.2, 1.4.3, asks so much without).
const faint = `(() => {
	const shone = c => (c / 255 * 0.5 + 0.25) / 0.75, linear = v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
	const light = c => [0.2126, 0.7152, 0.0722].reduce((sum, part, i) => sum + part * linear(shone(c[i])), 0.05);
	const colour = text => text.match(/[\d.]+/g).map(Number);
	const behind = e => { for (; e; e = e.parentElement) { const c = colour(getComputedStyle(e).backgroundColor); if (c[3] !== 0) return c; } return [255, 255, 255]; };
	return [...document.querySelectorAll("#screen *")].filter(e => e.checkVisibility() && !e.closest("svg") && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())).filter(e => {
		const style = getComputedStyle(e), [less, more] = [light(colour(style.color)), light(behind(e))].sort((a, b) => a - b);
		return more / less < (style.fontWeight >= 600 && parseFloat(style.fontSize) >= 18 ? 3 : 4.5);
	}).map(e => e.tagName + " " + e.className + ": " + e.textContent.slice(0, 30)).join("; "); })()`

func (p phone) pictures(name string) {
	p.t.Helper()
	if testkit.Pictures() == "" {
		p.Media("screen", "light")
		p.Size(390, 844)
		return
	}
	for _, light := range []string{"light", "dark", "sun"} {
		scheme := light
		if light == "sun" {
			scheme = "light"
			p.Evaluate(glare)
		}
		p.Media("screen", scheme)
		for _, width := range []int{360, 390, 768} {
			p.Size(width, 800)
			p.Picture(fmt.Sprintf("%s-%d-%s.png", name, width, light))
		}
	}
	p.Evaluate(`document.documentElement.style.filter = ""; 0`)
	p.Media("screen", "light")
	p.Size(390, 844)
}
