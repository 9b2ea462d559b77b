package cli

import (
	"errors"
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
// that results of two runs never stand side by side. Where the folder is a link,
// the files go where it leads.
func writeFolder(folder string, files []outFile, stale []string) error {
	if real, err := filepath.EvalSymlinks(folder); err == nil {
		folder = real
	}
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
	return replace(folder, staged, files, stale)
}

// replace moves staged files into a folder that holds some already. What stands in
// their way is put aside until all are in, and back where one cannot be.
func replace(folder, staged string, files []outFile, stale []string) (err error) {
	aside, err := os.MkdirTemp(filepath.Dir(staged), ".geocoris-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(aside)
	var undo []func() error
	defer func() {
		if err != nil {
			for _, back := range slices.Backward(undo) {
				err = errors.Join(err, back())
			}
		}
	}()
	move := func(from, to string) error {
		if err := os.Rename(from, to); err != nil {
			return err
		}
		undo = append(undo, func() error { return os.Rename(to, from) })
		return nil
	}
	old := slices.Clone(stale)
	for _, f := range files {
		old = append(old, f.name)
	}
	slices.Sort(old)
	for _, name := range slices.Compact(old) {
		there, err := os.Lstat(filepath.Join(folder, name))
		switch {
		case os.IsNotExist(err):
			continue
		case err != nil:
			return err
		case there.IsDir():
			return hintedError{fmt.Errorf("%s is a folder", filepath.Join(folder, name)), "choose another folder with --out"}
		}
		if err := move(filepath.Join(folder, name), filepath.Join(aside, name)); err != nil {
			return err
		}
	}
	for _, f := range files {
		if err := move(filepath.Join(staged, f.name), filepath.Join(folder, f.name)); err != nil {
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
