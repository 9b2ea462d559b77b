package web_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/testdata/demo"
)

func TestMain(m *testing.M) { os.Exit(testkit.Main(m)) }

// A phone is the page in a browser of a phone's size.
type phone struct {
	*testkit.Browser
	t       testing.TB
	address string
}

// newPhone shows the page at a place near the demo's field.
func newPhone(t *testing.T, before ...string) phone {
	t.Helper()
	p := phone{testkit.StartBrowser(t), t, served(t)}
	p.LetLocate("granted")
	p.open(390, 844, before...)
	return p
}

func (p phone) open(width, height int, before ...string) {
	p.t.Helper()
	p.Open(p.address, width, height, append(before, seesFixes)...)
	p.Stand(-101.6, 35.9, 6)
	p.Await(ready)
}

// served is the address at which the page is served as a site, without some of its files.
func served(t testing.TB, without ...string) string {
	t.Helper()
	testkit.WantBrowser(t)
	e, err := built()
	require.NoError(t, err)
	files, err := web.Site(web.App(), e)
	require.NoError(t, err)
	site := fstest.MapFS{}
	for _, f := range files {
		if !slices.Contains(without, f.Name) {
			site[f.Name] = &fstest.MapFile{Data: f.Content}
		}
	}
	server := httptest.NewServer(http.FileServerFS(site))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

// seesFixes lets tests see which fix the page was told last.
const seesFixes = `{
	const real = navigator.geolocation.watchPosition.bind(navigator.geolocation);
	navigator.geolocation.watchPosition = (told, ...more) => real(p => { told(p); window.fixSeen = [p.coords.longitude, p.coords.latitude]; }, ...more);
}`

const ready = `"ready" in document.documentElement.dataset`

// again shows the page anew, as after a crash.
func (p phone) again() {
	p.t.Helper()
	p.Evaluate(`delete document.documentElement.dataset.ready`)
	p.Reload()
	p.Await(`document.readyState === "complete" && ` + ready)
}

// keep stores events as the page itself does, and shows the page anew.
func (p phone) keep(events ...map[string]any) {
	p.t.Helper()
	text, err := json.Marshal(events)
	require.NoError(p.t, err)
	p.Evaluate(fmt.Sprintf(`import("./main.js").then(({ modules }) => modules["store.js"]).then(async m => { const s = await m.openStore(); for (const e of %s) await s.append(e); return 1; })`, text))
	p.again()
}

// tap presses what a selector finds, where a finger would.
func (p phone) tap(selector string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`(() => { const e = document.querySelector(%q); return e !== null && !e.disabled && e.offsetParent !== null; })()`, selector))
	p.Evaluate(fmt.Sprintf(`document.querySelector(%q).scrollIntoView({ block: "center", behavior: "instant" })`, selector))
	var x, y float64
	_, err := fmt.Sscan(p.Text(fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return (r.left + r.width / 2) + " " + (r.top + r.height / 2); })()`, selector)), &x, &y)
	require.NoError(p.t, err, selector)
	p.Tap(x, y)
}

// shows waits for a screen.
func (p phone) shows(screen string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`document.getElementById("screen").className === %q`, screen))
}

// Invented: the demo's field, twelve stops on it, and the common rule.
var mean = map[string]any{"ask": "count", "crop": "grain sorghum", "parts": 2, "plants": 5, "leaves": 2, "unit": "leaf", "tally": 0, "sign": "",
	"pest": "sorghum aphid", "rule": "sorghum-aphid-mean-40", "says": "40 per leaf"}

var over = map[string]any{"ask": "over", "crop": "grain sorghum", "parts": 2, "plants": 5, "leaves": 1, "unit": "plant", "tally": 50, "sign": "",
	"pest": "sorghum aphid", "rule": "sorghum-aphid-high-plains"}

// begun are the events of a walk that was begun on the demo's field.
func begun(t testing.TB, protocol map[string]any, n int) []map[string]any {
	t.Helper()
	geometry := fieldOf(t)
	stops := []map[string]any{}
	for i := range n {
		stops = append(stops, map[string]any{"name": fmt.Sprint(i + 1), "longitude": -101.6035 + 0.0022*float64(i%4), "latitude": 35.898 + 0.0018*float64(i/4)})
	}
	return []map[string]any{
		{"kind": "field", "field": "f", "values": map[string]any{"name": "Pivot", "geometry": geometry}},
		{"kind": "set", "values": map[string]any{"observer": "scout A", "field": "f", "language": "en", "units": "us"}},
		{"kind": "walk", "walk": "w", "field": "f", "day": "2026-07-22", "observer": "scout A", "stage": "boot", "protocol": protocol, "stops": stops},
	}
}

func fieldOf(t testing.TB) any {
	t.Helper()
	var all struct{ Features []struct{ Geometry any } }
	text, err := fs.ReadFile(demo.Files(), "field.geojson")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &all))
	return all.Features[0].Geometry
}
