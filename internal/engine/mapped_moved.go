//go:build !small

package engine

import (
	"path"
	"strings"
)

// Where is the path at which a file lies now that a folder was made from: where it was read
// or, where nothing can be read there, by its name in the folder, beside it, or where the command
// runs, as long as its content is the same. ok is false where it lies in none of these.
func (f MapFolder) Where(read string) (now string, ok bool) {
	if _, err := f.Load(read); err == nil {
		return read, true
	}
	run, err := f.record("")
	if err != nil {
		return "", false
	}
	for _, in := range run.Inputs {
		if in.Path != read {
			continue
		}
		for _, at := range f.beside(read) {
			if from, err := f.Load(at); err == nil && InputOf(from).SHA256 == in.SHA256 {
				return at, true
			}
		}
	}
	return "", false
}

// beside are the paths at which a file is looked for whose folder was moved.
func (f MapFolder) beside(read string) []string {
	plain := strings.ReplaceAll(f.Name, `\`, "/")
	name := path.Base(strings.ReplaceAll(read, `\`, "/")) // of whatever system
	return []string{path.Join(plain, name), path.Join(path.Dir(path.Clean(plain)), name), name}
}

// loaded is an input of the record from where it lies now, under the name by which it was
// read; the error of that place where it lies nowhere.
func (f MapFolder) loaded(in Input) (Source, error) {
	if at, ok := f.Where(in.Path); ok && at != in.Path {
		from, err := f.Load(at)
		from.Name = in.Path
		return from, err
	}
	return f.Load(in.Path)
}

// Moved is how to fix it where what a folder was made from is not there.
func (f MapFolder) Moved(read string) string {
	return "put " + path.Base(strings.ReplaceAll(read, `\`, "/")) + " into " + f.Name + ", or run this where map ran"
}
