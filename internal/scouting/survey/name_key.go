package survey

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// NameKey folds a name, so that two ways of writing it are one: without regard to case and
// spaces, and to whether a letter with its accent is one sign or two (Unicode Standard
// Annex 15, form C), as some systems write the second.
func NameKey(name string) string {
	return norm.NFC.String(strings.ToLower(strings.Join(strings.Fields(norm.NFC.String(name)), " ")))
}
