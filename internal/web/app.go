package web

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
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

// imported finds what a module imports from beside it: a statement begins a line and ends
// with the name in quotes.
var imported = regexp.MustCompile(`(?m)^((?:import|export)\b[^"';()=]*?\bfrom\s*|import\s*)["'](\.{1,2}/[^"'\n]+)["']`)

// modulesFrom are a module and all that it imports, those first that were met first, with
// what they import by the names that it is given.
func modulesFrom(app fs.FS, name string, given func(name string) string) (all []File, err error) {
	met := []string{name}
	for i := 0; i < len(met); i++ {
		text, err := fs.ReadFile(app, met[i])
		if err != nil {
			return nil, fmt.Errorf("the page imports %s: %w", met[i], err)
		}
		rewritten := imported.ReplaceAllStringFunc(string(text), func(statement string) string {
			parts := imported.FindStringSubmatch(statement)
			to := path.Join(path.Dir(met[i]), parts[2])
			if !slices.Contains(met, to) {
				met = append(met, to)
			}
			return parts[1] + `"` + given(to) + `"`
		})
		if left := leftImport.FindString(imported.ReplaceAllString(rewritten, "")); left != "" {
			return nil, fmt.Errorf("%s: %s: want a static import of a file beside it", met[i], strings.TrimSpace(left))
		}
		all = append(all, File{met[i], []byte(rewritten)})
	}
	return all, nil
}

// leftImport is an import that a page of one file cannot serve.
var leftImport = regexp.MustCompile(`(?m)^(?:\s*(?:import|export)\b[^"'()=]*["']\.|.*\bimport\s*\(|.*\bimport\.meta\b).*$`)

// flat is the name of a file in a folder that has no others in it.
func flat(name string) string { return strings.ReplaceAll(name, "/", "-") }

// mapped is the name of a module in the import map of a page of one file.
func mapped(name string) string { return "page/" + name }
