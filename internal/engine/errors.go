package engine

import (
	"errors"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A UsageError is work asked for wrongly, whatever the data hold.
type UsageError struct{ Err error }

func (e UsageError) Error() string { return e.Err.Error() }

// Unwrap is what is wrong.
func (e UsageError) Unwrap() error { return e.Err }

// A HintedError carries how to fix it beside what went wrong. What a flag does may be done
// elsewhere on a page, which says its own words then.
type HintedError struct {
	Err    error
	Hint   string
	OnPage string // "" where it is fixed as the hint says
	// Setting is the one that answers what was asked, such as one-visit; "" for none.
	Setting string
}

func (e HintedError) Error() string { return e.Err.Error() }

// Unwrap is what went wrong.
func (e HintedError) Unwrap() error { return e.Err }

// FileHint is how to fix what the reader of a feature file or the database of a season
// refused, "" where it knows none; ok is false for any other error.
func FileHint(err error) (hint string, ok bool) {
	var refused *geofile.Error
	if errors.As(err, &refused) {
		return refused.Hint, true
	}
	var fixable interface {
		error
		Fix() string
	}
	if errors.As(err, &fixable) {
		return fixable.Fix(), true
	}
	return "", false
}

// usage makes an error one of wrong usage.
func usage(err error) error { return UsageError{err} }

// hinted gives an error how to fix it.
func hinted(err error, hint string) error { return HintedError{Err: err, Hint: hint} }
