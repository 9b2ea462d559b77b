package testkit

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A Browser is a Chromium without a window, spoken to in the Chrome DevTools
// Protocol 1.3 over a pipe: messages of JSON, each ended by a NUL. Whatever goes
// wrong between the two fails the test. It serves one goroutine.
type Browser struct {
	t       testing.TB
	to      io.Writer
	pipe    *os.File // that from reads
	from    *bufio.Reader
	last    int    // number of the last command
	session string // of the tab that is shown; "" for the browser itself
	heard   map[string][]json.RawMessage
}

// patience is how long one command may take.
const patience = time.Minute

// StartBrowser starts a browser with a profile of its own that ends with the test.
// Where there is none the test is skipped, in CI it fails.
func StartBrowser(t testing.TB) *Browser {
	t.Helper()
	theirIn, to, err := os.Pipe()
	require.NoError(t, err)
	from, theirOut, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command(chromium(t), "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--user-data-dir="+profile(t), "--remote-debugging-pipe", "about:blank")
	cmd.ExtraFiles = []*os.File{theirIn, theirOut} // 3 and 4, as the protocol has it
	require.NoError(t, cmd.Start())
	require.NoError(t, theirIn.Close())
	require.NoError(t, theirOut.Close())
	t.Cleanup(func() {
		to.Close()
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		from.Close()
	})
	return &Browser{t: t, to: to, pipe: from, from: bufio.NewReader(from), heard: map[string][]json.RawMessage{}}
}

func chromium(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	Missing(t, "chromium")
	return ""
}

// profile is a folder for the browser's own files. It is not t.TempDir: the
// browser's last processes may still write there when the test is over, so it is
// removed until it stays away.
func profile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "geocoris-browser-*")
	require.NoError(t, err)
	t.Cleanup(func() {
		for range 20 {
			_ = os.RemoveAll(dir)
			time.Sleep(20 * time.Millisecond)
			if _, err := os.Stat(dir); err != nil {
				return
			}
		}
	})
	return dir
}

// Call sends a command to the tab that is shown, waits for its answer and reads it
// into a value; nil is for answers that nobody needs.
func (b *Browser) Call(method string, params map[string]any, into any) {
	b.t.Helper()
	b.call(b.session, method, params, into)
}

// CallBrowser is Call to the browser itself, as for downloads and permissions.
func (b *Browser) CallBrowser(method string, params map[string]any, into any) {
	b.t.Helper()
	b.call("", method, params, into)
}

func (b *Browser) call(session, method string, params map[string]any, into any) {
	b.t.Helper()
	b.last++
	command := map[string]any{"id": b.last, "method": method, "params": params}
	if session != "" {
		command["sessionId"] = session
	}
	text, err := json.Marshal(command)
	require.NoError(b.t, err)
	_, err = b.to.Write(append(text, 0))
	require.NoError(b.t, err, method)
	require.NoError(b.t, b.pipe.SetReadDeadline(time.Now().Add(patience)))
	result := b.answer(method)
	if into != nil {
		require.NoError(b.t, json.Unmarshal(result, into), method)
	}
}

// answer reads on to the answer to the last command and keeps the events before it.
func (b *Browser) answer(method string) json.RawMessage {
	b.t.Helper()
	for {
		text, err := b.from.ReadBytes(0)
		require.NoError(b.t, err, method)
		var m struct {
			ID             int
			Method         string
			Params, Result json.RawMessage
			Error          *struct{ Message string }
		}
		require.NoError(b.t, json.Unmarshal(bytes.TrimSuffix(text, []byte{0}), &m))
		if m.Method != "" {
			b.heard[m.Method] = append(b.heard[m.Method], m.Params)
		}
		if m.Method == "" && m.ID == b.last {
			require.Nil(b.t, m.Error, method)
			return m.Result
		}
	}
}

// Open shows an address in a new tab of a size in CSS pixels, a phone's below 600
// wide, and waits until all of it stands. Scripts given run in the tab before those
// of the page.
func (b *Browser) Open(address string, width, height int, before ...string) {
	b.t.Helper()
	var target struct{ TargetID string }
	b.CallBrowser("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.CallBrowser("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.Call(domain+".enable", map[string]any{}, nil)
	}
	b.Size(width, height)
	for _, script := range before {
		b.Call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": script}, nil)
	}
	b.Call("Page.navigate", map[string]any{"url": address}, nil)
	b.Await(`location.href !== "about:blank" && document.readyState === "complete"`)
}

