package web_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

var (
	cornerText = regexp.MustCompile(`(-?\d+\.\d{6}), (-?\d+\.\d{6})`)
	areaText   = regexp.MustCompile(`(?:Area|Área) [A-Z]: ([\d.,]+)`)
)

// The job sheet is one file without a script. It says what to do by when, lists the ground by
// its corners, leaves what is the label's blank, and has all cautions; in both languages.
func TestJobSheetOnThePhone(t *testing.T) {
	for language, words := range map[string][]string{
		"en": {"job sheet", "zones (GeoJSON)", "Rate on the label", "The map is good until", "look for bloom"},
		"es": {"hoja de aplicación", "zonas (GeoJSON)", "Dosis según la etiqueta", "El mapa sirve hasta el", "flores"},
	} {
		p, shared := atNoon(t, language), t.TempDir()
		p.DownloadTo(shared)
		answer := p.status("answer")
		for _, file := range words[:2] {
			p.tap(fmt.Sprintf(`[data-save="%s"]`, file))
		}
		path := wait(t, shared, "job-Pivot-2026-07-22.html")
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		sheet := string(text)
		for _, want := range append(words[2:], answer, "scout A", "default-src 'none'") {
			assert.Contains(t, sheet, want)
		}
		assert.NotContains(t, sheet, "<script")
		zones, err := os.ReadFile(wait(t, shared, "zones.geojson"))
		require.NoError(t, err)
		lines, acres := redGround(t, zones)
		listed := 0.0
		for _, m := range areaText.FindAllStringSubmatch(sheet, -1) {
			v, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			listed += v
		}
		assert.InDelta(t, acres, listed, 0.15, "the listed areas are the red ground")
		corners := cornerText.FindAllStringSubmatch(sheet, -1)
		require.Greater(t, len(corners), 5)
		for _, c := range corners {
			lat, _ := strconv.ParseFloat(c[1], 64)
			lon, _ := strconv.ParseFloat(c[2], 64)
			assert.Less(t, nearest([2]float64{lon, lat}, lines), 0.3, "%s stands on the red ground's line", c[0])
		}
		if language == "en" {
			testkit.AssertReads(t, testkit.PageText(t, sheet), 9, 25)
		}
		b := testkit.StartBrowser(t)
		b.Open("file://"+path, 390, 844)
		sheetOn := phone{b, t, ""}
		sheetOn.Await(`document.querySelector("svg") !== null`)
		sheetOn.AssertNothingOverlaps("job sheet "+language, testkit.AllWidths()...)
		sheetOn.pictures("job-" + language)
		if language == "es" {
			sheetOn.Evaluate(`document.querySelector("main").id = "screen"; 0`)
			sheetOn.inSpanish("job sheet")
		}
		if os.Getenv("GEOCORIS_AXE") != "" || testkit.Strict() {
			sheetOn.AssertAccessible("job sheet " + language)
		}
	}
}

// Where the answer is not to spray there is no job to hand on.
func TestNoJobWithoutASpray(t *testing.T) {
	p := newPhone(t)
	p.keep(append(begun(t, mean, 12), cleanWalk(12)...)...)
	p.shows("walk")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found svg") !== null`)
	assert.Contains(t, p.status("answer"), "Do not spray")
	assert.Equal(t, false, p.Evaluate(`document.querySelector('[data-save="job sheet"]') !== null`))
	assert.Equal(t, true, p.Evaluate(`document.querySelector('[data-save="picture"]') !== null`))
}

// The corners of a ring: none of its points is farther off the line through them than is
// said. Invented: a circle of 720 points, and a place inside a ring with a hole in its middle.
func cornersAreAsNearAsTheySay(t *testing.T, p phone) {
	got := p.value("ground.js", `(() => {
		const ring = Array.from({ length: 721 }, (_, i) => [-101.6 + 0.004 * Math.cos(Math.PI * (i % 720) / 360), 35.9 + 0.0033 * Math.sin(Math.PI * (i % 720) / 360)]);
		const hole = ring.map(([x, y]) => [-101.6 + (x + 101.6) / 2, 35.9 + (y - 35.9) / 2]);
		return { ...m.cornersOf(ring), ring, at: m.insideOf([ring, hole]), parts: m.partsOf({ type: "Polygon", coordinates: [ring, hole] }) };
	})()`).(map[string]any)
	var line [][2]float64
	for _, c := range got["corners"].([]any) {
		place := c.(map[string]any)
		line = append(line, [2]float64{place["longitude"].(float64), place["latitude"].(float64)})
	}
	require.LessOrEqual(t, len(line), 24)
	line = append(line, line[0])
	off, worst := got["off"].(float64), 0.0
	for _, q := range got["ring"].([]any) {
		worst = max(worst, nearest([2]float64{q.([]any)[0].(float64), q.([]any)[1].(float64)}, [][][2]float64{line}))
	}
	assert.LessOrEqual(t, worst, off*1.01)
	assert.Greater(t, worst, off/3, "and not far finer")
	at := got["at"].(map[string]any)
	x := math.Abs(at["longitude"].(float64)+101.6) / 0.004
	assert.True(t, x > 0.5 && x < 1, "between hole and edge: %v", x)
	area := got["parts"].([]any)[0].(map[string]any)["area"].(float64)
	semi := [2]float64{0.004 * 90_270, 0.0033 * 110_959} // metres, as in nearest
	assert.InEpsilon(t, 0.75*math.Pi*semi[0]*semi[1], area, 0.005)
}

// redGround are the lines of the treat zones, and their acres.
func redGround(t testing.TB, zones []byte) (lines [][][2]float64, acres float64) {
	t.Helper()
	var read struct {
		Features []struct {
			Properties struct {
				Zone string  `json:"zone"`
				Area float64 `json:"area_ac"`
			}
			Geometry struct{ Coordinates [][][][2]float64 }
		}
	}
	require.NoError(t, json.Unmarshal(zones, &read))
	for _, f := range read.Features {
		if f.Properties.Zone != "treat" {
			continue
		}
		acres += f.Properties.Area
		for _, polygon := range f.Geometry.Coordinates {
			lines = append(lines, polygon...)
		}
	}
	require.NotEmpty(t, lines)
	return lines, acres
}

// nearest is how far a place is from the nearest of the lines, in metres.
func nearest(p [2]float64, lines [][][2]float64) float64 {
	best, east, north := math.Inf(1), 90_270.0, 110_959.0 // metres of a degree at 35.9°, of the WGS 84 ellipsoid
	at := func(q [2]float64) [2]float64 { return [2]float64{(q[0] - p[0]) * east, (q[1] - p[1]) * north} }
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			a, b := at(line[i-1]), at(line[i])
			dx, dy := b[0]-a[0], b[1]-a[1]
			u := 0.0
			if long := dx*dx + dy*dy; long > 0 {
				u = min(1, max(0, -(a[0]*dx+a[1]*dy)/long))
			}
			best = min(best, math.Hypot(a[0]+u*dx, a[1]+u*dy))
		}
	}
	return best
}
