package cli

import (
	"os"

	"github.com/geocoris/geocoris/internal/engine"
)

// openWeeks opens what stands on the command line as weeks: season files, folders that
// map wrote, and files of counts.
func openWeeks(paths []string) (weeks []engine.Week, closeAll func(), err error) {
	var open []seasonFile
	closeAll = func() {
		for _, s := range open {
			s.Close()
		}
	}
	for _, path := range paths {
		var week engine.Week
		info, err := os.Stat(path)
		switch {
		case err != nil:
		case info.IsDir():
			week.Folder, err = mapFolder(path)
		case isSeason(path):
			var file seasonFile
			if file, err = openSeason(path); err == nil {
				open, week.Season = append(open, file), file
				week.File, err = load(path)
			}
		default:
			week.Counts, err = load(path)
		}
		if err != nil {
			closeAll()
			return nil, nil, err
		}
		weeks = append(weeks, week)
	}
	return weeks, closeAll, nil
}
