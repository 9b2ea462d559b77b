package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// matched are the files that paths name, in their order: of a pattern such as
// counts/*.csv all that match, by name, for shells that leave patterns to programs. A
// file that lies there under the very name is no pattern, and none comes twice by patterns.
func matched(paths []string) (files []string, err error) {
	for _, path := range paths {
		if !isPattern(path) || engine.InDatabase(path) {
			files = append(files, path)
			continue
		}
		found, err := filepath.Glob(path)
		if err != nil {
			return nil, usageError{fmt.Errorf("%s is no pattern of file names: a bracket is not closed", path)}
		}
		found = slices.DeleteFunc(found, func(name string) bool {
			return strings.HasPrefix(filepath.Base(name), ".") && !strings.HasPrefix(filepath.Base(path), ".")
		})
		if len(found) == 0 {
			return nil, hintedError{fmt.Errorf("%s: no file matches", path), "look where the files lie, and how their names end"}
		}
		for _, name := range found {
			if !slices.Contains(files, name) {
				files = append(files, name)
			}
		}
	}
	return files, nil
}

func isPattern(path string) bool {
	if path == stdin || !strings.ContainsAny(path, "*?[") {
		return false
	}
	_, err := os.Lstat(path)
	return err != nil
}
