package fieldwork_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// browser is Chromium, spoken to over a pipe in its DevTools protocol: messages
// of JSON, each ended by a NUL.
type browser struct {
	t       testing.TB
	to      *os.File
	from    *bufio.Reader
	session string
	last    int
}

func startBrowser(t testing.TB) *browser {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		testkit.Missing(t, "chromium")
	}
	in, to, err := os.Pipe()
	require.NoError(t, err)
	from, out, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command(path, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--user-data-dir="+profile(t), "--remote-debugging-pipe", "about:blank")
	cmd.ExtraFiles = []*os.File{in, out} // 3 and 4
	require.NoError(t, cmd.Start())
	in.Close()
	out.Close()
	t.Cleanup(func() {
		to.Close()
		from.Close()
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	require.NoError(t, from.SetReadDeadline(time.Now().Add(90*time.Second)))
	return &browser{t: t, to: to, from: bufio.NewReader(from)}
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

// call sends a command and returns its result; events in between are passed over.
func (b *browser) call(method string, params map[string]any) json.RawMessage {
	b.t.Helper()
	b.last++
	message := map[string]any{"id": b.last, "method": method, "params": params}
	if b.session != "" {
		message["sessionId"] = b.session
	}
	text, err := json.Marshal(message)
	require.NoError(b.t, err)
	_, err = b.to.Write(append(text, 0))
	require.NoError(b.t, err)
	for {
		reply, err := b.from.ReadBytes(0)
		require.NoError(b.t, err, method)
		var got struct {
			ID     int
			Result json.RawMessage
			Error  *struct{ Message string }
		}
		require.NoError(b.t, json.Unmarshal(bytes.TrimSuffix(reply, []byte{0}), &got))
		if got.ID == b.last {
			require.Nil(b.t, got.Error, "%s: %v", method, got.Error)
			return got.Result
		}
	}
}

// open opens an address in a page of its own and waits until it stands.
func (b *browser) open(address string) {
	b.t.Helper()
	var target struct{ TargetID string }
	require.NoError(b.t, json.Unmarshal(b.call("Target.createTarget", map[string]any{"url": address}), &target))
	var attached struct{ SessionID string }
	require.NoError(b.t, json.Unmarshal(b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}), &attached))
	b.session = attached.SessionID
	b.await("document.readyState === 'complete' && location.href !== 'about:blank'")
}

// eval returns the value of an expression of the page as text.
func (b *browser) eval(expression string) string {
	b.t.Helper()
	var got struct {
		Result           struct{ Value any }
		ExceptionDetails *struct{ Text string }
	}
	reply := b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "userGesture": true})
	require.NoError(b.t, json.Unmarshal(reply, &got))
	require.Nil(b.t, got.ExceptionDetails, "%s: %s", expression, reply)
	return fmt.Sprint(got.Result.Value)
}

// await asks again until an expression is true.
func (b *browser) await(expression string) {
	b.t.Helper()
	for range 400 {
		if b.eval(expression) == "true" {
			return
		}
		time.Sleep(25 * time.Millisecond)
	}
	require.Fail(b.t, "never true", expression)
}
