package serve

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func shown(t *testing.T, d Data) *DataServer {
	t.Helper()
	d.Handler = http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "data") })
	s, err := ListenData(t.Context(), d)
	require.NoError(t, err)
	t.Cleanup(func() { s.listener.Close() })
	return s
}

// Data are for programs on this machine, or for those that have the token.
func TestDataAreForWhoMayHaveThem(t *testing.T) {
	const token = "sixteen-or-more-letters"
	plain := func(*http.Request) {}
	password := func(p string) func(*http.Request) { return func(r *http.Request) { r.SetBasicAuth(User, p) } }
	for _, c := range []struct {
		name   string
		data   Data
		change func(*http.Request)
		want   int
	}{
		{"this machine", Data{}, plain, 200},
		{"this machine by IPv6", Data{Address: "::1"}, plain, 200},
		{"a name that points here", Data{}, func(r *http.Request) { r.Host = "evil.example" }, 421},
		{"another page", Data{}, func(r *http.Request) { r.Header.Set("Origin", "https://evil.example") }, 403},
		{"an image of another page", Data{}, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"this machine, with a token asked for", Data{Token: token}, plain, 401},
		{"the token as the password", Data{Token: token}, password(token), 200},
		{"the token with another name", Data{Token: token}, func(r *http.Request) { r.SetBasicAuth("", token) }, 200},
		{"the token as a bearer", Data{Token: token}, func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+token) }, 200},
		{"a wrong password", Data{Token: token}, password(token + "x"), 401},
		{"an empty password", Data{Token: token}, password(""), 401},
		{"the token in the address", Data{Token: token}, func(r *http.Request) { r.URL.RawQuery = "token=" + token }, 401},
		{"all networks, without the token", Data{Address: "0.0.0.0"}, plain, 401},
		{"all networks, by a name", Data{Address: "0.0.0.0", Token: token}, func(r *http.Request) { r.Host = "office.example"; r.SetBasicAuth(User, token) }, 200},
		{"all networks, another page", Data{Address: "0.0.0.0", Token: token}, func(r *http.Request) { r.Header.Set("Origin", "https://evil.example"); r.SetBasicAuth(User, token) }, 403},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := shown(t, c.data)
			r, w := httptest.NewRequest(http.MethodGet, "/", nil), httptest.NewRecorder()
			r.Host = s.listener.Addr().String()
			c.change(r)
			behind(s.data.Handler, s.guards()...).ServeHTTP(w, r)
			assert.Equal(t, c.want, w.Code, w.Body.String())
			assert.Equal(t, c.want == 401, w.Header().Get("WWW-Authenticate") != "")
			assert.Equal(t, c.want == 200, w.Body.String() == "data")
		})
	}
}

func TestATokenIsThereWhereOthersReach(t *testing.T) {
	assert.Empty(t, shown(t, Data{}).Token())
	a, b := shown(t, Data{Address: "0.0.0.0"}), shown(t, Data{Address: "0.0.0.0"})
	assert.GreaterOrEqual(t, len(a.Token()), shortestToken)
	assert.NotEqual(t, a.Token(), b.Token())
	assert.False(t, a.Alone())
	_, err := ListenData(t.Context(), Data{Token: "short"})
	assert.ErrorContains(t, err, "want 16 or more")
	_, err = ListenData(t.Context(), Data{Port: 70000})
	assert.ErrorContains(t, err, "want 1 to 65535")
}

func TestDataAreServedUntilTheEnd(t *testing.T) {
	s := shown(t, Data{})
	ctx, end := context.WithCancel(t.Context())
	ended := make(chan error)
	go func() { ended <- s.Run(ctx) }()
	answer, err := http.Get(s.Address())
	require.NoError(t, err)
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, "data", string(text))
	end()
	assert.NoError(t, <-ended)
}

// Who listens on all networks is told the machine's own addresses, IPv4 first.
func TestAddressesThatOthersReach(t *testing.T) {
	var found []net.Addr
	for _, a := range []string{"127.0.0.1/8", "::1/128", "fe80::1/64", "169.254.3.4/16", "2001:db8::5/64", "192.0.2.7/24", "198.51.100.2/24"} {
		ip, of, err := net.ParseCIDR(a)
		require.NoError(t, err)
		found = append(found, &net.IPNet{IP: ip, Mask: of.Mask})
	}
	assert.Equal(t, "[192.0.2.7 198.51.100.2 2001:db8::5]", fmt.Sprint(reachable(found)))
	assert.Equal(t, "[127.0.0.1]", fmt.Sprint(reachable(found[:4])), "on no network")
}
