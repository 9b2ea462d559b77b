package jobsheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// spotted are the zones of an invented field of 16 ha with a pond, of which a corner is
// treat zone, its middle so many metres to the east of the place.
func spotted(t *testing.T, name string, east float64) []geo.Feature {
	t.Helper()
	of := func(zone string, ground orb.MultiPolygon) geo.Feature {
		moved := ground.Clone()
		for _, polygon := range moved {
			for _, ring := range polygon {
				for i := range ring {
					ring[i][0] += east
				}
			}
		}
		return geo.Feature{Geometry: frame(t).InversePolygons(geo.Wind(moved)), Properties: geo.Properties{
			{Name: "zone", Value: zone}, {Name: "field", Value: name}, {Name: "date", Value: "2026-07-15"}, {Name: "pest", Value: "aphid"},
			{Name: "verdict", Value: "spot spray"}, {Name: "advice", Value: "spot spray 2.10 ha, the treat zone; look again on 2026-07-18"},
			{Name: "trust", Value: "better than the field's mean: skill 0.42"},
		}}
	}
	rest := orb.Ring{{-200, -200}, {60, -200}, {60, -60}, {200, -60}, {200, 200}, {-200, 200}, {-200, -200}}
	return []geo.Feature{
		of("treat", orb.MultiPolygon{{{{60, -200}, {200, -200}, {200, -60}, {110, -60}, {60, -90}, {60, -200}}}}),
		of("watch", orb.MultiPolygon{{{{60, -90}, {110, -60}, {60, -60}, {60, -90}}}}),
		of("clear", orb.MultiPolygon{{rest, square(-120, 50, -60, 110)}}),
	}
}

// busy is a sheet of two fields with all that a sheet may say.
func busy(t *testing.T) jobsheet.Sheet {
	t.Helper()
	hive := geo.Feature{Geometry: frame(t).Inverse(orb.Point{130, -130}), Properties: geo.Properties{{Name: "name", Value: "hives"}}}
	set := handoff.Settings{
		Spray:  spray.Settings{Swath: 12, Sections: 2, Speed: 4, Lag: 1.5, TurnTime: 20, Heading: new(float64)},
		Margin: spray.Margin{StopError: 4.9, Growth: 0.5}, SprayOn: "2026-07-17", GoodFor: 7,
		KeepOffs: []handoff.KeepOff{{File: "hives.geojson", SetBack: 15, Features: []geo.Feature{hive}}},
	}
	set.GateAt(frame(t).Inverse(orb.Point{-205, 0}))
	r, err := handoff.Run(append(spotted(t, "North forty behind the old elevator, rows east to west", 0), spotted(t, "B", 2500)...), set)
	require.NoError(t, err)
	require.Len(t, r.Jobs, 2)
	r.Idle = []handoff.Idle{{Field: "C", Why: spray.ErrNothing}}
	r.Jobs[0].NotRead = []orb.Point{{-100, -100}, {100, -100}}
	r.Jobs[0].Advice.NotRead = "the count of stop 9, the place of stop 22"
	s := typed(t, jobsheet.Sheet{Result: r})
	s.Files = []string{
		"ground.geojson", "ground.zip", "swaths.geojson", "swaths.zip", "passes.geojson", "switches.geojson", "keep_off.geojson", "left_out.geojson",
		"handoff.kml", "handoff.kmz", "handoff.gpkg", "passes.gpx", "TASKDATA.zip", "jobsheet.html", "jobsheet.pdf",
	}
	return s
}

// saved is a sheet in a file.
func saved(t *testing.T, s jobsheet.Sheet) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, s.WriteHTML(&b))
	path := filepath.Join(t.TempDir(), "jobsheet.html")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	return path
}

// overlaps are the words that stand on others, of the page and of the pictures in it.
const overlaps = `(() => {
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), boxes = [], range = document.createRange(), out = [];
	while (walk.nextNode()) {
		if (!walk.currentNode.data.trim() || walk.currentNode.parentElement.closest("style")) continue;
		range.selectNodeContents(walk.currentNode);
		for (const r of range.getClientRects()) if (r.width > 1 && r.height > 1) boxes.push({r, node: walk.currentNode});
	}
	for (let i = 0; i < boxes.length; i++) for (let k = i + 1; k < boxes.length; k++) {
		const a = boxes[i].r, b = boxes[k].r;
		if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1)
			out.push(boxes[i].node.data.trim() + " / " + boxes[k].node.data.trim());
	}
	if (boxes.length < 100) out.push("only " + boxes.length + " words");
	return out.join("; ");
})()`

// beyond are the elements that reach past the window or hold more than they show.
const beyond = `[document.documentElement, ...document.querySelectorAll("body, body *")]
	.filter((e) => e instanceof HTMLElement && (e.scrollWidth > e.clientWidth + 1 && e.clientWidth || e.getBoundingClientRect().right > innerWidth + 1))
	.map((e) => e.tagName + "." + e.className + " " + e.textContent.slice(0, 30)).join("; ")`

