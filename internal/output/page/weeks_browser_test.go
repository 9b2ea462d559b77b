package page_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/testkit"
)

// savedWeeks is the page of weeks in a file.
func savedWeeks(t testing.TB, r *compare.Result) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, []byte(weeks(t, r)), 0o644))
	return path
}

func TestBrowserSlidesThroughWeeks(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedWeeks(t, compared(t))
	open(b, path, 1280, 900)
	shown := func() string {
		return b.Text(`[...document.querySelectorAll(".weeks figure")].filter((f) => f.offsetParent).map((f) => f.dataset.date).join(" ")`)
	}
	assert.Equal(t, "2026-07-08 2026-07-15 2026-07-22", shown())
	b.Picture("weeks.png")
	b.Evaluate(`(() => { const s = document.querySelector(".slider input"); s.value = "1"; s.dispatchEvent(new Event("input")); })()`)
	assert.Equal(t, "2026-07-15", shown())
	b.Evaluate(`document.querySelector(".slider button").click()`)
	assert.Equal(t, "2026-07-08 2026-07-15 2026-07-22", shown())
	b.Evaluate(`document.querySelectorAll("svg.plot")[2].dispatchEvent(new KeyboardEvent("keydown", {key: "n"}))`)
	assert.Contains(t, b.Text(`document.querySelectorAll(".told")[2].textContent`), "Stop ")
	b.AssertQuiet("file://" + path)
}

// press changes the switch of a layer.
func press(b *testkit.Browser, layer string) {
	b.Evaluate(fmt.Sprintf(`document.querySelector('[data-layer="%s"]').click()`, layer))
}

// shownOn is the number of maps that show a layer.
func shownOn(b *testkit.Browser, layer string) float64 {
	return b.Evaluate(fmt.Sprintf(`[...document.querySelectorAll("svg.plot g.%s")].filter((g) => getComputedStyle(g).display !== "none").length`, layer)).(float64)
}

const scaleShown = `[...document.querySelectorAll(".scale")].filter((s) => s.offsetParent).map((s) => s.innerText.trim()).join("|")`

// One switch serves the maps of all visits.
func TestBrowserSwitchesLayersOfAllWeeks(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedWeeks(t, compared(t))
	open(b, path, 1280, 900)
	for layer, on := range map[string]float64{"zones": 3, "signs": 3, "surface": 0, "stops": 3, "values": 0} {
		assert.Equal(t, on, shownOn(b, layer), layer)
		if layer != "signs" { // which go with the zones
			press(b, layer)
			assert.Equal(t, 3-on, shownOn(b, layer), layer)
			press(b, layer)
			assert.Equal(t, on, shownOn(b, layer), layer)
		}
	}
	press(b, "zones")
	assert.Equal(t, 0.0, shownOn(b, "signs"))
	press(b, "zones")
	assert.Empty(t, b.Text(scaleShown))
	press(b, "surface")
	assert.Regexp(t, `^surface on all maps, mean per leaf:\s+0\s+12\.6\s+40\s+378$`, b.Text(scaleShown))
	b.Picture("weeks_surface.png")
	b.AssertQuiet("file://" + path)
}

func TestBrowserShowsWeeksOnAPhone(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedWeeks(t, compared(t))
	open(b, path, 360, 740)
	for _, scheme := range []string{"light", "dark"} {
		b.Media("", scheme)
		assert.LessOrEqual(t, b.Evaluate(`document.documentElement.scrollWidth`), 360.0, "no sideways scroll")
		assert.LessOrEqual(t, b.Evaluate(`document.body.scrollWidth`), 360.0)
		b.Picture("weeks_phone_" + scheme + ".png")
		press(b, "surface")
	}
	b.AssertQuiet("file://" + path)
}

// Three weeks print on two pages: the maps, their tables and what is to be done on
// the one, levels and cautions on the other.
func TestBrowserPrintsWeeks(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedWeeks(t, compared(t))
	open(b, path, 1280, 900)
	for name, paper := range papers {
		plain := assertPrinted(t, b, "weeks_"+name, paper, 2)
		assert.Contains(t, plain[0].Text(), "Go back by")
		assert.Contains(t, plain[1].Text(), "Cautions")
		assert.NotContains(t, plain[0].Text(), "surface on all maps")
		press(b, "surface")
		assert.Contains(t, assertPrinted(t, b, "weeks_surface_"+name, paper, 2)[0].Text(), "surface on all maps, mean per leaf:")
		press(b, "surface")
	}
	b.Evaluate(`(() => { const s = document.querySelector(".slider input"); s.value = "1"; s.dispatchEvent(new Event("input")); })()`)
	alone := assertPrinted(t, b, "weeks_alone", testkit.A4, 2)
	assert.Equal(t, 3, wholeMaps(alone), "all visits are printed, also when one is shown alone")
	b.AssertQuiet("file://" + path)
}

