package disk

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/engine"
)

// mostBytes is how much of a file is taken into memory; its reader refuses more.
const mostBytes = 64 << 20

// Load takes a file into memory, with the files beside it that belong to it. A folder
// is an error.
func Load(path string) (engine.Source, error) {
	if about, err := os.Stat(path); err == nil && about.IsDir() {
		return engine.Source{}, aFolder(path, "counts.csv")
	}
	return geofile.Load(path, mostBytes)
}

// aFolder refuses a folder where a file such as another in it is wanted.
func aFolder(path, file string) error {
	return engine.HintedError{Err: fmt.Errorf("%s is a folder, not a file", path), Hint: "name the file in it, such as " + filepath.Join(path, file)}
}

// LoadStream takes a stream into memory under a name, up to what a file may hold.
func LoadStream(name string, in io.Reader) (engine.Source, error) {
	content, err := geofile.ReadUpTo(in, mostBytes)
	return engine.Source{Name: name, Content: content}, err
}
