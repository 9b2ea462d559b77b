package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
)

// stdin is the path that stands for standard input.
const stdin = "-"

// loadSamples takes samples into memory, - from standard input.
func loadSamples(paths []string, in io.Reader) (all []engine.Source, err error) {
	for _, path := range paths {
		var from engine.Source
		switch {
		case path != stdin:
			from, err = disk.Load(path)
		case in == nil:
			err = errors.New("standard input is not at hand")
		default:
			from, err = disk.LoadStream(path, in)
		}
		if err != nil {
			return nil, err
		}
		all = append(all, from)
	}
	return all, nil
}

// loadAsked takes a file into memory that was asked for; nil where none was.
func loadAsked(path string) (*engine.Source, error) {
	if path == "" {
		return nil, nil
	}
	from, err := disk.Load(path)
	return &from, err
}

// loadThere takes a file into memory; nil where there is none.
func loadThere(path string) (*engine.Source, error) {
	from, err := disk.Load(path)
	switch {
	case os.IsNotExist(err):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return &from, nil
}

// setupOf are settings with the files that they name.
func setupOf(o engine.Settings) (engine.Setup, error) {
	w := engine.Setup{Settings: o, Named: map[string]engine.Source{}}
	for _, n := range w.Settings.NamedFiles() {
		if *n.Path == "" {
			continue
		}
		from, err := disk.Load(*n.Path)
		if err != nil {
			return w, err
		}
		w.Named[n.Setting] = from
	}
	return w, nil
}

// setupOver is setupOf where a season keeps files: those that are named as it names
// them are its own, unless a flag names them. lost says what to do where it has none; of
// older programs it has none, and what lies in this folder or below it is taken.
func setupOver(o engine.Settings, kept engine.Setup, given *pflag.FlagSet, lost func(setting string) string) (engine.Setup, error) {
	w := engine.Setup{Settings: o, Named: map[string]engine.Source{}, Kept: map[string]bool{}}
	before := kept.Settings.NamedFiles()
	for i, n := range w.Settings.NamedFiles() {
		asked := given != nil && given.Changed(n.Setting) || *n.Path != *before[i].Path
		switch {
		case *n.Path == "":
			continue
		case !asked && kept.Kept[n.Setting]:
			w.Named[n.Setting], w.Kept[n.Setting] = kept.Named[n.Setting], true
			continue
		}
		// Whoever wrote the season says where this file lies: nothing is opened elsewhere.
		unasked := !asked && lost != nil
		var from engine.Source
		err := fs.ErrNotExist
		if !unasked || filepath.IsLocal(*n.Path) {
			from, err = disk.Load(*n.Path)
		}
		if err != nil && unasked {
			return w, hintedError{fmt.Errorf("the season was added with --%s %s, and the program of then did not keep the file", n.Setting, *n.Path), lost(n.Setting)}
		}
		if err != nil {
			return w, err
		}
		w.Named[n.Setting] = from
	}
	return w, nil
}

// loadAgain loads what a record names.
func loadAgain(path string) (engine.Source, error) {
	if path == stdin {
		return engine.Source{}, engine.HintedError{Err: errors.New("the samples came by standard input, so they cannot be read again"), Hint: "make the files with map --write"}
	}
	return disk.Load(path)
}

// mapFolder is a folder that map wrote; who wants a file that it lacks says so.
func mapFolder(path string) (*engine.MapFolder, error) {
	f := &engine.MapFolder{Name: path, Load: loadAgain}
	if err := notTheMap(path); err != nil {
		return nil, err
	}
	switch about, err := os.Stat(path); {
	case err != nil:
		return nil, hintedError{err, "give the folder that map wrote"}
	case !about.IsDir():
		return nil, hintedError{fmt.Errorf("%s is no folder", path), "give the folder that map wrote"}
	}
	for _, part := range []struct {
		name string
		to   *engine.Source
	}{{"run.json", &f.Run}, {"summary.json", &f.Summary}} {
		from, err := disk.Load(filepath.Join(path, part.name))
		if err != nil && !os.IsNotExist(err) {
			return nil, err
		}
		*part.to = from
	}
	return f, nil
}

// outFiles are files of the engine as they are written.
func outFiles(files []engine.File) (out []outFile) {
	for _, f := range files {
		out = append(out, outFile{name: f.Name, content: f.Content})
	}
	return out
}
