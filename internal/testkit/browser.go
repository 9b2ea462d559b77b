//go:build !js

package testkit

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A Browser is a Chromium without a window, which shows one tab at a time. Whatever
// goes wrong between the two fails the test. It serves one goroutine.
type Browser struct {
	t     testing.TB
	whole context.Context // that all tabs depend on
	tab   context.Context // that is shown
	heard *heard
}

// patience is how long one command may take.
const patience = time.Minute

// StartBrowser starts a browser with a profile of its own that ends with the test: a process,
// or one more profile in the process that tests share by [Main]. Where there is none the test
// is skipped, in CI it fails.
func StartBrowser(t testing.TB) *Browser {
	t.Helper()
	if shared != nil {
		return startInShared(t)
	}
	return StartBrowserIn(t, BrowserProfile(t))
}

// StartBrowserIn starts a process of its own, with a profile that other browsers had before.
func StartBrowserIn(t testing.TB, profile string) *Browser {
	t.Helper()
	b := &Browser{t: t, heard: &heard{}}
	var end func()
	b.whole, end = newBrowser(chromium(t), profile)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(b.whole))
	b.tab = b.whole
	return b
}

// newBrowser is a process that starts with the first command, and what ends it.
func newBrowser(path, profile string) (whole context.Context, end func()) {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.UserDataDir(profile))
	allocator, endAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	whole, closeAll := chromedp.NewContext(allocator)
	return whole, func() { closeAll(); _ = chromedp.WaitClosed(whole); endAllocator() }
}

// WantBrowser skips the test where [StartBrowser] would, before what a browser alone is made for
// is made at length.
func WantBrowser(t testing.TB) {
	t.Helper()
	chromium(t)
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

// Kill ends the browser as a crash does: nothing of it is told, no file is closed.
func (b *Browser) Kill() {
	b.t.Helper()
	require.NoError(b.t, chromedp.FromContext(b.whole).Browser.Process().Kill())
	_ = chromedp.WaitClosed(b.whole)
}

// Process is the number of the browser's first process, of which its others come.
func (b *Browser) Process() int { return chromedp.FromContext(b.whole).Browser.Process().Pid }

// Rest waits until the browser hardly works any more, for half a minute at most: some time
// after a tab was opened it still makes ready what belongs to its own window.
func (b *Browser) Rest() {
	b.t.Helper()
	const lap, little = 500 * time.Millisecond, 8 * time.Millisecond
	for end, before := time.Now().Add(patience/2), Worked(b.Process()); time.Now().Before(end); {
		time.Sleep(lap)
		now := Worked(b.Process())
		if now-before < little {
			return
		}
		before = now
	}
}

// BrowserProfile is a folder for a browser's own files, removed when the test ends. It is not
// t.TempDir: the browser's last processes may still write there when the test is over.
func BrowserProfile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "geocoris-browser-*")
	require.NoError(t, err)
	t.Cleanup(func() { removeUntilGone(dir) })
	return dir
}

// call runs a command of the Chrome DevTools Protocol on the tab that is shown.
func call[P, R any](b *Browser, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.tab, patience)
	defer cancel()
	answer, err := chromedp.Call(ctx, command, params)
	require.NoError(b.t, err, command.Method)
	return answer
}

// Open shows an address in a new tab of a size in CSS pixels, a phone's below 600
// wide, and waits until all of it stands. Scripts given run in the tab before those
// of the page.
func (b *Browser) Open(address string, width, height int, before ...string) {
	b.t.Helper()
	tab, end := chromedp.NewContext(b.whole, chromedp.WithListener(b.heard.note))
	b.t.Cleanup(end)
	require.NoError(b.t, chromedp.Do(tab))
	b.tab = tab
	call(b, log.Enable, cdp.Empty{})
	call(b, network.Enable, network.EnableParams{})
	b.Size(width, height)
	b.Load(address, before...)
}

// Load shows an address in the tab that is shown, as [Browser.Open] does in a new one.
func (b *Browser) Load(address string, before ...string) {
	b.t.Helper()
	for _, script := range before {
		call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
	}
	call(b, page.Navigate, page.NavigateParams{URL: address})
	b.Await(`location.href !== "about:blank" && document.readyState === "complete"`)
}

