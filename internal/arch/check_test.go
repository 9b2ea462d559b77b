package arch_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
)

// plan says which package may import what.
type plan struct {
	module        string              // the module's own path
	layers        [][]string          // folders, lowest layer first; imports go to a lower row only
	kits          map[string][]string // what a package for tests may import of ours, the others nothing
	testOnly      []string            // folders of packages that only test files import; the first serves the tests
	owners        map[string][]string // library → the folders that may import it, in tests too
	testLibraries []string            // libraries of test files and of the first test-only package
	faces         map[string][]string // folder that puts others before people → the folders of ours, with those below, that it may import outside tests
	never         map[string][]string // folder → packages of the standard library that it may not import outside tests
}

// source is one Go file: its folder, its name and what it imports.
type source struct {
	folder, name string
	imports      []string
}

func (s source) isTest() bool { return strings.HasSuffix(s.name, "_test.go") }

func (s source) String() string { return path.Join(s.folder, s.name) }

// check reads the imports of every Go file below tree, also in folders that the
// go command's ./... leaves out, such as testdata, and returns one line for each
// breach of the plan, in the order of the files.
func (p plan) check(tree fs.FS) ([]string, error) {
	sources, err := readSources(tree)
	if err != nil {
		return nil, err
	}
	findings := p.checkTable(sources)
	for _, src := range sources {
		for _, imported := range src.imports {
			if finding := p.checkImport(src, imported); finding != "" {
				findings = append(findings, finding)
			}
		}
	}
	return append(findings, p.checkFaces(sources)...), nil
}

func readSources(tree fs.FS) ([]source, error) {
	var sources []source
	err := fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && isHidden(entry.Name()):
			return fs.SkipDir
		case entry.IsDir() || path.Ext(name) != ".go":
			return nil
		}
		src, err := readSource(tree, name)
		sources = append(sources, src)
		return err
	})
	return sources, err
}

func isHidden(name string) bool {
	return name != "." && (name[0] == '.' || name[0] == '_')
}

func readSource(tree fs.FS, name string) (source, error) {
	src := source{folder: path.Dir(name), name: path.Base(name)}
	text, err := fs.ReadFile(tree, name)
	if err != nil {
		return src, err
	}
	file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ImportsOnly)
	if err != nil {
		return src, err
	}
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			return src, fmt.Errorf("%s: import %s: %w", name, spec.Path.Value, err)
		}
		src.imports = append(src.imports, imported)
	}
	return src, nil
}

// layer returns the row of a folder, counted from 0.
func (p plan) layer(folder string) (row int, ok bool) {
	for i, folders := range p.layers {
		if slices.Contains(folders, folder) {
			return i, true
		}
	}
	return 0, false
}

// checkTable compares the folders of the table with those that hold Go files.
func (p plan) checkTable(sources []source) []string {
	var findings []string
	present := map[string]bool{}
	for _, src := range sources {
		_, layered := p.layer(src.folder)
		if !present[src.folder] && !layered && !slices.Contains(p.testOnly, src.folder) {
			findings = append(findings, src.folder+": package without a row in the table of layers")
		}
		present[src.folder] = true
	}
	for _, folder := range append(slices.Concat(p.layers...), p.testOnly...) {
		if !present[folder] {
			findings = append(findings, folder+": row without a package")
		}
	}
	return findings
}

// checkImport returns what is wrong with one import, or "".
func (p plan) checkImport(src source, imported string) string {
	if folder, ours := strings.CutPrefix(imported, p.module+"/"); ours {
		return p.checkOwn(src, folder)
	}
	if first, _, _ := strings.Cut(imported, "/"); strings.Contains(first, ".") {
		return p.checkLibrary(src, imported)
	}
	if slices.Contains(p.never[src.folder], imported) && !src.isTest() {
		return fmt.Sprintf("%s imports %s, which %s knows nothing of", src, imported, src.folder)
	}
	return "" // the standard library else
}

func (p plan) checkOwn(src source, folder string) string {
	if slices.Contains(p.testOnly, folder) {
		if src.isTest() {
			return ""
		}
		return fmt.Sprintf("%s imports %s, which is for test files", src, folder)
	}
	if src.isTest() && folder == src.folder {
		return "" // an external test of its own package
	}
	if slices.Contains(p.testOnly, src.folder) && !slices.Contains(p.kits[src.folder], folder) {
		return fmt.Sprintf("%s imports %s: a package for tests imports nothing of ours", src, folder)
	}
	from, known := p.layer(src.folder)
	to, found := p.layer(folder)
	switch {
	case !known || !found:
		return "" // checkTable has said so, or the compiler will
	case to == from:
		return fmt.Sprintf("%s imports %s, its sibling in layer %d", src, folder, to)
	case to > from:
		return fmt.Sprintf("%s imports %s, upward from layer %d to %d", src, folder, from, to)
	}
	return ""
}

// checkFaces compares what faces import with what they may.
func (p plan) checkFaces(sources []source) (findings []string) {
	for _, folder := range slices.Sorted(maps.Keys(p.faces)) {
		may := p.faces[folder]
		for _, src := range sources {
			if src.folder != folder || src.isTest() {
				continue
			}
			for _, imported := range src.imports {
				own, ours := strings.CutPrefix(imported, p.module+"/")
				if ours && !slices.ContainsFunc(may, func(folder string) bool { return within(own, folder) }) {
					findings = append(findings, fmt.Sprintf("%s imports %s: want only %s", src, own, strings.Join(may, ", ")))
				}
			}
		}
	}
	return findings
}

func (p plan) checkLibrary(src source, imported string) string {
	for _, library := range p.testLibraries {
		if within(imported, library) {
			if src.isTest() || within(src.folder, p.testOnly[0]) {
				return ""
			}
			return fmt.Sprintf("%s imports %s, which is for test files", src, imported)
		}
	}
	for library, folders := range p.owners {
		if within(imported, library) {
			if slices.Contains(folders, src.folder) {
				return ""
			}
			return fmt.Sprintf("%s imports %s, which belongs to %s", src, imported, strings.Join(folders, ", "))
		}
	}
	return fmt.Sprintf("%s imports %s, a library without an owner in the table", src, imported)
}

// within reports whether an import path is a library or a package of it.
func within(imported, library string) bool {
	return imported == library || strings.HasPrefix(imported, library+"/")
}
