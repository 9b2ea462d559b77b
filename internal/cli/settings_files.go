package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/rules"
	"github.com/geocoris/geocoris/internal/season"
)

// namedFile is a setting that names a file whose bytes a result depends on.
type namedFile struct {
	setting string
	path    *string // "" for none
}

func (o *mapOptions) namedFiles() []namedFile {
	return []namedFile{{"observers", &o.Observers}, {"schema", &o.Schema}, {"rules", &o.Rules}}
}

// settingsFiles reads the files that the settings name, to be kept with them.
func (o mapOptions) settingsFiles() (files []season.SettingsFile, err error) {
	for _, n := range o.namedFiles() {
		if *n.path == "" {
			continue
		}
		content, err := os.ReadFile(*n.path)
		if err != nil {
			return nil, err
		}
		files = append(files, season.SettingsFile{Setting: n.setting, File: season.File{Name: filepath.Base(*n.path), Content: content}})
	}
	return files, nil
}

// A layout is where files that a season keeps lie while a command runs. The zero
// value holds none.
type layout struct {
	folder string
	names  map[string]string // by their paths
}

// layOut writes files that settings name into a folder of their own, to which the
// options then point; remove it when all is done.
func (o mapOptions) layOut(files []season.SettingsFile) (mapOptions, layout, error) {
	if len(files) == 0 {
		return o, layout{}, nil
	}
	folder, err := os.MkdirTemp("", "geocoris-*")
	if err != nil {
		return o, layout{}, err
	}
	l := layout{folder, map[string]string{}}
	for _, f := range files {
		for _, n := range o.namedFiles() {
			if n.setting != f.Setting {
				continue
			}
			path := filepath.Join(folder, n.setting, filepath.Base(filepath.ToSlash(f.Name))) // files of one name stay apart
			if err = os.Mkdir(filepath.Dir(path), 0o700); err == nil {
				err = os.WriteFile(path, f.Content, 0o600)
			}
			if err != nil {
				l.remove()
				return o, layout{}, err
			}
			*n.path, l.names[path] = path, f.Name
		}
	}
	return o, l, nil
}

func (l layout) remove() {
	if l.folder != "" {
		os.RemoveAll(l.folder)
	}
}

// holds reports whether a path is that of a file of the season.
func (l layout) holds(path string) bool { return l.names[path] != "" }

// named are the options with the names that the season keeps files under, in place of
// where they lie for the time of the run.
func (l layout) named(o mapOptions) mapOptions {
	for _, n := range o.namedFiles() {
		if l.holds(*n.path) {
			*n.path = l.names[*n.path]
		}
	}
	return o
}

// lost names a file that the settings of a season name and that is not there, as of
// seasons whose program did not keep it, unless the options name another by now; mend
// says what to do.
func (o mapOptions) lost(kept mapOptions, mend func(setting string) string) error {
	before := kept.namedFiles()
	for i, n := range o.namedFiles() {
		if *n.path == "" || *n.path != *before[i].path {
			continue
		}
		if _, err := os.Stat(*n.path); err != nil {
			return hintedError{fmt.Errorf("the season was added with --%s %s, and the program of then did not keep the file", n.setting, *n.path), mend(n.setting)}
		}
	}
	return nil
}

// settingsLimit bounds a file that a setting names.
const settingsLimit = 1 << 20

// ruleBook are the published rules, and those of the user's own file before them.
func ruleBook(path string) (*rules.Book, error) {
	if path == "" {
		return rules.Published()
	}
	own, err := geofile.Load(path, settingsLimit)
	if err != nil {
		return nil, err
	}
	return rules.With(own.Base(), own.Content)
}
