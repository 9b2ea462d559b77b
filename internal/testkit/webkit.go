//go:build !js

package testkit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A WebKit is a WebKitGTK on a screen that nobody sees. It is driven by WebDriver (W3C).
type WebKit struct {
	t       testing.TB
	driver  *exec.Cmd
	session string // its address
}

// StartWebKit starts a WebKitGTK. Driven so it keeps nothing when it ends. Where there is
// none the test is skipped, in CI it fails.
func StartWebKit(t testing.TB) *WebKit {
	t.Helper()
	driver, shown := found(t, "webkit2gtk-driver", "WebKitWebDriver"), found(t, "MiniBrowser of WebKitGTK", "MiniBrowser", "/usr/lib/*/webkit2gtk-4.*/MiniBrowser")
	port := freePort(t)
	w := &WebKit{t: t, driver: exec.Command(driver, fmt.Sprintf("--port=%d", port))}
	w.driver.Env = append(os.Environ(), "DISPLAY="+screen(t), "HOME="+BrowserProfile(t), "WEBKIT_DISABLE_COMPOSITING_MODE=1", "NO_AT_BRIDGE=1", "LIBGL_ALWAYS_SOFTWARE=1")
	mustStart(t, w.driver)
	at := fmt.Sprintf("http://127.0.0.1:%d/session", port)
	for end := time.Now().Add(patience); ; time.Sleep(50 * time.Millisecond) {
		conn, err := net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", port))
		if err == nil {
			_ = conn.Close()
			break
		}
		require.Less(t, time.Now(), end, "the driver never answered")
	}
	var begun struct{ SessionID string }
	options := map[string]any{"binary": shown, "args": []string{"--automation"}}
	w.post(at, map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{"webkitgtk:browserOptions": options}}}, &begun)
	w.session = at + "/" + begun.SessionID
	w.post(w.session+"/timeouts", map[string]any{"script": patience.Milliseconds(), "pageLoad": patience.Milliseconds()}, nil)
	return w
}

func freePort(t testing.TB) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// screen is the name of an X screen that ends with the test.
func screen(t testing.TB) string {
	t.Helper()
	says, told, err := os.Pipe()
	require.NoError(t, err)
	defer says.Close()
	cmd := exec.Command(found(t, "xvfb", "Xvfb"), "-displayfd", "3", "-noreset", "-screen", "0", "800x900x24", "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{told}
	mustStart(t, cmd)
	require.NoError(t, told.Close())
	number := make([]byte, 16)
	n, err := says.Read(number)
	require.NoError(t, err)
	return ":" + strings.TrimSpace(string(number[:n]))
}

// post asks the driver, and reads what it came to.
func (w *WebKit) post(at string, body any, result any) {
	w.t.Helper()
	text, err := json.Marshal(body)
	require.NoError(w.t, err)
	client := http.Client{Timeout: 2 * patience} // a browser that is gone says nothing
	answer, err := client.Post(at, "application/json", bytes.NewReader(text))
	require.NoError(w.t, err)
	defer answer.Body.Close()
	said, err := io.ReadAll(answer.Body)
	require.NoError(w.t, err)
	require.Equal(w.t, http.StatusOK, answer.StatusCode, "%s: %s", at, said)
	if result != nil {
		var read struct{ Value json.RawMessage }
		require.NoError(w.t, json.Unmarshal(said, &read))
		require.NoError(w.t, json.Unmarshal(read.Value, result), "%s", said)
	}
}

// Go implements [Driver].
func (w *WebKit) Go(address string) {
	w.t.Helper()
	w.post(w.session+"/url", map[string]any{"url": address}, nil)
}

// Evaluate implements [Driver].
func (w *WebKit) Evaluate(expression string) (value any) {
	w.t.Helper()
	var answer struct{ Is, Threw string }
	script := "const told = arguments[arguments.length - 1]; (async () => " + inWords(expression) + ")().then(is => told({ is }), e => told({ threw: String(e?.stack ? e + e.stack : e) }));"
	w.post(w.session+"/execute/async", map[string]any{"script": script, "args": []any{}}, &answer)
	require.Empty(w.t, answer.Threw, expression)
	require.NoError(w.t, json.Unmarshal([]byte(answer.Is), &value), expression)
	return value
}

// Kill implements [Driver].
func (w *WebKit) Kill() { endAll(w.driver) }
