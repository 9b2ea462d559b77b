package web

import (
	"embed"
	"io/fs"
	"strings"
)

//go:embed app
var embedded embed.FS

// App is the page's own files.
func App() fs.FS {
	app, err := fs.Sub(embedded, "app")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return app
}

// DeskEntry is the entry of the page for a laptop, which a server shows.
const DeskEntry = deskFolder + "index.html"

// deskFolder is where what is the laptop's alone stands.
const deskFolder = "desk/"

// Files of the page that are not served as they are.
const (
	entry      = "index.html"
	first      = "main.js"
	workerFile = "worker.js"
	keeperFile = "sw.js"
)

// A File is a named file that comes of it.
type File struct {
	Name    string
	Content []byte
}

// filesOf are all files below a folder, in the order of their names.
func filesOf(app fs.FS) (all []File, err error) {
	err = fs.WalkDir(app, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		content, err := fs.ReadFile(app, name)
		all = append(all, File{name, content})
		return err
	})
	return all, err
}

// flat is the name of a file in a folder that has no others in it.
func flat(name string) string { return strings.ReplaceAll(name, "/", "-") }

// mapped is the name of a module in the import map of a page of one file.
func mapped(name string) string { return "page/" + name }
