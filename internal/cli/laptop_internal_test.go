//go:build !js

package cli

import (
	"context"
	"encoding/base64"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/internal/web/serve"
)

// A laptop is the page of serve in a browser of a laptop's size.
type laptop struct {
	*testkit.Browser
	t       testing.TB
	address string
}

// newLaptop shows the page over a folder; "" for none.
func newLaptop(t *testing.T, folder string, width int) laptop {
	t.Helper()
	desk := call.Desk{Version: version(), Seasons: seasonFiles{}}
	if folder != "" {
		f, err := openDesk(folder)
		require.NoError(t, err)
		t.Cleanup(func() { f.root.Close() })
		desk.Folder = f
	}
	ctx, cancel := context.WithCancel(t.Context())
	server, err := serve.Listen(ctx, serve.Site{Page: web.App(), Entry: web.DeskEntry, Answer: desk.Answer}, 0)
	require.NoError(t, err)
	ended := make(chan error, 1)
	go func() { ended <- server.Run(ctx) }()
	p := laptop{testkit.StartBrowser(t), t, server.Address()}
	t.Cleanup(func() { cancel(); require.NoError(t, <-ended) })
	p.Open(p.address, width, 768)
	p.Await(`"ready" in document.documentElement.dataset`)
	return p
}

// drop gives files of the disk to the page, as if they were dropped onto it.
func (p laptop) drop(paths ...string) {
	p.t.Helper()
	for _, path := range paths {
		content, err := os.ReadFile(path)
		require.NoError(p.t, err)
		p.Evaluate(fmt.Sprintf(`(() => {
			const d = new DataTransfer(), bytes = Uint8Array.from(atob(%q), c => c.charCodeAt(0));
			d.items.add(new File([bytes], %q));
			document.getElementById("drop").dispatchEvent(new DragEvent("drop", { dataTransfer: d, bubbles: true, cancelable: true }));
		})()`, base64.StdEncoding.EncodeToString(content), path))
		p.Await(fmt.Sprintf(`[...document.querySelectorAll("#came tr")].some(r => r.dataset.file === %q)`, path))
	}
}

// press presses what a selector finds, once it is there.
func (p laptop) press(selector string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`(() => { const e = document.querySelector(%q); return e !== null && !e.disabled && e.offsetParent !== null; })()`, selector))
	p.Evaluate(fmt.Sprintf(`document.querySelector(%q).click()`, selector))
}

// put types into what a selector finds.
func (p laptop) put(selector, text string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`document.querySelector(%q) !== null`, selector))
	p.Evaluate(fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); })()`, selector, text))
}

// choose picks an option of what a selector finds by its value.
func (p laptop) choose(selector, value string) { p.t.Helper(); p.put(selector, value) }

// typed goes to a field by the keyboard alone and types into it.
func (p laptop) typed(selector, text string) {
	p.t.Helper()
	p.TabTo(selector)
	p.Type(text)
	p.Key("Tab")
}

// pressed goes to a button by the keyboard alone and presses it.
func (p laptop) pressed(selector string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`(() => { const e = document.querySelector(%q); return e !== null && !e.disabled && e.offsetParent !== null; })()`, selector))
	p.TabTo(selector)
	p.Key("Enter")
}

// quiet holds that the page complained of nothing and asked for nothing but its own.
func (p laptop) quiet() {
	p.t.Helper()
	origin, _, _ := strings.Cut(p.address, "/#")
	own := []string{p.address, origin + "/", origin + "/call"}
	require.NoError(p.t, fs.WalkDir(web.App(), ".", func(name string, _ fs.DirEntry, err error) error {
		own = append(own, origin+"/"+name)
		return err
	}))
	p.AssertQuiet(own...)
}

// looks holds what is said of a view: axe-core finds nothing, no words lie on others, and
// keeps pictures of it.
func (p laptop) looks(name string) {
	p.t.Helper()
	p.Evaluate(`document.querySelectorAll("details").forEach(d => { d.dataset.was = d.open; d.open = true; })`)
	for _, scheme := range []string{"light", "dark"} {
		p.Media("screen", scheme)
		if os.Getenv("GEOCORIS_AXE") != "" || testkit.Strict() {
			p.AssertAccessible(name + " " + scheme)
		}
		p.Picture(fmt.Sprintf("%s-open-%s.png", name, scheme))
	}
	p.Media("screen", "light")
	p.AssertNothingOverlaps(name, 360, 390, 768, 1024, 1366, 1920)
	p.Evaluate(`document.querySelectorAll("details").forEach(d => { d.open = d.dataset.was === "true"; })`)
	for _, width := range []int{1920, 1366} {
		p.Size(width, 768)
		p.Picture(fmt.Sprintf("%s-%d.png", name, width))
	}
}

// click clicks on a part of what a selector finds, by parts of its size.
func (p laptop) click(selector string, at [2]float64) {
	p.t.Helper()
	p.Evaluate(fmt.Sprintf(`(() => {
		const e = document.querySelector(%q), r = e.getBoundingClientRect();
		e.dispatchEvent(new MouseEvent("click", { bubbles: true, clientX: r.left + %g * r.width, clientY: r.top + %g * r.height }));
	})()`, selector, at[0], at[1]))
}

// drag draws a line over what a selector finds, from and to parts of its size.
func (p laptop) drag(selector string, from, to [2]float64) {
	p.t.Helper()
	p.Evaluate(fmt.Sprintf(`(() => {
		const e = document.querySelector(%q), r = e.getBoundingClientRect();
		e.setPointerCapture = () => {};
		const send = (kind, x, y) => e.dispatchEvent(new PointerEvent(kind, { pointerId: 1, bubbles: true, clientX: r.left + x * r.width, clientY: r.top + y * r.height }));
		send("pointerdown", %g, %g); send("pointermove", 0.5, 0.5); send("pointerup", %g, %g);
	})()`, selector, from[0], from[1], to[0], to[1]))
}

// give gives a file of the disk to an input of files.
func (p laptop) give(id, path string) {
	p.t.Helper()
	content, err := os.ReadFile(path)
	require.NoError(p.t, err)
	p.Evaluate(fmt.Sprintf(`(() => { const d = new DataTransfer(), e = document.getElementById(%q); d.items.add(new File([%q], %q)); e.files = d.files; e.dispatchEvent(new Event("change")); })()`, id, content, path))
	p.Await(fmt.Sprintf(`document.querySelector("[data-set-back='%s']") !== null`, path))
}
