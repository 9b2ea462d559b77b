package cli

import (
	"errors"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// seasonFile is an open season file.
type seasonFile interface {
	engine.SeasonReader
	Close() error
}

// isSeason tells by its content whether a file is a season.
func isSeason(path string) bool { return season.Is(path) }

// openSeason opens a season for reading.
func openSeason(path string) (seasonFile, error) {
	file, err := season.Open(path)
	if err != nil {
		return nil, err
	}
	return file, nil
}

// openWholeSeason opens a season for reading and refuses one that is damaged.
func openWholeSeason(path string) (seasonFile, error) {
	file, err := season.Open(path)
	if err != nil {
		return nil, err
	}
	if err := file.Check(); err != nil {
		file.Close()
		return nil, mendBroken(err)
	}
	return file, nil
}

// openSeasonToAdd opens a season to add to it, and makes it where there is none.
func openSeasonToAdd(path string) (file engine.SeasonWriter, closeIt func() error, err error) {
	open, err := season.OpenToAdd(path)
	if err != nil {
		return nil, nil, mendBroken(err)
	}
	return open, open.Close, nil
}

// mendBroken tells what to do about a season that is damaged.
func mendBroken(err error) error {
	if errors.Is(err, season.ErrBroken) {
		return hintedError{err, "take a copy of the file that is whole; season export may still give visits back"}
	}
	return err
}
