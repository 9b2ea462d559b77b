package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/testkit"
)

// open shows a page of a file in a window of a size and waits until its behaviour
// has begun.
func open(b *testkit.Browser, path string, width, height int, before ...string) {
	b.Open("file://"+path, width, height, before...)
	b.Await(`document.documentElement.dataset.ready === "yes"`)
}

// place is where a stop stands in the window.
func place(t testing.TB, b *testkit.Browser, stop int) (x, y float64) {
	t.Helper()
	text := b.Text(fmt.Sprintf(`(() => { const r = document.querySelector('circle[data-key="%d"]').getBoundingClientRect();
		return (r.x + r.width / 2) + " " + (r.y + r.height / 2); })()`, stop))
	_, err := fmt.Sscan(text, &x, &y)
	require.NoError(t, err)
	return x, y
}

// openAll opens all folded parts.
const openAll = `document.querySelectorAll("details").forEach((d) => { d.open = true; })`

const width = `document.querySelector("svg.plot").viewBox.baseVal.width`

const told = `document.querySelector(".told").textContent`

// saved is the page of a week in a file.
func saved(t testing.TB, week string) string {
	t.Helper()
	p := of(t, demo(t, week))
	p.Fields = p.Fields[:1]
	return savedPage(t, p)
}

// savedPage is a page in a file.
func savedPage(t testing.TB, p page.Page) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, []byte(html(t, p)), 0o644))
	return path
}

// The five stops are read off the invented week2.csv: stop, mean per leaf.
func TestBrowserTapsAndZooms(t *testing.T) {
	b := testkit.StartBrowser(t)
	r, path := demo(t, "week2"), saved(t, "week2")
	open(b, path, 1280, 900)
	b.Evaluate(`document.querySelector("svg.plot").scrollIntoView({block: "center"})`)
	highest := 0
	for i, s := range r.Fields[0].Stops {
		if s.Value > r.Fields[0].Stops[highest].Value {
			highest = i
		}
	}
	for _, i := range []int{0, 7, 19, 30, highest} {
		b.Tap(place(t, b, i))
		s := r.Fields[0].Stops[i]
		want := fmt.Sprintf("Stop %s: ", s.Name)
		got := b.Text(told)
		assert.True(t, strings.HasPrefix(got, want), "%s for %s", got, want)
		value, err := strconv.ParseFloat(strings.Fields(strings.TrimPrefix(got, want))[0], 64)
		require.NoError(t, err)
		assert.InDelta(t, s.Mean(), value, 0.5, "%s", got)
	}
	before := b.Evaluate(width).(float64)
	b.Evaluate(`document.querySelector('[data-do="in"]').click()`)
	assert.InDelta(t, before/1.5, b.Evaluate(width), 0.01)
	b.Evaluate(`document.querySelector('[data-do="all"]').click()`)
	assert.InDelta(t, before, b.Evaluate(width), 0.01)
	b.AssertQuiet("file://" + path)
	b.Picture("laptop.png")
}

func TestBrowserKeysAndLayers(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := saved(t, "week2")
	open(b, path, 1280, 900)
	whole := b.Evaluate(width).(float64)
	b.Evaluate(`document.querySelector("svg.plot").focus()`)
	b.Evaluate(`document.querySelector("svg.plot").dispatchEvent(new KeyboardEvent("keydown", {key: "n"}))`)
	assert.Contains(t, b.Evaluate(told), "Stop 1:")
	b.Evaluate(`document.querySelector("svg.plot").dispatchEvent(new KeyboardEvent("keydown", {key: "+"}))`)
	assert.Less(t, b.Evaluate(width), 0.7*whole)
	shown := func(layer string) bool {
		return b.Evaluate(fmt.Sprintf(`getComputedStyle(document.querySelector("svg.plot g.%s")).display`, layer)) != "none"
	}
	for layer, on := range map[string]bool{"zones": true, "surface": false, "chance": false, "stops": true, "values": false} {
		assert.Equal(t, on, shown(layer), layer)
		press(b, layer)
		assert.Equal(t, !on, shown(layer), layer)
	}
	b.Picture("layers.png")
	press(b, "chance")
	b.Picture("surface.png")
	b.AssertQuiet("file://" + path)
}

func TestBrowserOnAPhone(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := saved(t, "week2")
	open(b, path, 360, 740)
	assert.LessOrEqual(t, b.Evaluate(`document.documentElement.scrollWidth`), 360.0, "no sideways scroll")
	assert.LessOrEqual(t, b.Evaluate(`document.body.scrollWidth`), 360.0)
	b.Picture("phone.png")
	b.Media("", "dark")
	b.Picture("phone_dark.png")
	b.Evaluate(`document.querySelector("svg.plot").scrollIntoView({block: "center"})`)
	x, y := place(t, b, 3)
	b.Fingers(5)
	whole := b.Evaluate(width).(float64)
	b.Touch("touchStart", [2]float64{x - 20, y}, [2]float64{x + 20, y})
	b.Touch("touchMove", [2]float64{x - 40, y}, [2]float64{x + 40, y})
	b.Touch("touchEnd")
	assert.Less(t, b.Evaluate(width), 0.6*whole, "pinched to about a half")
	b.AssertQuiet("file://" + path)
}

func TestBrowserPrintsOnOnePage(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, week := range []string{"week1", "week2", "week3"} {
		open(b, saved(t, week), 1280, 900)
		for name, paper := range papers {
			assertPrinted(t, b, week+name, paper, 1)
			press(b, "surface")
			assert.Contains(t, assertPrinted(t, b, week+name+"_surface", paper, 1)[0].Text(), "surface, mean per leaf:", "what is shown is explained")
			press(b, "surface")
		}
	}
}
