//go:build !small

package engine

import (
	"io/fs"

	"github.com/geocoris/geocoris/testdata/demo"
)

// Demo is the demonstration data: two invented fields and three weekly surveys.
func Demo() (files []File, err error) {
	err = fs.WalkDir(demo.Files(), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		content, err := fs.ReadFile(demo.Files(), name)
		files = append(files, File{name, content})
		return err
	})
	return files, err
}
