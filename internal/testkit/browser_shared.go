//go:build !js

package testkit

import (
	"context"
	"os"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Main runs the tests of a program, which share one browser: it starts with the first test
// that asks for one and ends after the last. For os.Exit, in TestMain.
func Main(m *testing.M) (code int) {
	shared = &sharedBrowser{}
	defer shared.end()
	return m.Run()
}

// shared is the browser of a test program that calls Main.
var shared *sharedBrowser

type sharedBrowser struct {
	start   sync.Once
	profile string
	whole   context.Context // nil where it did not start
	close   func()
	failed  error
}

// context starts the browser where none runs yet.
func (s *sharedBrowser) context(t testing.TB) context.Context {
	t.Helper()
	path := chromium(t)
	s.start.Do(func() {
		if s.profile, s.failed = os.MkdirTemp("", "geocoris-browser-*"); s.failed != nil {
			return
		}
		s.whole, s.close = newBrowser(path, s.profile)
		s.failed = chromedp.Do(s.whole)
	})
	require.NoError(t, s.failed)
	return s.whole
}

func (s *sharedBrowser) end() {
	if s.close != nil {
		s.close()
	}
	if s.profile != "" {
		removeUntilGone(s.profile)
	}
}

// startInShared is a browser in the shared process, with a profile of its own in memory.
func startInShared(t testing.TB) *Browser {
	t.Helper()
	b := &Browser{t: t, heard: &heard{}}
	var end context.CancelFunc
	b.whole, end = chromedp.NewContext(shared.context(t), chromedp.WithNewBrowserContext())
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(b.whole))
	b.tab = b.whole
	return b
}

// removeUntilGone removes the folder of a browser, whose last processes may still write there.
func removeUntilGone(dir string) {
	for range 20 {
		_ = os.RemoveAll(dir)
		time.Sleep(20 * time.Millisecond)
		if _, err := os.Stat(dir); err != nil {
			return
		}
	}
}
