package web_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/testdata/demo"
)

const index = `<!DOCTYPE html>
<html lang="en"><head>
<meta charset="utf-8">
<title>t</title>
<link rel="icon" href="icon.svg">
<link rel="manifest" href="manifest.webmanifest">
<link rel="stylesheet" href="style.css">
<script type="module" src="main.js"></script>
</head><body><p id="p"></p></body></html>
`

// small is a page of few modules with our engine and worker in it.
func small(t testing.TB) fstest.MapFS {
	app := fstest.MapFS{
		"index.html":           {Data: []byte(index)},
		"icon.svg":             {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`)},
		"manifest.webmanifest": {Data: []byte(`{"name":"t"}`)},
		"style.css":            {Data: []byte("p { color: rgb(1, 2, 3) }\n")},
		"main.js":              {Data: []byte("import { show } from \"./screens/show.js\";\nimport \"./more.js\";\nshow();\n")},
		"more.js":              {Data: []byte("import * as all from './words/few.js'\nexport const words = all.few.length;\n")},
		"words/few.js":         {Data: []byte("export let few = \"from './none.js'\";\n")},
		"screens/show.js":      {Data: []byte("import {\n  ready,\n} from \"../engine.js\";\nimport { words as few } from '../more.js';\nexport function show() { ready.then(v => { document.getElementById(\"p\").textContent = `${v} ${few}`; }); }\n")},
	}
	for _, name := range []string{"engine.js", "code.js", "worker.js", "sw.js"} {
		content, err := fs.ReadFile(web.App(), name)
		require.NoError(t, err)
		app[name] = &fstest.MapFile{Data: content}
	}
	return app
}

var pretend = web.Engine{Wasm: []byte("wasm"), Exec: []byte("exec();")}

func text(t testing.TB, files []web.File, name string) string {
	t.Helper()
	for _, f := range files {
		if f.Name == name {
			return string(f.Content)
		}
	}
	require.Fail(t, "no file is called "+name)
	return ""
}

func TestSiteKeepsAllItsFiles(t *testing.T) {
	files, err := web.Site(small(t), pretend)
	require.NoError(t, err)
	keeper := text(t, files, "sw.js")
	for _, f := range files {
		if f.Name != "sw.js" {
			assert.Contains(t, keeper, `"`+f.Name+`"`)
		}
	}
	for _, f := range files {
		assert.NotContains(t, f.Name, "/", "the folder is written as a whole, and has no others in it")
	}
	assert.Contains(t, text(t, files, "index.html"), "connect-src 'self'")

	again, err := web.Site(small(t), pretend)
	require.NoError(t, err)
	assert.Equal(t, files, again)
	changed := small(t)
	changed["style.css"] = &fstest.MapFile{Data: []byte("p { color: red }\n")}
	other, err := web.Site(changed, pretend)
	require.NoError(t, err)
	assert.NotEqual(t, strings.SplitN(keeper, "\n", 2)[0], strings.SplitN(text(t, other, "sw.js"), "\n", 2)[0], "a phone would keep the old page")
}

// Before the first screen a phone asks for the page, its styles and one script, in which
// the worker's is too. A page of one file shows its screen before its engine is read.
func TestTheFirstScreenNeedsThreeFiles(t *testing.T) {
	files, err := web.Site(web.App(), pretend)
	require.NoError(t, err)
	var scripts []string
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".js") {
			scripts = append(scripts, f.Name)
		}
	}
	assert.Equal(t, []string{"main.js", "sw.js"}, scripts)
	said := text(t, files, "main.js")
	assert.NotRegexp(t, `(?m)^\s*import\b`, said)
	page := text(t, files, "index.html")
	assert.Equal(t, 1, strings.Count(page, ` src="`))
	assert.Less(t, strings.Index(page, "indexedDB.open("), strings.Index(page, ` src="`), "the store begins to open before all else")
	assert.Contains(t, said, `const code = "exec();\n`)
	assert.Less(t, strings.Index(said, `modules["dom.js"] = `), strings.Index(said, `modules["app.js"] = `))

	whole, err := web.Page(web.App(), pretend, nil)
	require.NoError(t, err)
	said = string(whole)
	assert.NotContains(t, said, ` src="`)
	begins := strings.Index(said, `<script type="module" async>import "page/main.js";`)
	assert.Less(t, strings.Index(said, `id="preset"`), begins)
	assert.Less(t, strings.Index(said, `id="screen"`), begins)
	assert.Less(t, begins, strings.Index(said, `id="engine"`))
}

func TestPageHasAllInIt(t *testing.T) {
	page, err := web.Page(small(t), pretend, []byte(`{"field":"</script>"}`))
	require.NoError(t, err)
	said := string(page)
	assert.Contains(t, said, "connect-src 'none'")
	assert.NotContains(t, said, `href="icon.svg"`)
	assert.NotContains(t, said, "manifest.webmanifest")
	assert.NotContains(t, said, `src="main.js"`)
	assert.Equal(t, 4, strings.Count(said, "</script>"), "the preset ends no script")
	assert.Less(t, strings.Index(said, "Content-Security-Policy"), strings.Index(said, "<script"))
	again, err := web.Page(small(t), pretend, []byte(`{"field":"</script>"}`))
	require.NoError(t, err)
	assert.Equal(t, page, again)
}

func TestPageRefusesWhatItCannotHold(t *testing.T) {
	for name, c := range map[string]struct{ file, content, want string }{
		"a module that is not there":        {"more.js", "import { a } from \"./none.js\";", "the page imports none.js"},
		"an import at run time":             {"more.js", "const a = await import('./main.js');", "more.js: const a = await import('./main.js');: want a static import of a file beside it"},
		"an export of a list":               {"more.js", "const words = 1;\nexport { words };", "more.js: export { words };: want a static import of a file beside it, or an export of one declaration"},
		"imports in a circle":               {"more.js", "import './main.js';", "the page imports in a circle: main.js, screens/show.js, more.js, main.js"},
		"an early script that is not there": {"index.html", strings.Replace(index, "<title>", `<script src="none.js"></script><title>`, 1), "none.js"},
		"a picture of the styles":           {"style.css", "p { background: url(a.png) }", "style.css: asks for another file"},
		"styles of the styles":              {"style.css", "@import \"b.css\";", "style.css: asks for another file"},
		"an entry without its main":         {"index.html", "<meta charset=\"utf-8\"></body>", `index.html: want <script type="module" src="main.js"></script> once`},
		"an entry without a charset":        {"index.html", strings.Replace(index, `<meta charset="utf-8">`, "", 1), `index.html: want <meta charset="utf-8">`},
	} {
		app := small(t)
		app[c.file] = &fstest.MapFile{Data: []byte(c.content)}
		_, err := web.Page(app, pretend, nil)
		assert.ErrorContains(t, err, c.want, name)
	}
	_, err := web.Page(small(t), pretend, []byte("{"))
	assert.ErrorContains(t, err, "the preset is no JSON")
}

// built is the engine as the source has it now, built once for all tests.
var built = sync.OnceValues(func() (web.Engine, error) {
	return web.Build(context.Background())
})

// Zones have the colours of report on the pages of phone and laptop too. CSS asks for no
// other file, so style.css writes them down a second time.
func TestZonesHaveOneSetOfColours(t *testing.T) {
	css, err := fs.ReadFile(web.App(), "style.css")
	require.NoError(t, err)
	assert.Contains(t, string(css), report.ColoursCSS())
	for _, name := range []string{"--treat:", "--watch:", "--clear:"} {
		assert.Equal(t, 1, strings.Count(string(css), name), name)
	}
}

// mostLoaded is what a phone has to load at most, packed: the engine and the page. Where there
// is no browser for it the engine is not built, which takes a minute.
const mostLoaded = 3_000_000

func TestThePageIsSoonLoaded(t *testing.T) {
	testkit.WantBrowser(t)
	e, err := built()
	require.NoError(t, err)
	files, err := web.Site(web.App(), e)
	require.NoError(t, err)
	all := 0
	for _, f := range files {
		if bytes.Equal(f.Content, e.Wasm) { // which no host packs again
			all += len(e.Wasm)
			continue
		}
		var packed bytes.Buffer
		w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
		require.NoError(t, err)
		_, err = w.Write(f.Content)
		require.NoError(t, err)
		require.NoError(t, w.Close())
		all += packed.Len()
	}
	assert.Less(t, all, mostLoaded)
	t.Logf("%d bytes packed, %d of them the engine", all, len(e.Wasm))
}

// askForZones maps the demo in the page, and gives the zones as text.
const askForZones = `import(%q).then(async ({ modules }) => {
  const m = modules["engine.js"];
  const r = await m.call("map", {}, [{ role: "boundary", name: "field.geojson", bytes: %q }, { role: "counts", name: "week2.csv", bytes: %q }]);
  return r.error ? r.error.message : new TextDecoder().decode(r.files.find(f => f.name === "zones.geojson").bytes);
})`

// native are the zones of the demo as this machine makes them.
func native(t testing.TB) (zones, boundary, counts string) {
	t.Helper()
	c := call.Call{Do: "map", Files: []call.Given{{Role: call.Boundary, Name: "field.geojson"}, {Role: call.Counts, Name: "week2.csv"}}}
	for i, f := range c.Files {
		content, err := fs.ReadFile(demo.Files(), f.Name)
		require.NoError(t, err)
		c.Files[i].Content = content
	}
	reply := call.Answer(t.Context(), c)
	require.Nil(t, reply.Error)
	for _, f := range reply.Files {
		if f.Name == "zones.geojson" {
			return string(f.Content), string(c.Files[0].Content), string(c.Files[1].Content)
		}
	}
	require.Fail(t, "no zones")
	return
}

// A page that is opened as a file runs its engine and asks for nothing.
func TestThePageOfOneFileMapsTheDemo(t *testing.T) {
	b := testkit.StartBrowser(t)
	e, err := built()
	require.NoError(t, err)
	page, err := web.Page(small(t), e, []byte(`{"field":{"name":"Pivot"}}`))
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "phone.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	address := (&url.URL{Scheme: "file", Path: file}).String()
	b.Open(address, 390, 844)
	b.Await(`document.getElementById("p").textContent === "devel 16"`)
	assert.Equal(t, "rgb(1, 2, 3)", b.Text(`getComputedStyle(document.getElementById("p")).color`))
	assert.Equal(t, "Pivot", b.Text(`import("page/main.js").then(({ modules }) => modules["engine.js"].preset().field.name)`))
	zones, boundary, counts := native(t)
	assert.True(t, zones == b.Text(fmt.Sprintf(askForZones, "page/main.js", boundary, counts)), "zones of the page are not those of this machine")
	b.AssertQuiet(address)
}

// The same from a host, and once more without it.
func TestTheSiteWorksWithoutItsHost(t *testing.T) {
	b := testkit.StartBrowser(t)
	e, err := built()
	require.NoError(t, err)
	files, err := web.Site(small(t), e)
	require.NoError(t, err)
	served := fstest.MapFS{}
	for _, f := range files {
		served[f.Name] = &fstest.MapFile{Data: f.Content}
	}
	server := httptest.NewServer(http.FileServerFS(served))
	b.Open(server.URL+"/", 390, 844)
	b.Await(`document.getElementById("p").textContent === "devel 16"`)
	zones, boundary, counts := native(t)
	assert.True(t, zones == b.Text(fmt.Sprintf(askForZones, "./main.js", boundary, counts)), "zones of the page are not those of this machine")
	b.Evaluate(`navigator.serviceWorker.register("sw.js").then(() => navigator.serviceWorker.ready).then(() => 1)`)
	b.Await(`navigator.serviceWorker.controller !== null`)
	assert.Equal(t, "application/wasm 0", b.Text(`fetch("engine.bin").then(async r => r.headers.get("Content-Type") + " " + new Uint8Array(await r.arrayBuffer())[0])`), "a browser keeps what it compiles with a program alone")
	server.CloseClientConnections()
	server.Close()
	b.Evaluate(`document.getElementById("p").textContent = ""`)
	b.Reload()
	b.Await(`document.getElementById("p")?.textContent === "devel 16"`)
}