// season are seven visits, a week apart, of the invented counts.
func season(t testing.TB) *compare.Result {
	t.Helper()
	var results []*assess.Result
	first, err := time.Parse(time.DateOnly, "2026-06-01")
	require.NoError(t, err)
	for i, week := range []string{"week1", "week2", "week3", "week2", "week1", "week2", "week3"} {
		r := demo(t, week)
		date := first.AddDate(0, 0, 7*i).Format(time.DateOnly)
		r.Survey.Dates = []string{date}
		for _, f := range r.Fields {
			for k := range f.Stops {
				f.Stops[k].Date = date
			}
		}
		results = append(results, r)
	}
	r, err := compare.Run(t.Context(), results, compare.Settings{})
	require.NoError(t, err)
	r.Fields = r.Fields[:1]
	return r
}

// Each field begins a sheet of its own, and its switch is its own.
func TestBrowserShowsWeeksOfTwoFields(t *testing.T) {
	b := testkit.StartBrowser(t)
	r := comparedAll(t)
	require.Len(t, r.Fields, 2)
	path := savedWeeks(t, r)
	open(b, path, 1280, 900)
	press(b, "surface") // the first field's
	assert.Equal(t, 3.0, shownOn(b, "surface"))
	b.Picture("weeks_fields.png")
	for name, paper := range papers {
		pages := assertPrinted(t, b, "weeks_fields_"+name, paper, 3)
		assert.Contains(t, pages[1].Text(), "Corner block")
	}
	b.AssertQuiet("file://" + path)
}

// kept is how many words of a pattern have one of another pattern on their page,
// beginning so many points aside at the most, and so many below them, above them if
// below 0.
func kept(pages []testkit.PDFPage, word, other string, aside, down float64) (n int) {
	of, with := regexp.MustCompile(word), regexp.MustCompile(other)
	for _, p := range pages {
		for _, w := range p.Words {
			if of.MatchString(w.Text) && slices.ContainsFunc(p.Words, func(o testkit.PDFWord) bool {
				dy := (o.YMin - w.YMin) / down
				return with.MatchString(o.Text) && math.Abs(o.XMin-w.XMin) < aside && dy > 0 && dy < 1
			}) {
				n++
			}
		}
	}
	return n
}

// wholeMaps is how many maps stand on one page from their date to their caption,
// which goes "40 stops, average 1.48, highest 23.9. The map is better …".
func wholeMaps(pages []testkit.PDFPage) int {
	return kept(pages, `^better$`, `^(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day$`, 150, -300)
}

// Of a whole season no map is parted from its date and its caption, and no table
// from its heading.
func TestBrowserPrintsASeason(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := savedWeeks(t, season(t))
	open(b, path, 1280, 900)
	for name, paper := range papers {
		pages := assertPrinted(t, b, "season_"+name, paper, 4)
		assert.Equal(t, 7, wholeMaps(pages), "maps, %s", name)
		assert.Equal(t, 7, kept(pages, "^From$", "^all$", 20, 150), "tables, %s", name)
	}
	b.AssertQuiet("file://" + path)
}

// Without its behaviour the page shows the zones, and no surface over them.
func TestBrowserWithoutScripts(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, path := range []string{saved(t, "week2"), savedWeeks(t, compared(t))} {
		open(b, path, 1280, 900)
		b.NoScripts()
		b.Reload()
		b.Await(`document.readyState === "complete" && document.documentElement.dataset.ready === undefined`)
		assert.Equal(t, 0.0, shownOn(b, "surface"))
		assert.Equal(t, 0.0, shownOn(b, "chance"))
		assert.GreaterOrEqual(t, shownOn(b, "zones"), 1.0)
		assert.Equal(t, 0.0, b.Evaluate(`[...document.querySelectorAll("input, button")].filter((e) => e.offsetParent).length`), "nothing to press that does nothing")
	}
}

// On the window of a small laptop and on a tablet tables show all their columns.
func TestBrowserShowsWholeTables(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, path := range []string{saved(t, "week2"), savedWeeks(t, compared(t))} {
		for width := 760; width <= 1400; width += 80 {
			if width == 760 || width == 1160 { // from 72 rem on the page opens more of itself
				open(b, path, width, 900)
			}
			b.Size(width, 900)
			assert.LessOrEqual(t, b.Evaluate(`Math.max(...[...document.querySelectorAll(".wide, table")].map((e) => e.scrollWidth - e.clientWidth))`), 0.0, "%d px", width)
		}
	}
}
