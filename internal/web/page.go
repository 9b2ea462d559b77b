package web

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strings"
	"sync"
)

// Elements of the entry that a page of one file has otherwise.
var (
	manifestLink = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\n?<link rel="manifest"[^>]*>`) })
	iconLink     = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`<link rel="icon" href="([^"]+)">`) })
	styleLink    = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`<link rel="stylesheet" href="([^"]+)">`) })
	earlyScript  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`<script src="([^"]+)"></script>`) })
	mainScript   = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`<script type="module" src="main\.js"[^>]*></script>`)
	})
	styleURL = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`url\(\s*["']?(?:[^"'d]|d[^a])|@import`) }) // but data:
)

// Page is the page as one file that works as it is opened: styles, modules and the engine
// inside, with the preset in JSON that it begins with; nil for none.
func Page(app fs.FS, e Engine, preset []byte) ([]byte, error) {
	raw, err := fs.ReadFile(app, entry)
	if err != nil {
		return nil, err
	}
	page := string(manifestLink().ReplaceAll(raw, nil))
	page, err = withIcon(app, page)
	if err != nil {
		return nil, err
	}
	page, styles, err := withStyles(app, page)
	if err != nil {
		return nil, err
	}
	page, early, err := withEarly(app, page)
	if err != nil {
		return nil, err
	}
	page, scripts, err := e.withScript(app, page)
	if err != nil {
		return nil, err
	}
	inside, err := e.inside(preset)
	if err != nil {
		return nil, err
	}
	before, after, found := strings.Cut(page, "</body>")
	if !found {
		return nil, fmt.Errorf("%s: want </body>", entry)
	}
	return withPolicy([]byte(before+inside+"</body>"+after), pagePolicy(early+scripts, styles))
}

func withIcon(app fs.FS, page string) (string, error) {
	at := iconLink().FindStringSubmatch(page)
	if at == nil {
		return page, nil
	}
	icon, err := fs.ReadFile(app, at[1])
	if err != nil {
		return "", err
	}
	return strings.Replace(page, at[0], `<link rel="icon" href="data:image/svg+xml;base64,`+base64.StdEncoding.EncodeToString(icon)+`">`, 1), nil
}

// withStyles puts the styles in, and returns their digests.
func withStyles(app fs.FS, page string) (_, digests string, err error) {
	digests = "'none'"
	for _, at := range styleLink().FindAllStringSubmatch(page, -1) {
		text, err := fs.ReadFile(app, at[1])
		if err != nil {
			return "", "", err
		}
		if styleURL().Match(text) || bytes.Contains(text, []byte("</style")) {
			return "", "", fmt.Errorf("%s: asks for another file, which a page of one file has not", at[1])
		}
		style := "\n" + string(text)
		page = strings.Replace(page, at[0], "<style>"+style+"</style>", 1)
		digests = strings.TrimPrefix(digests+" "+digest(style), "'none' ")
	}
	return page, digests, nil
}

// withEarly puts the scripts in that run before anything is read, and returns their digests
// with a blank behind each.
func withEarly(app fs.FS, page string) (_, digests string, err error) {
	for _, at := range earlyScript().FindAllStringSubmatch(page, -1) {
		text, err := fs.ReadFile(app, at[1])
		if err != nil {
			return "", "", err
		}
		if bytes.Contains(text, []byte("</script")) {
			return "", "", fmt.Errorf("%s: ends the script that it stands in", at[1])
		}
		script := "\n" + string(text)
		page = strings.Replace(page, at[0], "<script>"+script+"</script>", 1)
		digests += digest(script) + " "
	}
	return page, digests, nil
}

// withScript puts the page's script in, as the one address of an import map, and returns the
// digests of the scripts.
func (e Engine) withScript(app fs.FS, page string) (_, digests string, err error) {
	if len(mainScript().FindAllString(page, -1)) != 1 {
		return "", "", fmt.Errorf(`%s: want <script type="module" src="%s"></script> once`, entry, first)
	}
	script, err := e.script(app)
	if err != nil {
		return "", "", err
	}
	addresses := map[string]string{mapped(first): "data:text/javascript;base64," + base64.StdEncoding.EncodeToString(script)}
	text, err := json.Marshal(map[string]any{"imports": addresses})
	if err != nil {
		return "", "", err
	}
	scripts := fmt.Sprintf("<script type=\"importmap\">%s</script>", text)
	return mainScript().ReplaceAllLiteralString(page, scripts), digest(string(text)) + " " + digest(start), nil
}

// start begins the page of one file. It stands behind the preset and before the engine, and
// does not wait for the rest of the page, which takes a phone a while to read.
var start = fmt.Sprintf("import %q;", mapped(first))

// inside are the engine and the preset as data of the page, which no browser runs.
func (e Engine) inside(preset []byte) (string, error) {
	if preset == nil {
		preset = []byte("null")
	}
	if !json.Valid(preset) {
		return "", errors.New("the preset is no JSON")
	}
	var b bytes.Buffer
	json.HTMLEscape(&b, preset)
	block := func(id, kind, text string) string {
		return fmt.Sprintf("<script id=\"%s\" type=\"%s\">%s</script>\n", id, kind, text)
	}
	return block("preset", "application/json", b.String()) + "<script type=\"module\" async>" + start + "</script>\n" +
		block("engine", "text/plain", base64.StdEncoding.EncodeToString(e.Wasm)), nil
}
