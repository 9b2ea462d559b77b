package disk

import (
	"errors"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A SeasonFile is a season that is open to be read.
type SeasonFile interface {
	engine.SeasonReader
	Close() error
}

// IsSeason says by the content of a file whether it is a season. A file that cannot be
// read is none.
func IsSeason(path string) bool { return season.Is(path) }

// OpenSeason opens a season to be read.
func OpenSeason(path string) (SeasonFile, error) {
	file, err := season.Open(path)
	if err != nil {
		return nil, err
	}
	return file, nil
}

// OpenWholeSeason opens a season to be read, and refuses one that is damaged.
func OpenWholeSeason(path string) (SeasonFile, error) {
	file, err := season.Open(path)
	if err != nil {
		return nil, err
	}
	if err := file.Check(); err != nil {
		file.Close()
		return nil, withHint(err)
	}
	return file, nil
}

// OpenSeasonToAdd opens a season to add to it, and makes it where there is none.
func OpenSeasonToAdd(path string) (file engine.SeasonWriter, closeIt func() error, err error) {
	open, err := season.OpenToAdd(path)
	if err != nil {
		return nil, nil, withHint(err)
	}
	return open, open.Close, nil
}

// OpenSeasonToMerge opens a season to merge others into it, and makes it where there is
// none.
func OpenSeasonToMerge(path string) (file engine.SeasonMerger, closeIt func() error, err error) {
	open, err := season.OpenToAdd(path)
	if err != nil {
		return nil, nil, withHint(err)
	}
	return open, open.Close, nil
}

// OpenSeasonToTake opens a season to merge it into another, and refuses one that is damaged.
func OpenSeasonToTake(path string) (from season.Source, closeIt func() error, err error) {
	open, err := season.Open(path)
	if err != nil {
		return from, nil, err
	}
	if err := open.Check(); err != nil {
		open.Close()
		return from, nil, withHint(err)
	}
	return season.Source{Name: path, Reader: open}, open.Close, nil
}

// OpenSeasonToShow opens a season whose layers other programs look at, and refuses one that
// is damaged.
func OpenSeasonToShow(path string) (file engine.SeasonShower, closeIt func() error, err error) {
	open, err := season.Open(path)
	if err != nil {
		return nil, nil, err
	}
	if err := open.Check(); err != nil {
		open.Close()
		return nil, nil, withHint(err)
	}
	return open, open.Close, nil
}

// withHint adds what to do about a season that is damaged.
func withHint(err error) error {
	if errors.Is(err, season.ErrBroken) {
		return engine.HintedError{Err: err, Hint: "take a copy of the file that is whole; season export may still give visits back"}
	}
	return err
}
