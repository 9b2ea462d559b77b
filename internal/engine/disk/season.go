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

// open opens a season where a file may be one.
func open(path string) (*season.Season, error) {
	if err := noFolder(path); err != nil {
		return nil, err
	}
	return season.Open(path)
}

func openToAdd(path string) (*season.Season, error) {
	if err := noFolder(path); err != nil {
		return nil, err
	}
	return season.OpenToAdd(path)
}

// IsSeason says by the content of a file whether it is a season. A file that cannot be
// read is none; the address of a database is one.
func IsSeason(path string) bool { return season.IsAddress(path) || season.Is(path) }

// ShownSeason is a season as it was typed, but for what nobody else should see of the
// address of a database.
func ShownSeason(path string) string {
	if season.IsAddress(path) {
		return season.Name(path)
	}
	return path
}

// SameDatabase reports whether two seasons are addresses of one database.
func SameDatabase(a, b string) bool { return season.SameDatabase(a, b) }

// SeasonSource is a season as a record of inputs has it: a file with its bytes, a database
// with the digests of what is in it.
func SeasonSource(path string, file SeasonFile) (engine.Source, error) {
	if !season.IsAddress(path) {
		return Load(path)
	}
	marked, ok := file.(interface{ Digests() ([]byte, error) })
	if !ok {
		return engine.Source{Name: season.Name(path)}, nil
	}
	digests, err := marked.Digests()
	return engine.Source{Name: season.Name(path), Content: digests}, err
}

// OpenSeason opens a season to be read.
func OpenSeason(path string) (SeasonFile, error) {
	file, err := open(path)
	if err != nil {
		return nil, err
	}
	return file, nil
}

// OpenWholeSeason opens a season to be read, and refuses one that is damaged.
func OpenWholeSeason(path string) (SeasonFile, error) {
	file, err := whole(path)
	if err != nil {
		return nil, err
	}
	return file, nil
}

func whole(path string) (*season.Season, error) {
	file, err := open(path)
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
	open, err := openToAdd(path)
	if err != nil {
		return nil, nil, withHint(err)
	}
	return open, open.Close, nil
}

// OpenSeasonToMerge opens a season to merge others into it, and makes it where there is
// none.
func OpenSeasonToMerge(path string) (file engine.SeasonMerger, closeIt func() error, err error) {
	open, err := openToAdd(path)
	if err != nil {
		return nil, nil, withHint(err)
	}
	return open, open.Close, nil
}

// OpenSeasonToTake opens a season to merge it into another, and refuses one that is damaged.
func OpenSeasonToTake(path string) (from season.Source, closeIt func() error, err error) {
	open, err := whole(path)
	if err != nil {
		return from, nil, err
	}
	return season.Source{Name: ShownSeason(path), Reader: open}, open.Close, nil
}

// OpenSeasonToShow opens a season whose layers other programs look at, and refuses one that
// is damaged.
func OpenSeasonToShow(path string) (file engine.SeasonShower, closeIt func() error, err error) {
	open, err := whole(path)
	if err != nil {
		return nil, nil, err
	}
	return open, open.Close, nil
}

// SeasonRoles are the statements that make the roles of a season in a database.
func SeasonRoles() string { return season.Roles }

// A SeasonCopied is how much a copy of a season brought, and how much was there already.
type SeasonCopied struct{ Visits, Treatments, Known int }

// CopySeason adds to one season, which is made where there is none, all that another holds.
func CopySeason(from, to string) (done SeasonCopied, err error) {
	source, err := whole(from)
	if err != nil {
		return done, err
	}
	defer source.Close()
	target, err := openToAdd(to)
	if err != nil {
		return done, withHint(err)
	}
	copied, err := season.Copy(source, target)
	var held *season.HeldError
	if errors.As(err, &held) {
		err = engine.HintedError{Err: err, Hint: "nothing was copied; copy into a new season, or leave one of the two visits out"}
	}
	return SeasonCopied{copied.Visits, copied.Treatments, copied.Known + copied.KnownBefore}, errors.Join(err, target.Close())
}

// withHint adds what to do about a season that is damaged.
func withHint(err error) error {
	if errors.Is(err, season.ErrBroken) {
		return engine.HintedError{Err: err, Hint: "take a copy of the file that is whole; season export may still give visits back"}
	}
	return err
}