const openAll = `document.querySelectorAll("details").forEach((d) => d.open = true)`

func TestNothingOverlapsOnAnyWidth(t *testing.T) {
	for _, s := range []jobsheet.Sheet{busy(t), spanish(busy(t))} {
		t.Run(s.Units.Language().String(), func(t *testing.T) { assertNothingOverlaps(t, s) })
	}
}

func assertNothingOverlaps(t *testing.T, s jobsheet.Sheet) {
	t.Helper()
	b := testkit.StartBrowser(t)
	path := saved(t, s)
	for _, width := range []int{320, 360, 390, 768, 1366, 1920} {
		b.Open("file://"+path, width, 800)
		b.Evaluate(openAll)
		for _, font := range []string{"sans-serif", "serif", "monospace"} {
			b.Evaluate(fmt.Sprintf(`document.body.style.fontFamily = %q; document.querySelectorAll("text").forEach((e) => e.style.fontFamily = %q)`, font, font))
			if font == "monospace" { // wider than what maps are laid out for; the page has to hold it all the same
				assert.Empty(t, b.Text(beyond), "%d px, %s", width, font)
				continue
			}
			assert.Empty(t, b.Text(overlaps), "%d px, %s", width, font)
			assert.Empty(t, b.Text(beyond), "%d px, %s", width, font)
		}
		b.Evaluate(`document.body.style.fontFamily = ""; document.querySelectorAll("text").forEach((e) => e.style.fontFamily = "")`)
		b.Picture(fmt.Sprintf("jobsheet_%s_%d.png", s.Units.Language(), width))
	}
	b.AssertQuiet("file://" + path)
}

// Whatever reads aloud finds its way: axe-core, which tests pages for the rules of WCAG
// and for landmarks and headings, finds nothing at all.
func TestTheSheetReadsAloud(t *testing.T) {
	path := saved(t, busy(t))
	b := testkit.StartBrowser(t)
	b.Open("file://"+path, 1366, 800)
	assert.Equal(t, "1 1 h1", b.Text(`document.querySelectorAll("h1").length + " " + document.querySelectorAll("main").length + " " + document.querySelector("main h1").localName`))
	assert.Equal(t, "2", b.Text(`document.querySelectorAll("nav a").length`))
	folder := os.Getenv("GEOCORIS_AXE")
	if folder == "" {
		testkit.Missing(t, "npm package axe-core (GEOCORIS_AXE names the folder it was installed into)")
	}
	script, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(t, err)
	for width, path := range map[int]string{1366: path, 360: path, 1365: saved(t, spanish(busy(t)))} {
		b.Open("file://"+path, width, 800)
		b.Evaluate(openAll)
		b.Evaluate(string(script) + "; 0")
		found := b.Text(`axe.run().then(r => r.passes.length + " passed;" + r.violations.map(v => " " + v.id + ": " + v.help + " " + v.nodes[0].html).join(";"))`)
		var passed int
		_, err := fmt.Sscanf(found, "%d passed;", &passed)
		require.NoError(t, err, found)
		assert.Greater(t, passed, 20, "rules were tried")
		assert.Equal(t, fmt.Sprintf("%d passed;", passed), found, "%d px", width)
	}
}

// On paper all is there, what is folded on the screen too, and nothing is cut off.
func TestTheSheetPrintsOnBothPapers(t *testing.T) {
	s := busy(t)
	path := saved(t, s)
	b := testkit.StartBrowser(t)
	for name, paper := range map[string]testkit.Paper{"a4": testkit.A4, "letter": testkit.Letter} {
		b.Open("file://"+path, 1280, 900)
		pages := testkit.PDFPages(t, b.Print("jobsheet_"+name+".pdf", paper))
		const margin = 11/25.4*72 - 1
		var all strings.Builder
		for _, p := range pages {
			all.WriteString(p.Text() + " ")
			for _, w := range p.Words {
				if w.XMin < margin || w.YMin < margin || w.XMax > p.Width-margin || w.YMax > p.Height-margin {
					assert.Fail(t, "a word beyond the margin", "%s: %+v", name, w)
				}
			}
		}
		text := all.String()
		for _, want := range []string{"How this was worked out", "To spray in all", "Which file for what", "All fields together", "Pre-harvest interval"} {
			assert.Contains(t, text, want, name)
		}
		for _, feature := range s.Result.Switches() {
			assert.Contains(t, text, fmt.Sprintf("%.6f, %.6f", feature.Geometry.(orb.Point)[1], feature.Geometry.(orb.Point)[0]), name)
		}
		first := regexp.MustCompile(`Spray job: North`)
		starts := 0
		for _, p := range pages {
			if len(p.Words) > 3 && first.MatchString(p.Text()) {
				starts++
			}
		}
		assert.Equal(t, 1, starts, "each field begins on a page of its own")
		assert.LessOrEqual(t, len(pages), 1+2*5, name)
	}
}
