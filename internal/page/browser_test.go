package page_test

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// A browser is a Chromium without a window, spoken to in the Chrome DevTools
// Protocol 1.3 over a pipe.
type browser struct {
	t       testing.TB
	to      *os.File
	from    *bufio.Reader
	next    int
	session string
	// Heard are the events of the page, by method.
	heard map[string][]json.RawMessage
}

type message struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

func newBrowser(t testing.TB) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		testkit.Missing(t, "chromium")
	}
	theirIn, ourOut, err := os.Pipe()
	require.NoError(t, err)
	ourIn, theirOut, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--remote-debugging-pipe",
		"--user-data-dir="+profile(t), "about:blank")
	cmd.ExtraFiles = []*os.File{theirIn, theirOut}
	require.NoError(t, cmd.Start())
	theirIn.Close()
	theirOut.Close()
	t.Cleanup(func() {
		ourOut.Close()
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		ourIn.Close()
	})
	require.NoError(t, ourIn.SetReadDeadline(time.Now().Add(time.Minute)))
	return &browser{t: t, to: ourOut, from: bufio.NewReader(ourIn), heard: map[string][]json.RawMessage{}}
}

// profile is a folder for the browser's own files. It is not t.TempDir: the
// browser's last processes may still write there when the test is over.
func profile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "geocoris-browser-*")
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// call sends a command and waits for its answer.
func (b *browser) call(method string, params map[string]any, into any) {
	b.t.Helper()
	b.next++
	command := map[string]any{"id": b.next, "method": method, "params": params}
	if b.session != "" {
		command["sessionId"] = b.session
	}
	text, err := json.Marshal(command)
	require.NoError(b.t, err)
	_, err = b.to.Write(append(text, 0))
	require.NoError(b.t, err)
	for {
		m := b.read()
		if m.ID != b.next {
			continue
		}
		require.Nil(b.t, m.Error, method)
		if into != nil {
			require.NoError(b.t, json.Unmarshal(m.Result, into))
		}
		return
	}
}

func (b *browser) read() message {
	b.t.Helper()
	text, err := b.from.ReadBytes(0)
	require.NoError(b.t, err)
	var m message
	require.NoError(b.t, json.Unmarshal(text[:len(text)-1], &m))
	if m.Method != "" {
		b.heard[m.Method] = append(b.heard[m.Method], m.Params)
	}
	return m
}

// open shows a file in a window of a size and waits until its behaviour has begun.
func (b *browser) open(path string, width, height int) {
	b.t.Helper()
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", map[string]any{}, nil)
	}
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}, nil)
	b.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	for range 200 {
		if b.evaluate(`document.documentElement?.dataset.ready || ""`) == "yes" {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	require.Fail(b.t, "the page's behaviour does not begin", "%s", b.heard["Log.entryAdded"])
}

func (b *browser) evaluate(expression string) any {
	b.t.Helper()
	var out struct {
		Result           struct{ Value any }
		ExceptionDetails json.RawMessage
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &out)
	require.Empty(b.t, string(out.ExceptionDetails), expression)
	return out.Result.Value
}

func (b *browser) mouse(kind string, x, y float64) {
	b.t.Helper()
	b.call("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
}

func (b *browser) tap(x, y float64) {
	b.t.Helper()
	b.mouse("mousePressed", x, y)
	b.mouse("mouseReleased", x, y)
}

// picture keeps what the window shows where GEOCORIS_PICTURES names a folder to
// look at it.
func (b *browser) picture(name string) {
	b.t.Helper()
	folder := os.Getenv("GEOCORIS_PICTURES")
	if folder == "" {
		return
	}
	var shot struct{ Data []byte }
	b.call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
	require.NoError(b.t, os.WriteFile(filepath.Join(folder, name), shot.Data, 0o644))
}

// place is where a stop stands in the window.
func (b *browser) place(stop int) (x, y float64) {
	b.t.Helper()
	text := b.evaluate(fmt.Sprintf(`(() => { const r = document.querySelector('circle[data-key="%d"]').getBoundingClientRect();
		return (r.x + r.width / 2) + " " + (r.y + r.height / 2); })()`, stop)).(string)
	_, err := fmt.Sscan(text, &x, &y)
	require.NoError(b.t, err)
	return x, y
}

const width = `document.querySelector("svg.plot").viewBox.baseVal.width`

const told = `document.querySelector(".told").textContent`

// saved is the page of a week in a file.
func saved(t testing.TB, week string) string {
	t.Helper()
	p := of(t, demo(t, week))
	p.Fields = p.Fields[:1]
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, []byte(html(t, p)), 0o644))
	return path
}

// assertQuiet holds that the page asked for nothing but itself and complained of
// nothing.
func (b *browser) assertQuiet() {
	b.t.Helper()
	assert.Empty(b.t, b.heard["Log.entryAdded"])
	assert.Empty(b.t, b.heard["Runtime.exceptionThrown"])
	assert.Empty(b.t, b.heard["Runtime.consoleAPICalled"])
	for _, request := range b.heard["Network.requestWillBeSent"] {
		var r struct{ Request struct{ URL string } }
		require.NoError(b.t, json.Unmarshal(request, &r))
		url := r.Request.URL
		assert.True(b.t, strings.HasSuffix(url, "/report.html") || strings.HasPrefix(url, "data:image/png;"), url)
	}
}

