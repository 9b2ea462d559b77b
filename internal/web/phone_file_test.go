package web_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
)

// The page as one file has the field and the stops that it was made with, counts, and
// asks for nothing. What was counted is there when the file is opened again.
func TestThePhoneAsOneFile(t *testing.T) {
	testkit.WantBrowser(t)
	e, err := built()
	require.NoError(t, err)
	preset, err := json.Marshal(map[string]any{
		"field":    map[string]any{"name": "Pivot", "area_ha": 50, "boundary": fieldOf(t)},
		"stops":    []any{map[string]any{"name": "A1", "at": []float64{-101.601, 35.9}}, map[string]any{"name": "A2", "at": []float64{-101.599, 35.9}}},
		"settings": map[string]any{"rule": "sorghum-aphid-high-plains", "stage": "boot"},
	})
	require.NoError(t, err)
	page, err := web.Page(web.App(), e, preset)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "walk.html")
	require.NoError(t, os.WriteFile(path, page, 0o644))
	p := phone{testkit.StartBrowser(t), t, "file://" + path}
	p.LetLocate("granted")
	p.open(390, 844)
	p.Await(`document.getElementById("what").textContent.includes("50 or more on a leaf")`)
	p.tap("#plan")
	p.shows("walk")
	assert.Equal(t, "Walk to stop A1", p.Text(`document.querySelector("h1").textContent`))
	p.tap("#here")
	p.shows("count")
	for range 2 {
		before := p.leaf()
		p.tap(`[data-answer="yes"]`)
		p.Await(`document.querySelector(".leaf").textContent !== "` + before + `"`)
	}
	p.open(390, 844)
	p.shows("count")
	assert.Equal(t, "Plant 3 of 5", p.leaf())
	p.AssertQuiet("file://" + path)
}

// Where the engine does not come, a field can be made, walked and counted all the same,
// and the screens say so.
func TestThePhoneWithoutItsEngine(t *testing.T) {
	p := phone{testkit.StartBrowser(t), t, served(t, "engine.bin")}
	p.LetLocate("granted")
	p.open(390, 844)
	p.Await(`document.getElementById("engine-said").textContent.includes("on a laptop")`)
	p.tap("#make")
	p.shows("make")
	p.choose("make-way", "corners")
	for i, c := range [][2]float64{{-101.6, 35.9}, {-101.6, 35.904}, {-101.59, 35.904}} {
		p.stand(c[0], c[1], 4)
		p.point(i + 1)
	}
	p.write("new-name", "Corner")
	p.tap("#save-field")
	p.shows("before")
	p.tap("#free")
	p.shows("walk")
	p.tap("#here")
	p.shows("count")
	p.tap(tell(7))
	p.Await(`document.querySelector(".leaf").textContent === "Plant 1 of 5, upper leaf"`)
	p.openAll()
	p.tap("#early")
	p.shows("walk")
	p.Await(`document.getElementById("band").textContent.includes("on a laptop")`)
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector('[data-save="counts"]') !== null`)
	assert.Contains(t, p.status("answer"), "No map: ")
}
