package cli

import "github.com/geocoris/geocoris/internal/engine"

// onceFolder is where files go that are written once.
type onceFolder struct {
	path   string
	inputs []string // that must stay
	force  bool     // overwrite files of the same names
}

// writeOnce writes all files or none into a folder; a file that is there already is
// overwritten with force only.
func writeOnce(s Streams, to onceFolder, files []engine.File) error {
	out := outFiles(files)
	if err := checkNew(to.path, to.inputs, namesOf(out), to.force); err != nil {
		return err
	}
	return writeNew(s, to.path, out, to.force)
}