// Reload shows the page anew.
func (b *Browser) Reload() {
	b.t.Helper()
	call(b, page.Reload, page.ReloadParams{})
}

// Size makes the tab so large, in CSS pixels.
func (b *Browser) Size(width, height int) {
	b.t.Helper()
	call(b, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: int64(width), Height: int64(height), DeviceScaleFactor: 1, Mobile: width < 600})
}

// Media shows the tab as on a medium, "screen" or "print", in a scheme of colours,
// "light" or "dark". The medium "" is that of the moment: paper when it is printed,
// which a medium that was set would be shown on too.
func (b *Browser) Media(medium, scheme string) {
	b.t.Helper()
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium,
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
}

// Evaluate is the value of an expression in the page, of a promise what it comes
// to, as JSON has it: numbers are float64. An exception fails the test.
func (b *Browser) Evaluate(expression string) (value any) {
	b.t.Helper()
	yes := true
	answer := call(b, runtime.Evaluate, runtime.EvaluateParams{Expression: expression, ReturnByValue: &yes, AwaitPromise: &yes, UserGesture: &yes})
	if e := answer.ExceptionDetails; e != nil {
		require.Fail(b.t, "the page threw", "%s: %s", expression, (&chromedp.ExceptionError{ExceptionDetails: e}).Error())
	}
	if len(answer.Result.Value) > 0 {
		require.NoError(b.t, json.Unmarshal(answer.Result.Value, &value), expression)
	}
	return value
}

// Text is the value of an expression in the page in words.
func (b *Browser) Text(expression string) string {
	b.t.Helper()
	return fmt.Sprint(b.Evaluate(expression))
}

// Await asks again, for a minute, until an expression is true.
func (b *Browser) Await(expression string) {
	b.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if b.Evaluate(expression) == true {
			return
		}
	}
	require.Fail(b.t, "never true", "%s; complaints: %q", expression, b.heard.complaints)
}

// heard is what tabs said by themselves. The browser notes it while commands run.
type heard struct {
	sync.Mutex
	complaints []string // of the log, the console and exceptions
	asked      []string // addresses
}

func (h *heard) note(event any) {
	h.Lock()
	defer h.Unlock()
	switch e := event.(type) {
	case *log.EventEntryAdded:
		h.complaints = append(h.complaints, e.Entry.Text)
	case *runtime.EventExceptionThrown:
		h.complaints = append(h.complaints, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		h.complaints = append(h.complaints, "console."+string(e.Type))
	case *network.EventRequestWillBeSent:
		h.asked = append(h.asked, e.Request.URL)
	}
}

// AssertQuiet holds that all tabs so far complained of nothing, wrote nothing to
// their console, and asked for nothing but the addresses that they were opened with
// and what stands within them.
func (b *Browser) AssertQuiet(opened ...string) {
	b.t.Helper()
	b.Evaluate("0") // what was said before is heard now
	b.heard.Lock()
	defer b.heard.Unlock()
	assert.Empty(b.t, b.heard.complaints)
	require.NotEmpty(b.t, b.heard.asked, "not even the page itself was asked for")
	for _, url := range b.heard.asked {
		if !strings.HasPrefix(url, "data:") && !strings.HasPrefix(url, "blob:") {
			assert.Contains(b.t, opened, url)
		}
	}
}

// Pictures is the folder that pictures are kept in for people to look at, "" for none.
func Pictures() string { return os.Getenv("GEOCORIS_PICTURES") }

// Picture keeps all of what the tab shows, as PNG, where GEOCORIS_PICTURES names a
// folder for people to look at it.
func (b *Browser) Picture(name string) {
	b.t.Helper()
	folder := Pictures()
	if folder == "" {
		return
	}
	yes := true
	shot := call(b, page.CaptureScreenshot, page.CaptureScreenshotParams{CaptureBeyondViewport: &yes})
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
	background, own := true, on == Paper{}
	printed := call(b, page.PrintToPDF, page.PrintToPDFParams{PrintBackground: &background, PreferCSSPageSize: &own,
		PaperWidth: on.Width, PaperHeight: on.Height}) // 0 is not sent
	folder := Pictures()
	if folder == "" {
		folder = b.t.TempDir()
	}
	path := filepath.Join(folder, name)
	require.NoError(b.t, os.WriteFile(path, printed.Data, 0o644))
	return path
}
