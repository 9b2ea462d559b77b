//go:build !js

package testkit

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/websocket"
)

// A Firefox is one without a window. It speaks WebDriver BiDi (W3C) by itself.
type Firefox struct {
	t       testing.TB
	cmd     *exec.Cmd
	socket  *websocket.Conn
	context string // the tab
	last    int    // number of a command
}

// quiet are preferences without which a Firefox asks its makers for news, or its user for
// leave.
const quiet = `user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("toolkit.telemetry.enabled", false);
user_pref("app.normandy.enabled", false);
user_pref("app.update.auto", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("browser.startup.homepage_override.mstone", "ignore");
user_pref("extensions.update.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("services.settings.server", "data:,");
`

var listening = regexp.MustCompile(`WebDriver BiDi listening on (ws://\S+)`)

// StartFirefox starts a Firefox with a profile that others may have had before. Where there
// is none the test is skipped, in CI it fails.
func StartFirefox(t testing.TB, profile string) *Firefox {
	t.Helper()
	require.NoError(t, os.WriteFile(filepath.Join(profile, "user.js"), []byte(quiet), 0o644))
	f := &Firefox{t: t, cmd: exec.Command(found(t, "firefox", "firefox-esr", "firefox"), "--headless", "--remote-debugging-port", "0",
		"--remote-allow-origins", "http://localhost", "--no-remote", "--profile", profile, "about:blank")}
	f.cmd.Env = append(os.Environ(), "HOME="+profile, "MOZ_CRASHREPORTER_DISABLE=1")
	said, err := f.cmd.StderrPipe()
	require.NoError(t, err)
	mustStart(t, f.cmd)
	address := make(chan string, 1)
	go func() {
		for lines := bufio.NewScanner(said); lines.Scan(); {
			if at := listening.FindStringSubmatch(lines.Text()); at != nil {
				address <- at[1]
			}
		}
	}()
	select {
	case at := <-address:
		f.socket, err = websocket.Dial(at+"/session", "", "http://localhost")
		require.NoError(t, err)
	case <-time.After(patience):
		require.Fail(t, "firefox never said where it listens")
	}
	f.do("session.new", map[string]any{"capabilities": map[string]any{}}, nil)
	var tabs struct{ Contexts []struct{ Context string } }
	f.do("browsingContext.getTree", map[string]any{}, &tabs)
	require.NotEmpty(t, tabs.Contexts)
	f.context = tabs.Contexts[0].Context
	return f
}

// do runs a command, and reads what it came to.
func (f *Firefox) do(method string, params any, result any) {
	f.t.Helper()
	f.last++
	require.NoError(f.t, f.socket.SetDeadline(time.Now().Add(2*patience)))
	require.NoError(f.t, websocket.JSON.Send(f.socket, map[string]any{"id": f.last, "method": method, "params": params}), method)
	for {
		var answer struct {
			ID      int
			Error   string
			Message string
			Result  json.RawMessage
		}
		require.NoError(f.t, websocket.JSON.Receive(f.socket, &answer), method)
		if answer.ID != f.last {
			continue // something that happened
		}
		require.Empty(f.t, answer.Error, "%s: %s", method, answer.Message)
		if result != nil {
			require.NoError(f.t, json.Unmarshal(answer.Result, result), method)
		}
		return
	}
}

// Go implements [Driver].
func (f *Firefox) Go(address string) {
	f.t.Helper()
	f.do("browsingContext.navigate", map[string]any{"context": f.context, "url": address, "wait": "complete"}, nil)
}

// Evaluate implements [Driver].
func (f *Firefox) Evaluate(expression string) (value any) {
	f.t.Helper()
	var answer struct {
		Type             string
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	f.do("script.evaluate", map[string]any{"expression": inWords(expression), "target": map[string]any{"context": f.context}, "awaitPromise": true, "userActivation": true}, &answer)
	require.Equal(f.t, "success", answer.Type, "%s: %s", expression, answer.ExceptionDetails.Text)
	require.NoError(f.t, json.Unmarshal([]byte(answer.Result.Value), &value), expression)
	return value
}

// inWords is an expression for what another comes to, in JSON.
func inWords(expression string) string {
	return fmt.Sprintf("Promise.resolve((%s)).then(v => JSON.stringify(v ?? null))", expression)
}

// Kill implements [Driver].
func (f *Firefox) Kill() { endAll(f.cmd) }
