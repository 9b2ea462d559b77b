//go:build !small

package engine

import (
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/visible"
)

// mostOfAuthor bounds the characters of an author, as lists show it on one line.
const mostOfAuthor = 100

// signable is an error where an author is no name that a list can show.
func signable(author string) error {
	author = season.Authors(author)
	if n := utf8.RuneCountInString(author); n > mostOfAuthor {
		return usage(fmt.Errorf("--author has %d characters: want at most %d", n, mostOfAuthor))
	}
	if !visible.Seen(author) {
		return usage(errors.New("--author: want a name of letters that can be seen; it holds control characters or hidden ones"))
	}
	return nil
}
