package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
)

var (
	// importing is a static import of what stands beside a module: it begins a line and ends
	// with the path in quotes.
	importing = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?m)^import\s*(?:(\{[^}]*\}|\*\s*as\s+\w+)\s*from\s*)?["'](\.{1,2}/[^"'\n]+)["'];?`)
	})
	// exporting is an export of what is declared there.
	exporting = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?m)^export ((?:async )?function|class|const|let) (\w+)`)
	})
	// renaming is the new name of what is imported, as import and as an object's pattern say it.
	renaming = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\s+as\s+`) })
	// leftStatement is an import or export that cannot be put into one file.
	leftStatement = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?m)^(?:\s*(?:import|export)\b.*|.*\bimport\s*\(.*|.*\bimport\.meta\b.*)$`)
	})
)

// bundle is a module and all that it imports as one, so that a browser asks once and reads
// once. Each module is a function's inside, which gives what it exports to those behind it;
// the bundle exports all of that as modules, by their names.
func bundle(app fs.FS, name string) ([]byte, error) {
	b := bundling{app: app, done: map[string]bool{}}
	b.text.WriteString("const modules = {};\n")
	if err := b.add(name); err != nil {
		return nil, err
	}
	b.text.WriteString("export { modules };\n")
	return b.text.Bytes(), nil
}

type bundling struct {
	app  fs.FS
	text bytes.Buffer
	done map[string]bool
	path []string // from the first module to the one that is added
}

// add puts a module behind all that it imports.
func (b *bundling) add(name string) error {
	if slices.Contains(b.path, name) {
		return fmt.Errorf("the page imports in a circle: %s", strings.Join(append(b.path, name), ", "))
	}
	if b.done[name] {
		return nil
	}
	b.done[name], b.path = true, append(b.path, name)
	defer func() { b.path = b.path[:len(b.path)-1] }()
	text, err := fs.ReadFile(b.app, name)
	if err != nil {
		return fmt.Errorf("the page imports %s: %w", name, err)
	}
	for _, found := range importing().FindAllSubmatch(text, -1) {
		if err := b.add(path.Join(path.Dir(name), string(found[2]))); err != nil {
			return err
		}
	}
	inside, err := asFunction(name, text)
	b.text.Write(inside)
	return err
}

// asFunction is a module that has its imports from modules and puts its exports there.
func asFunction(name string, text []byte) ([]byte, error) {
	var exports []string
	text = importing().ReplaceAllFunc(text, func(statement []byte) []byte {
		parts := importing().FindSubmatch(statement)
		if len(parts[1]) == 0 {
			return nil
		}
		from := fmt.Sprintf("modules[%q]", path.Join(path.Dir(name), string(parts[2])))
		if all, ok := bytes.CutPrefix(parts[1], []byte("*")); ok {
			return fmt.Appendf(nil, "const %s = %s;", bytes.TrimSpace(all)[len("as "):], from)
		}
		return fmt.Appendf(nil, "const %s = %s;", renaming().ReplaceAll(parts[1], []byte(": ")), from)
	})
	text = exporting().ReplaceAllFunc(text, func(statement []byte) []byte {
		parts := exporting().FindSubmatch(statement)
		if export := string(parts[2]); string(parts[1]) == "let" { // which changes
			exports = append(exports, fmt.Sprintf("get %s() { return %s; }", export, export))
		} else {
			exports = append(exports, export)
		}
		return bytes.TrimPrefix(statement, []byte("export "))
	})
	if left := leftStatement().Find(text); left != nil {
		return nil, fmt.Errorf("%s: %s: want a static import of a file beside it, or an export of one declaration", name, bytes.TrimSpace(left))
	}
	return fmt.Appendf(nil, "modules[%q] = (() => {\n%s\nreturn { %s };\n})();\n", name, bytes.TrimSpace(text), strings.Join(exports, ", ")), nil
}

// withWorker is the page's files with the worker's script as words of a module, so that
// the engine begins without asking for it.
type withWorker struct {
	fs.FS
	code []byte
}

// codeFile is the module with the worker's script, which is empty where a server computes.
const codeFile = "code.js"

// ReadFile gives the module with the script.
func (a withWorker) ReadFile(name string) ([]byte, error) {
	if name != codeFile {
		return fs.ReadFile(a.FS, name)
	}
	var b bytes.Buffer
	to := json.NewEncoder(&b)
	to.SetEscapeHTML(false)
	err := to.Encode(string(a.code))
	return slices.Concat([]byte("export const code = "), bytes.TrimSpace(b.Bytes()), []byte(";\n")), err
}

// script is all of the page's own script: its modules, the worker's script in them.
func (e Engine) script(app fs.FS) ([]byte, error) {
	own, err := fs.ReadFile(app, workerFile)
	if err != nil {
		return nil, err
	}
	return bundle(withWorker{app, e.worker(own)}, first)
}
