package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// isMapFolder tells a folder that map wrote by its record.
func isMapFolder(path string) bool {
	made, err := commandOf(path)
	return err == nil && made == "map"
}

// notTheMap refuses a file of a folder that map wrote where the folder is wanted, and a
// folder that holds such a folder; nil for all else.
func notTheMap(path string) error {
	about, err := os.Stat(path)
	if err != nil {
		return nil // whoever opens it says what is wrong
	}
	if folder := filepath.Dir(path); !about.IsDir() {
		if slices.Contains([]string{"run.json", "summary.json", "stops.geojson"}, filepath.Base(path)) && isMapFolder(folder) {
			return hintedError{fmt.Errorf("%s is one of the files that map wrote, and their folder is wanted", path), "give " + typed(folder)}
		}
		return nil
	}
	if isMapFolder(path) {
		return nil
	}
	maps := mapsIn(path)
	if len(maps) == 0 {
		return nil
	}
	hint := "give " + maps[0]
	if n := len(maps) - 1; n > 0 {
		hint += fmt.Sprintf(", or another of the %d folders in it that map wrote", n+1)
	}
	return hintedError{fmt.Errorf("%s is no folder that map wrote, but holds one", path), hint}
}

// mapsIn are the folders in a folder that map wrote, as they are typed.
func mapsIn(path string) (maps []string) {
	inside, _ := os.ReadDir(path)
	for _, e := range inside {
		if folder := filepath.Join(path, e.Name()); e.IsDir() && isMapFolder(folder) {
			maps = append(maps, typed(folder))
		}
	}
	return maps
}
