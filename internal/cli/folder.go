package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// outFile is a file to be written, by its name in the folder.
type outFile struct {
	name    string
	content []byte
}

// ours are all names that the map command may write into its folder.
var ours = [...]string{"zones.geojson", "zones.kml", "zones.kmz", "stops.geojson", "summary.json", "run.json",
	reportFile, pngFile, svgFile, pdfFile, tiffFile, kmzFile}

// checkFolder refuses a folder that holds other files than a command's own, before
// any work is done; force lets it be. Inputs must not lie where outputs will.
func checkFolder(folder string, inputs, ours []string, force bool) error {
	entries, err := os.ReadDir(folder)
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		return hintedError{err, "--out names a folder for the files"}
	}
	for _, in := range inputs {
		for _, name := range ours {
			if sameFile(in, filepath.Join(folder, name)) {
				return hintedError{fmt.Errorf("%s would be overwritten by its own result", in), "choose another folder with --out"}
			}
		}
	}
	for _, e := range entries {
		if !force && !slices.Contains(ours, e.Name()) {
			return hintedError{fmt.Errorf("%s holds other files, such as %s", folder, e.Name()), "choose another folder with --out, or give --force to write beside them"}
		}
	}
	return nil
}

func sameFile(a, b string) bool {
	ia, errA := os.Stat(a)
	ib, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}

// writeFolder writes files into a folder, all or none: they are first written
// beside it, then moved in. Names in stale that are not written are removed, so
// that results of two runs never stand side by side.
func writeFolder(folder string, files []outFile, stale []string) (err error) {
	parent := filepath.Dir(filepath.Clean(folder))
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return err
	}
	staged, err := os.MkdirTemp(parent, ".geocoris-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(staged)
	for _, f := range files {
		if err := writeNew(filepath.Join(staged, f.name), f.content); err != nil {
			return err
		}
	}
	if err := os.Chmod(staged, 0o755); err != nil {
		return err
	}
	if err := os.Remove(folder); err == nil || os.IsNotExist(err) {
		return os.Rename(staged, folder) // none there, or an empty one
	}
	for _, name := range stale {
		if !slices.ContainsFunc(files, func(f outFile) bool { return f.name == name }) {
			if err := os.Remove(filepath.Join(folder, name)); err != nil && !os.IsNotExist(err) {
				return err
			}
		}
	}
	for _, f := range files {
		if err := os.Rename(filepath.Join(staged, f.name), filepath.Join(folder, f.name)); err != nil {
			return err
		}
	}
	return nil
}

func writeNew(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(content); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
