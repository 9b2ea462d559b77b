package serve

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/web/call"
)

const (
	ownHostName = "127.0.0.1:4321"
	ownToken    = "a-token-of-this-test"
)

// guarded is a handler whose answers are counted.
func guarded(most int64) (h http.Handler, answered *int) {
	answered = new(int)
	site := Site{
		Page:  fstest.MapFS{"desk.html": {Data: []byte("<!DOCTYPE html>the page")}, "a.js": {Data: []byte("1;")}},
		Entry: "desk.html",
		Answer: func(_ context.Context, c call.Call) call.Reply {
			*answered++
			return call.Reply{Facts: c.Do, Files: []call.Made{}}
		},
	}
	return site.handler(guardsOf(ownHostName, ownToken, most)), answered
}

// asked is a request as the page itself sends it.
func asked(body string) *http.Request {
	r := httptest.NewRequest(http.MethodPost, "/call", strings.NewReader(body))
	r.Host = ownHostName
	for name, value := range map[string]string{"Origin": "http://" + ownHostName, "Sec-Fetch-Site": "same-origin", "Content-Type": frameType, tokenHeader: ownToken} {
		r.Header.Set(name, value)
	}
	return r
}

const aCall = `{"call":{"do":"x","files":[]},"sizes":[]}` + "\n"

// A stranger's page reaches the address, but no call of its comes through.
func TestOnlyThePageIsAnswered(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*http.Request)
		want   int
	}{
		"the page itself":                      {func(*http.Request) {}, http.StatusOK},
		"a name that points here":              {func(r *http.Request) { r.Host = "evil.example:4321" }, http.StatusMisdirectedRequest},
		"a name that begins as ours":           {func(r *http.Request) { r.Host = "127.0.0.1.evil.example:4321" }, http.StatusMisdirectedRequest},
		"our host with more behind":            {func(r *http.Request) { r.Host = ownHostName + "1" }, http.StatusMisdirectedRequest},
		"our address at another port":          {func(r *http.Request) { r.Host = "127.0.0.1:80" }, http.StatusMisdirectedRequest},
		"our address without a port":           {func(r *http.Request) { r.Host = "127.0.0.1" }, http.StatusMisdirectedRequest},
		"localhost is another origin":          {func(r *http.Request) { r.Host = "localhost:4321" }, http.StatusMisdirectedRequest},
		"no host":                              {func(r *http.Request) { r.Host = "" }, http.StatusMisdirectedRequest},
		"a rebound name, with its own origin":  {func(r *http.Request) { r.Host = "evil.example"; r.Header.Set("Origin", "http://evil.example") }, http.StatusMisdirectedRequest},
		"a foreign origin":                     {func(r *http.Request) { r.Header.Set("Origin", "https://evil.example") }, http.StatusForbidden},
		"an origin that begins as ours":        {func(r *http.Request) { r.Header.Set("Origin", "http://"+ownHostName+".evil.example") }, http.StatusForbidden},
		"our host by https":                    {func(r *http.Request) { r.Header.Set("Origin", "https://"+ownHostName) }, http.StatusForbidden},
		"an origin that hides":                 {func(r *http.Request) { r.Header.Set("Origin", "null") }, http.StatusForbidden},
		"two origins":                          {func(r *http.Request) { r.Header.Add("Origin", "http://evil.example") }, http.StatusForbidden},
		"another port of this machine":         {func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }, http.StatusForbidden},
		"a form of another page":               {formOf("https://evil.example"), http.StatusForbidden},
		"a form of an old browser, unnamed":    {formOf(""), http.StatusUnauthorized},
		"no token":                             {func(r *http.Request) { r.Header.Del(tokenHeader) }, http.StatusUnauthorized},
		"an empty token":                       {func(r *http.Request) { r.Header.Set(tokenHeader, "") }, http.StatusUnauthorized},
		"a wrong token":                        {func(r *http.Request) { r.Header.Set(tokenHeader, "guessed") }, http.StatusUnauthorized},
		"a token with more behind":             {func(r *http.Request) { r.Header.Set(tokenHeader, ownToken+"x") }, http.StatusUnauthorized},
		"the token in the address":             {func(r *http.Request) { r.Header.Del(tokenHeader); r.URL.RawQuery = "token=" + ownToken }, http.StatusUnauthorized},
		"a type that a form can send":          {func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, http.StatusUnsupportedMediaType},
		"an address that is only looked at":    {func(r *http.Request) { r.Method = http.MethodGet }, http.StatusMethodNotAllowed},
		"the question of another page's fetch": {func(r *http.Request) { r.Method = http.MethodOptions; r.Header.Set("Origin", "https://evil.example") }, http.StatusForbidden},
	} {
		h, answered := guarded(1000)
		r, w := asked(aCall), httptest.NewRecorder()
		c.change(r)
		h.ServeHTTP(w, r)
		assert.Equal(t, c.want, w.Code, name)
		assert.Equal(t, c.want == http.StatusOK, *answered == 1, "%s: answered %d times", name, *answered)
		assert.Empty(t, w.Header().Get("Access-Control-Allow-Origin"), name)
		assert.Equal(t, policy, w.Header().Get("Content-Security-Policy"), name)
	}
}

// formOf makes a request that of a form on another page, which sends no header of its
// own.
func formOf(origin string) func(*http.Request) {
	return func(r *http.Request) {
		r.Header = http.Header{"Content-Type": {"text/plain"}}
		if origin != "" {
			r.Header.Set("Origin", origin)
			r.Header.Set("Sec-Fetch-Site", "cross-site")
		}
	}
}

func TestACallMayBeSoLarge(t *testing.T) {
	for _, c := range []struct {
		most    int
		unknown bool // the request does not tell how large it is
		want    int
	}{
		{len(aCall), false, http.StatusOK},
		{len(aCall) - 1, false, http.StatusRequestEntityTooLarge},
		{len(aCall), true, http.StatusOK},
		{len(aCall) - 1, true, http.StatusRequestEntityTooLarge},
	} {
		h, answered := guarded(int64(c.most))
		r, w := asked(aCall), httptest.NewRecorder()
		if c.unknown {
			r.ContentLength = -1
		}
		h.ServeHTTP(w, r)
		assert.Equal(t, c.want, w.Code, "%+v", c)
		assert.Equal(t, c.want == http.StatusOK, *answered == 1, "%+v", c)
	}
}

func TestThePageIsShown(t *testing.T) {
	for path, want := range map[string]int{"/": http.StatusOK, "/a.js": http.StatusOK, "/none.js": http.StatusNotFound, "/../guard.go": http.StatusTemporaryRedirect} {
		h, _ := guarded(1000)
		r, w := httptest.NewRequest(http.MethodGet, "/", nil), httptest.NewRecorder()
		r.URL.Path, r.Host = path, ownHostName
		h.ServeHTTP(w, r)
		assert.Equal(t, want, w.Code, path)
	}
	h, _ := guarded(1000)
	r, w := httptest.NewRequest(http.MethodGet, "/", nil), httptest.NewRecorder()
	r.Host = "evil.example"
	h.ServeHTTP(w, r)
	assert.Equal(t, http.StatusMisdirectedRequest, w.Code, "nor is the page shown under another name")
}
