package survey

import (
	"fmt"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// NameKey folds a name, so that two ways of writing it are one: without regard to case and
// spaces, and to whether a letter with its accent is one sign or two (Unicode Standard
// Annex 15, form C), as some systems write the second.
func NameKey(name string) string { return norm.NFC.String(strings.ToLower(plainName(name))) }

// SameName reports whether two names are written alike, with their case.
func SameName(a, b string) bool { return plainName(a) == plainName(b) }

// plainName folds what cannot be seen in a name, and leaves its case.
func plainName(name string) string {
	return strings.Join(strings.Fields(norm.NFC.String(name)), " ")
}

// Named is the place of the name among others that is meant: of the one that is written
// alike, else of the one that is the same by [NameKey]; -1 where there is none. Where two
// are the same but for their case, and the name is neither, that is an error that names
// both.
func Named(name string, among []string) (at int, err error) {
	var alike []string
	at = -1
	for i, other := range among {
		if SameName(other, name) {
			return i, nil
		}
		if NameKey(other) == NameKey(name) {
			if alike = append(alike, other); at < 0 {
				at = i
			}
		}
	}
	if len(alike) > 1 {
		return -1, fmt.Errorf("%q can be %s: write it as the one that is meant", name, Listed(quoted(alike)))
	}
	return at, nil
}
