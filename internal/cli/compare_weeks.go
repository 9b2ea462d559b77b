package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
)

// openWeeks opens what stands on the command line as weeks: season files, folders that
// map wrote, and files of counts.
func openWeeks(paths []string) (weeks []engine.Week, closeAll func(), err error) {
	var open []disk.SeasonFile
	closeAll = func() {
		for _, s := range open {
			s.Close()
		}
	}
	for _, path := range paths {
		var week engine.Week
		info, err := statOf(path)
		if err == nil {
			err = notTheMap(path)
		}
		switch {
		case err != nil:
		case info.folder:
			week.Folder, err = mapFolder(path)
		case info.regular && disk.IsSeason(path): // a pipe is read once
			var file disk.SeasonFile
			if file, err = disk.OpenSeason(path); err == nil {
				open, week.Season = append(open, file), file
				week.File, err = disk.SeasonSource(path, file)
			}
		default:
			week.Counts, err = disk.Load(path)
		}
		if err != nil {
			closeAll()
			return nil, nil, err
		}
		weeks = append(weeks, week)
	}
	return weeks, closeAll, nil
}

// placed is what stands on the command line: a folder, a file or a database, or neither.
type placed struct{ folder, regular bool }

func statOf(path string) (placed, error) {
	if engine.InDatabase(path) {
		return placed{regular: true}, nil
	}
	info, err := os.Stat(path)
	if err != nil {
		return placed{}, err
	}
	return placed{info.IsDir(), info.Mode().IsRegular()}, nil
}

// unnamedSprays are notes on ground that was recorded as sprayed in folders of map, where
// no treated ground was given: without it the answer is that of a field nobody sprayed.
func (c *compareRun) unnamedSprays() (notes []string) {
	if c.options.Treated != "" {
		return nil
	}
	for _, week := range c.weeks {
		for _, path := range spraysIn(week) {
			notes = append(notes, fmt.Sprintf("%s holds ground that was sprayed, which is left out here: --treated %s tells whether it worked", week, typed(path)))
		}
	}
	return notes
}

// spraysIn are the files of ground that was recorded as sprayed in a folder; what is no
// folder holds none.
func spraysIn(folder string) (paths []string) {
	inside, _ := os.ReadDir(folder)
	for _, e := range inside {
		if engine.IsAppliedGround(e.Name()) {
			paths = append(paths, filepath.Join(folder, e.Name()))
		}
	}
	return paths
}
