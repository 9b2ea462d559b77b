//go:build !js

package cli

import (
	"context"
	"encoding/base64"
	"fmt"
	"os"
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

func TestLook(t *testing.T) {
	inDemo(t)
	p := newLaptop(t, ".", 1366)
	p.Picture("bring-empty.png")
	p.drop("week3.csv", "field.geojson")
	p.Await(`document.querySelector("#problems") !== null`)
	p.Picture("bring.png")
	p.press("#go-answer")
	p.Await(`document.querySelector("#map svg") !== null`)
	p.Picture("answer.png")
	p.press("#go-hand-over")
	p.put("#job-swath", "24m")
	p.Await(`document.querySelector("#says p") !== null`)
	p.put("#job-rate", "140L/ha")
	p.Await(`document.querySelector("[data-save='TASKDATA.zip']") !== null`)
	p.Picture("handover.png")
	p.AssertQuiet(p.address)
}
