package web

import (
	"bytes"
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
	if files, err = sitePage(app); err != nil {
		return nil, err
	}
	own, err := fs.ReadFile(app, workerFile)
	if err != nil {
		return nil, err
	}
	keeper, err := fs.ReadFile(app, keeperFile)
	if err != nil {
		return nil, err
	}
	files = append(files, File{"engine-worker.js", e.worker(own)}, File{"engine.bin", e.Wasm})
	head, err := kept(files)
	if err != nil {
		return nil, err
	}
	return append(files, File{keeperFile, append(head, keeper...)}), nil
}

// sitePage are the page's own files: the modules that it imports, and what is no script.
func sitePage(app fs.FS) ([]File, error) {
	modules, err := modulesFrom(app, first, func(name string) string { return "./" + flat(name) })
	if err != nil {
		return nil, err
	}
	for i := range modules {
		modules[i].Name = flat(modules[i].Name)
	}
	files := modules
	all, err := filesOf(app)
	if err != nil {
		return nil, err
	}
	for _, f := range all {
		if path.Ext(f.Name) == ".js" || strings.HasPrefix(f.Name, deskFolder) {
			continue
		}
		if f.Name == entry {
			if f.Content, err = withPolicy(preloading(f.Content, modules), sitePolicy); err != nil {
				return nil, err
			}
		}
		files = append(files, File{flat(f.Name), f.Content})
	}
	return files, nil
}

// preloading is the entry with a hint of each module that it will import, so that a browser
// asks for all at once: it would else find them file by file.
func preloading(entry []byte, modules []File) []byte {
	var hints bytes.Buffer
	for _, m := range modules {
		fmt.Fprintf(&hints, "<link rel=\"modulepreload\" href=\"%s\">\n", m.Name)
	}
	at := firstScript.FindIndex(entry)
	if at == nil {
		return entry
	}
	return slices.Concat(entry[:at[0]], hints.Bytes(), entry[at[0]:])
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