// The five stops are read off the invented week2.csv: stop, mean per leaf.
func TestBrowserTapsAndZooms(t *testing.T) {
	b := newBrowser(t)
	r := demo(t, "week2")
	b.open(saved(t, "week2"), 1280, 900)
	b.evaluate(`document.querySelector("svg.plot").scrollIntoView({block: "center"})`)
	highest := 0
	for i, s := range r.Fields[0].Stops {
		if s.Value > r.Fields[0].Stops[highest].Value {
			highest = i
		}
	}
	for _, i := range []int{0, 7, 19, 30, highest} {
		b.tap(b.place(i))
		s := r.Fields[0].Stops[i]
		want := fmt.Sprintf("Stop %s: ", s.Name)
		got := b.evaluate(told).(string)
		assert.True(t, strings.HasPrefix(got, want), "%s for %s", got, want)
		value, err := strconv.ParseFloat(strings.Fields(strings.TrimPrefix(got, want))[0], 64)
		require.NoError(t, err)
		assert.InDelta(t, s.Mean(), value, 0.5, "%s", got)
	}
	before := b.evaluate(width).(float64)
	b.evaluate(`document.querySelector('[data-do="in"]').click()`)
	assert.InDelta(t, before/1.5, b.evaluate(width), 0.01)
	b.evaluate(`document.querySelector('[data-do="all"]').click()`)
	assert.InDelta(t, before, b.evaluate(width), 0.01)
	b.assertQuiet()
	b.picture("laptop.png")
}

func TestBrowserKeysAndLayers(t *testing.T) {
	b := newBrowser(t)
	b.open(saved(t, "week2"), 1280, 900)
	whole := b.evaluate(width).(float64)
	b.evaluate(`document.querySelector("svg.plot").focus()`)
	b.evaluate(`document.querySelector("svg.plot").dispatchEvent(new KeyboardEvent("keydown", {key: "n"}))`)
	assert.Contains(t, b.evaluate(told), "Stop 1:")
	b.evaluate(`document.querySelector("svg.plot").dispatchEvent(new KeyboardEvent("keydown", {key: "+"}))`)
	assert.Less(t, b.evaluate(width), 0.7*whole)
	shown := func(layer string) bool {
		return b.evaluate(fmt.Sprintf(`getComputedStyle(document.querySelector("svg.plot g.%s")).display`, layer)) != "none"
	}
	for layer, on := range map[string]bool{"zones": true, "surface": false, "chance": false, "stops": true, "values": true} {
		assert.Equal(t, on, shown(layer), layer)
		b.evaluate(fmt.Sprintf(`document.querySelector('[data-layer="%s"]').click()`, layer))
		assert.Equal(t, !on, shown(layer), layer)
	}
	b.picture("layers.png")
	b.evaluate(`document.querySelector('[data-layer="chance"]').click()`)
	b.picture("surface.png")
	b.assertQuiet()
}

func TestBrowserOnAPhone(t *testing.T) {
	b := newBrowser(t)
	b.open(saved(t, "week2"), 360, 740)
	assert.LessOrEqual(t, b.evaluate(`document.documentElement.scrollWidth`), 360.0, "no sideways scroll")
	assert.LessOrEqual(t, b.evaluate(`document.body.scrollWidth`), 360.0)
	b.picture("phone.png")
	b.call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": "dark"}}}, nil)
	b.picture("phone_dark.png")
	b.evaluate(`document.querySelector("svg.plot").scrollIntoView({block: "center"})`)
	x, y := b.place(3)
	touch := func(kind string, points ...map[string]any) {
		points = append([]map[string]any{}, points...) // a list, also of none
		b.call("Input.dispatchTouchEvent", map[string]any{"type": kind, "touchPoints": points}, nil)
	}
	at := func(id int, dx float64) map[string]any { return map[string]any{"x": x + dx, "y": y, "id": id} }
	b.call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": true, "maxTouchPoints": 5}, nil)
	whole := b.evaluate(width).(float64)
	touch("touchStart", at(0, -20), at(1, 20))
	touch("touchMove", at(0, -40), at(1, 40))
	touch("touchEnd")
	assert.Less(t, b.evaluate(width), 0.6*whole, "pinched to about a half")
	b.assertQuiet()
}

// A4 and letter, in the sizes of ISO 216 and ANSI/ASME Y14.1 in inches.
func TestBrowserPrintsOnOnePage(t *testing.T) {
	b := newBrowser(t)
	for _, week := range []string{"week1", "week2", "week3"} {
		b.session = ""
		b.open(saved(t, week), 1280, 900)
		for name, size := range map[string][2]float64{"a4": {8.27, 11.69}, "letter": {8.5, 11}} {
			var printed struct{ Data string }
			b.call("Page.printToPDF", map[string]any{"paperWidth": size[0], "paperHeight": size[1], "printBackground": true, "preferCSSPageSize": false}, &printed)
			pdf, err := base64.StdEncoding.DecodeString(printed.Data)
			require.NoError(t, err)
			path := filepath.Join(t.TempDir(), week+name+".pdf")
			if folder := os.Getenv("GEOCORIS_PICTURES"); folder != "" {
				path = filepath.Join(folder, week+name+".pdf")
			}
			require.NoError(t, os.WriteFile(path, pdf, 0o644))
			tool, err := exec.LookPath("pdfinfo")
			if err != nil {
				testkit.Missing(t, "pdfinfo")
			}
			info, err := exec.Command(tool, path).CombinedOutput()
			require.NoError(t, err)
			assert.Regexp(t, `Pages:\s+1\n`, string(info), week+" "+name)
		}
	}
}