// Size makes the tab so large, in CSS pixels.
func (b *Browser) Size(width, height int) {
	b.t.Helper()
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}, nil)
}

// Media shows the tab as on a medium, "screen" or "print", in a scheme of colours,
// "light" or "dark". The medium "" is that of the moment: paper when it is printed,
// which a medium that was set would be shown on too.
func (b *Browser) Media(medium, scheme string) {
	b.t.Helper()
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": medium,
		"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
}

// Evaluate is the value of an expression in the page, of a promise what it comes
// to, as JSON has it: numbers are float64. An exception fails the test.
func (b *Browser) Evaluate(expression string) any {
	b.t.Helper()
	var out struct {
		Result           struct{ Value any }
		ExceptionDetails json.RawMessage
	}
	b.Call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true, "userGesture": true}, &out)
	require.Empty(b.t, string(out.ExceptionDetails), expression)
	return out.Result.Value
}

// Text is the value of an expression in the page in words.
func (b *Browser) Text(expression string) string {
	b.t.Helper()
	return fmt.Sprint(b.Evaluate(expression))
}

// Await asks again, for ten seconds, until an expression is true.
func (b *Browser) Await(expression string) {
	b.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if b.Evaluate(expression) == true {
			return
		}
	}
	require.Fail(b.t, "never true", "%s; logged: %s", expression, b.heard["Log.entryAdded"])
}

// Tap presses and lifts the mouse at a place in the window, in CSS pixels.
func (b *Browser) Tap(x, y float64) {
	b.t.Helper()
	for _, kind := range []string{"mousePressed", "mouseReleased"} {
		b.Call("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
}

// Touch sends an event of fingers, such as "touchStart", with the places of those
// that are down, in CSS pixels.
func (b *Browser) Touch(kind string, fingers ...[2]float64) {
	b.t.Helper()
	points := []map[string]any{} // a list, also of none
	for i, at := range fingers {
		points = append(points, map[string]any{"x": at[0], "y": at[1], "id": i})
	}
	b.Call("Input.dispatchTouchEvent", map[string]any{"type": kind, "touchPoints": points}, nil)
}

// AssertQuiet holds that all tabs so far complained of nothing, wrote nothing to
// their console, and asked for nothing but the addresses that they were opened with
// and the pictures that stand within them.
func (b *Browser) AssertQuiet(opened ...string) {
	b.t.Helper()
	b.Evaluate("0") // what was said before is heard now
	for _, event := range []string{"Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled"} {
		assert.Empty(b.t, b.heard[event], event)
	}
	require.NotEmpty(b.t, b.heard["Network.requestWillBeSent"], "not even the page itself was asked for")
	for _, event := range b.heard["Network.requestWillBeSent"] {
		var sent struct{ Request struct{ URL string } }
		require.NoError(b.t, json.Unmarshal(event, &sent))
		if url := sent.Request.URL; !strings.HasPrefix(url, "data:image/png;") {
			assert.Contains(b.t, opened, url)
		}
	}
}

// Picture keeps all of what the tab shows, as PNG, where GEOCORIS_PICTURES names a
// folder for people to look at it.
func (b *Browser) Picture(name string) {
	b.t.Helper()
	folder := os.Getenv("GEOCORIS_PICTURES")
	if folder == "" {
		return
	}
	var shot struct{ Data []byte }
	b.Call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
	require.NoError(b.t, os.WriteFile(filepath.Join(folder, name), shot.Data, 0o644))
}

// Paper is a size in inches; the zero value is what the page asks for itself.
type Paper struct{ Width, Height float64 }

// The sizes of ISO 216 and of ANSI/ASME Y14.1.
var (
	A4     = Paper{210 / 25.4, 297 / 25.4}
	Letter = Paper{8.5, 11}
)

// Print prints the tab to a file of PDF and returns its path. It is kept where
// pictures are.
func (b *Browser) Print(name string, on Paper) string {
	b.t.Helper()
	params := map[string]any{"printBackground": true, "preferCSSPageSize": on == Paper{}}
	if on != (Paper{}) {
		params["paperWidth"], params["paperHeight"] = on.Width, on.Height
	}
	var printed struct{ Data []byte }
	b.Call("Page.printToPDF", params, &printed)
	folder := os.Getenv("GEOCORIS_PICTURES")
	if folder == "" {
		folder = b.t.TempDir()
	}
	path := filepath.Join(folder, name)
	require.NoError(b.t, os.WriteFile(path, printed.Data, 0o644))
	return path
}
