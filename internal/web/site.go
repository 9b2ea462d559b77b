package web

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Site are the files of a folder for any host: the page, the engine, and a service worker
// that keeps them on the phone. All lie in the folder itself.
func Site(app fs.FS, e Engine) (files []File, err error) {
	if files, err = sitePage(app, e); err != nil {
		return nil, err
	}
	keeper, err := fs.ReadFile(app, keeperFile)
	if err != nil {
		return nil, err
	}
	files = append(files, File{"engine.bin", e.Wasm})
	head, err := kept(files)
	if err != nil {
		return nil, err
	}
	return append(files, File{keeperFile, append(head, keeper...)}), nil
}

// sitePage are the page's own files: its script, and what is none.
func sitePage(app fs.FS, e Engine) ([]File, error) {
	script, err := e.script(app)
	if err != nil {
		return nil, err
	}
	files := []File{{first, script}}
	all, err := filesOf(app)
	if err != nil {
		return nil, err
	}
	for _, f := range all {
		if path.Ext(f.Name) == ".js" || strings.HasPrefix(f.Name, deskFolder) {
			continue
		}
		if f.Name == entry {
			page, early, err := withEarly(app, string(f.Content))
			if err != nil {
				return nil, err
			}
			if f.Content, err = withPolicy([]byte(page), sitePolicy(early)); err != nil {
				return nil, err
			}
		}
		files = append(files, File{flat(f.Name), f.Content})
	}
	return files, nil
}

// worker is the script of the worker with what Go needs in front.
func (e Engine) worker(own []byte) []byte { return slices.Concat(e.Exec, []byte("\n"), own) }

// kept are the constants of the service worker: the files, and a name that changes when
// any of them does.
func kept(files []File) ([]byte, error) {
	sum := sha256.New()
	names := []string{"./"}
	for _, f := range files {
		names = append(names, f.Name)
		of := sha256.Sum256(f.Content)
		fmt.Fprintf(sum, "%s %x\n", f.Name, of)
	}
	text, err := json.Marshal(names)
	return fmt.Appendf(nil, "const kept = \"geocoris-%s\";\nconst files = %s;\n", hex.EncodeToString(sum.Sum(nil))[:16], text), err
}
