package survey

import (
	"strings"
	"unicode"
)

// Meant is the one of some names that was typed nearly so: one or two letters off, half of
// them at most, and with the same digits, as week3 is no misspelt week2. It is "" where none
// is, or where two are as near.
func Meant(typed string, among []string) (name string) {
	least := mostLetters + 1
	for _, one := range among {
		a, b := NameKey(typed), NameKey(one)
		apart := lettersApart(a, b)
		if digitsOf(a) != digitsOf(b) || 2*apart > len(a) {
			continue
		}
		switch {
		case apart < least:
			least, name = apart, one
		case apart == least:
			name = ""
		}
	}
	return name
}

func digitsOf(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, name)
}
