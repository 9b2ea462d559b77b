//go:build !js

package testkit_test

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/testkit"
)

func TestOverlapsAreFound(t *testing.T) {
	b := testkit.StartBrowser(t)
	for body, want := range map[string][]string{
		`<p>one <b>two</b> three</p><p>four</p><button>five</button>`:                                                nil,
		`<p style="position:absolute;top:9px">one</p><p style="position:absolute;top:12px">two</p>`:                  {"two lies on one"},
		`<p style="position:absolute;top:9px">one</p><p style="position:absolute;top:9px;visibility:hidden">two</p>`: nil,
		`<input id="n"><span style="position:relative;left:-60px">two</span>`:                                        {"<input id=n> lies on two"},
		`<svg width="90" height="40"><text y="20">one</text><text x="5" y="24">two</text></svg>`:                     {"two lies on one"},
		`<div style="width:900px">wide</div>`:                                                                        {"the page is 508 px wider than the window"},
		`<div style="overflow-x:auto"><div style="width:900px;text-align:right">wide</div></div>`:                    nil,
	} {
		b.Open("data:text/html;charset=utf-8,"+url.PathEscape(`<!DOCTYPE html><meta name="viewport" content="width=device-width"><title>t</title><body>`+body), 400, 800)
		assert.Equal(t, want, b.Overlaps(), body)
	}
}
