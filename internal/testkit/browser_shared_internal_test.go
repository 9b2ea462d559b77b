//go:build !js

package testkit

import (
	"net/http"
	"net/http/httptest"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMain(m *testing.M) { os.Exit(Main(m)) }

// Browsers of one process know nothing of one another: neither what pages keep nor where
// the device stands nor what was allowed.
func TestBrowsersAreStrangers(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte("<!DOCTYPE html><title>t</title>"))
	}))
	t.Cleanup(server.Close)
	const kept = `(localStorage.getItem("a") ?? "nothing") + " " + document.cookie`
	const allowed = `navigator.permissions.query({ name: "geolocation" }).then(p => p.state)`
	a, b := StartBrowser(t), StartBrowser(t)
	a.LetLocate("granted")
	a.Open(server.URL, 390, 844)
	a.Evaluate(`localStorage.setItem("a", "kept"); document.cookie = "c=1"; 0`)
	assert.Equal(t, "kept c=1", a.Text(kept))
	a.Open(server.URL, 390, 844)
	assert.Equal(t, "kept c=1", a.Text(kept), "in another of its tabs")
	assert.Equal(t, "granted", a.Text(allowed))
	b.Open(server.URL, 1280, 800)
	assert.Equal(t, "nothing ", b.Text(kept))
	assert.Equal(t, "prompt", b.Text(allowed))
	assert.Equal(t, 1280.0, b.Evaluate(`innerWidth`))
	assert.NotEqual(t, 1280.0, a.Evaluate(`innerWidth`))
	assert.Equal(t, a.Process(), b.Process(), "and yet they are one process")
}
