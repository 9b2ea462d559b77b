//go:build !js

package cli

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/internal/web/serve"
)

// Without the secret behind the # the page is there and knows nothing, and says what to do.
func TestTheLaptopWithoutItsSecret(t *testing.T) {
	inDemo(t)
	p := newLaptop(t, ".", 1366)
	p.Await(`document.querySelector("[data-use]") !== null`)
	assert.NotContains(t, p.Text(`location.href`), "#", "nobody reads it off the screen")
	p.Reload()
	p.Await(`document.readyState === "complete" && document.querySelector("[data-use]") !== null`)

	bare, _, _ := strings.Cut(p.address, "#")
	p.Open(bare, 1366, 768) // another tab
	p.Await(`document.getElementById("alert").textContent.includes("Open the address that the program printed.")`)
	assert.Equal(t, "0", p.Text(`document.querySelectorAll("[data-use]").length`))
}

// A page of a stranger, in the same browser, reaches the address by all that a page can do
// without asking, and is not answered. Through a name that points here it sees nothing.
func TestAStrangersPageIsNotAnswered(t *testing.T) {
	var calls atomic.Int32
	ctx, cancel := context.WithCancel(t.Context())
	server, err := serve.Listen(ctx, serve.Site{Page: web.App(), Entry: web.DeskEntry, Answer: func(context.Context, call.Call) call.Reply {
		calls.Add(1)
		return call.Reply{}
	}}, 0)
	require.NoError(t, err)
	ended := make(chan error, 1)
	go func() { ended <- server.Run(ctx) }()
	defer func() { cancel(); require.NoError(t, <-ended) }()
	origin, token, _ := strings.Cut(server.Address(), "/#")
	stranger := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		fmt.Fprintf(w, `<!DOCTYPE html><title>t</title><iframe name="f"></iframe><form method="post" action="%s/call" target="f" enctype="text/plain"><input name="{}"></form>`, origin)
	}))
	defer stranger.Close()
	b := testkit.StartBrowser(t)
	b.Open(stranger.URL, 800, 600)
	b.Evaluate(`document.forms[0].submit()`)
	for _, options := range []string{
		`{ method: "POST", mode: "no-cors", body: "x" }`,
		`{ method: "POST", body: "x" }`,
		`{ method: "POST", headers: { "Geocoris-Token": "` + token + `", "Content-Type": "application/octet-stream" }, body: '{"call":{"do":"folder","files":[]},"sizes":[]}\\n' }`,
		`{ mode: "no-cors" }`,
	} {
		said := b.Text(fmt.Sprintf(`fetch(%q, %s).then(r => "answered " + r.type + " " + r.status, e => e.name)`, origin+"/call", options))
		assert.Contains(t, []string{"TypeError", "answered opaque 0"}, said, options)
	}
	assert.Zero(t, calls.Load(), "also with the token, which it cannot know")

	rebound := strings.Replace(origin, "127.0.0.1", "localhost", 1) // another name for the same address
	b.Open(rebound+"/", 800, 600)
	assert.Contains(t, b.Text(`document.body.textContent`), "this server answers at its own address only")
}
