package serve_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/internal/web/serve"
)

var page = fstest.MapFS{"desk.html": {Data: []byte("the page")}}

func echo(_ context.Context, c call.Call) call.Reply {
	return call.Reply{Facts: c.Do, Files: []call.Made{}}
}

var errEnded = errors.New("the test ends it")

// begun is a server that runs, and what ends it.
func begun(t *testing.T, answer func(context.Context, call.Call) call.Reply) (s *serve.Server, end func() error) {
	t.Helper()
	ctx, cancel := context.WithCancelCause(t.Context())
	s, err := serve.Listen(ctx, serve.Site{Page: page, Entry: "desk.html", Answer: answer}, 0)
	require.NoError(t, err)
	done := make(chan error, 1)
	go func() { done <- s.Run(ctx) }()
	t.Cleanup(func() { cancel(nil) })
	return s, func() error {
		cancel(errEnded)
		select {
		case err := <-done:
			return err
		case <-time.After(time.Minute):
			return assert.AnError
		}
	}
}

// posted is a call as the page sends it.
func posted(t *testing.T, s *serve.Server) (*http.Response, error) {
	t.Helper()
	origin, token, _ := strings.Cut(s.Address(), "/#")
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, origin+"/call", bytes.NewReader([]byte(`{"call":{"do":"x","files":[]},"sizes":[]}`+"\n")))
	require.NoError(t, err)
	r.Header = http.Header{"Origin": {origin}, "Content-Type": {"application/octet-stream"}, "Geocoris-Token": {token}}
	return http.DefaultClient.Do(r)
}

func TestTheServerAnswersAndEnds(t *testing.T) {
	s, end := begun(t, echo)
	address, token, _ := strings.Cut(s.Address(), "#")
	assert.Regexp(t, `^http://127\.0\.0\.1:\d+/$`, address)
	assert.GreaterOrEqual(t, len(token), 26, "128 bits by 32 letters")

	got, err := http.Get(address)
	require.NoError(t, err)
	text, err := io.ReadAll(got.Body)
	require.NoError(t, err)
	got.Body.Close()
	assert.Equal(t, "the page", string(text))

	reply, err := posted(t, s)
	require.NoError(t, err)
	text, err = io.ReadAll(reply.Body)
	require.NoError(t, err)
	reply.Body.Close()
	assert.Equal(t, `{"reply":{"facts":"x","files":[],"error":null},"sizes":[]}`+"\n", string(text))

	require.NoError(t, end())
	_, err = net.Dial("tcp", strings.TrimSuffix(strings.TrimPrefix(address, "http://"), "/"))
	assert.Error(t, err, "nobody listens any more")
}

// An answer under way is given up when the server ends.
func TestTheServerEndsWhileItAnswers(t *testing.T) {
	began, left := make(chan struct{}), make(chan struct{})
	s, end := begun(t, func(ctx context.Context, _ call.Call) call.Reply {
		close(began)
		<-ctx.Done()
		assert.Equal(t, errEnded, context.Cause(ctx), "by the end itself, not by a connection that is closed later")
		close(left)
		return call.Reply{}
	})
	go func() {
		if r, err := posted(t, s); err == nil {
			r.Body.Close()
		}
	}()
	<-began
	require.NoError(t, end())
	<-left
}

func TestTwoServersHaveTwoTokensAndPorts(t *testing.T) {
	a, _ := begun(t, echo)
	b, _ := begun(t, echo)
	hostA, tokenA, _ := strings.Cut(a.Address(), "#")
	hostB, tokenB, _ := strings.Cut(b.Address(), "#")
	assert.NotEqual(t, hostA, hostB)
	assert.NotEqual(t, tokenA, tokenB)
}

func TestAPortThatIsTaken(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, err = serve.Listen(t.Context(), serve.Site{}, l.Addr().(*net.TCPAddr).Port)
	assert.ErrorContains(t, err, "in use")
	_, err = serve.Listen(t.Context(), serve.Site{}, 65536)
	assert.ErrorContains(t, err, "--port 65536: want 1 to 65535")
}
