package web_test

import (
	"fmt"
	"image"
	_ "image/png" // what the phone draws
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sharing takes the place of the phone's own sheet, and keeps what it is given.
const sharing = `navigator.canShare = () => true; window.handed = []; navigator.share = async given => { window.handed.push({ name: given.files[0].name, text: given.text }); };`

// atNoon is a phone with a walk of twelve stops that were counted, high in the north, at
// the answer.
func atNoon(t *testing.T, language string, before ...string) phone {
	t.Helper()
	p := newPhone(t, before...)
	events := cleanWalk(12)
	for i, e := range events {
		if e["kind"] == "tell" && i > 96 {
			e["count"] = 60 + i%7
		}
	}
	p.keep(append(begun(t, mean, 12), events...)...)
	p.keep(map[string]any{"kind": "set", "values": map[string]any{"language": language}})
	p.shows("walk")
	p.tap("#noon")
	p.shows("noon")
	p.Await(`document.querySelector("#found svg") !== null`)
	p.openAll()
	return p
}

// Whoever gets the picture alone reads the answer and the cautions on it.
func TestThePictureCarriesTheCautions(t *testing.T) {
	for language, file := range map[string]string{"en": "picture", "es": "imagen"} {
		p, shared := atNoon(t, language), t.TempDir()
		p.DownloadTo(shared)
		p.tap(fmt.Sprintf(`[data-save="%s"]`, file))
		f, err := os.Open(wait(t, shared, "map.png"))
		require.NoError(t, err)
		picture, _, err := image.Decode(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		size := picture.Bounds().Max
		assert.Equal(t, 1080, size.X)
		dark := 0
		for y := size.Y - 250; y < size.Y; y++ {
			for x := range size.X {
				if r, _, _, _ := picture.At(x, y).RGBA(); r < 0x4000 {
					dark++
				}
			}
		}
		assert.Greater(t, dark, 2000, "words at the foot")
		text := p.Text(`import("./main.js").then(({ modules }) => modules["picture.js"]).then(m => { const lines = [...document.querySelectorAll("#cautions li")].map(e => e.textContent);
			return m.sheetOf(document.querySelector("#found svg"), { title: "Pivot", answer: document.getElementById("answer").textContent, legend: [], heading: "", cautions: lines }).textContent.replaceAll(/\s+/g, ""); })`)
		for _, said := range []string{`document.getElementById("answer")`, `document.querySelector("#cautions li")`, `document.querySelector("#cautions li:last-child")`} {
			assert.Contains(t, text, p.Text(said+`.textContent.replaceAll(/\s+/g, "")`))
		}
		if folder := os.Getenv("GEOCORIS_PICTURES"); folder != "" {
			made, err := os.ReadFile(f.Name())
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(folder+"/shared-"+language+".png", made, 0o644))
		}
	}
}

// All that the phone's sheet hands on has the cautions beside it.
func TestCautionsGoWithAllThatIsShared(t *testing.T) {
	p := atNoon(t, "en", sharing)
	n := int(p.Evaluate(`document.querySelectorAll("#found [data-share]").length`).(float64))
	require.GreaterOrEqual(t, n, 5)
	for i := range n {
		p.Evaluate(fmt.Sprintf(`document.querySelectorAll("#found [data-share]")[%d].click()`, i))
		p.Await(fmt.Sprintf(`window.handed.length === %d`, i+1))
	}
	assert.Contains(t, p.Text(`import("./main.js").then(({ modules }) => [modules["calls.js"], modules["words.js"]]).then(async ([c, w]) => { w.speak("es"); await c.rules(); w.speak("en"); await c.rules(); return c.cautionsKnown().join(" "); })`), "The label is the law.", "in the language that is spoken")
	for _, given := range p.Evaluate(`window.handed`).([]any) {
		handed := given.(map[string]any)
		assert.Contains(t, handed["text"], "The label is the law.", handed["name"])
		assert.Contains(t, handed["text"], "Bees and drift", handed["name"])
	}
}
