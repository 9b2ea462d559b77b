// Package vocabulary holds what people read, by languages: the words of zones, verdicts and
// trust by keys, and whole sentences by their English. The English of a sentence stands
// where it is composed, as a form of package fmt, and is its key here: a language is one
// file, a table of words and a table of sentences. Values of properties in files are no
// language and are not taken from here.
package vocabulary

import (
	"errors"
	"fmt"
	"strings"
)

// A Language is one in which the words are given. The zero value is English.
type Language uint8

// The languages that are filled in. A further one is added by its constant here, its file
// beside spanish.go, its cases in [Language.words] and [Language.form], and its signs and
// days in package figures.
const (
	English Language = iota
	Spanish          // of Mexico and the United States
	languages
)

// Languages are all that are filled in.
func Languages() (out []Language) {
	for l := range languages {
		out = append(out, l)
	}
	return out
}

// String is the tag of a language by BCP 47.
func (l Language) String() string {
	switch l {
	case English:
		return "en"
	case Spanish:
		return "es"
	}
	return "und"
}

// Set takes a tag as it is typed.
func (l *Language) Set(tag string) error {
	for _, known := range Languages() {
		if tag == known.String() {
			*l = known
			return nil
		}
	}
	return errors.New("want en or es")
}

// Type names the choices in a command's help.
func (l *Language) Type() string { return "en|es" }

// UnmarshalText takes a tag of a settings file; "" is English.
func (l *Language) UnmarshalText(tag []byte) error {
	if len(tag) == 0 {
		*l = English
		return nil
	}
	return l.Set(string(tag))
}

// MarshalText writes what [Language.Set] reads.
func (l Language) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Word is what the language says for a key; of a key that no table knows it is "?", of
// a language that is not filled in the English word.
func (l Language) Word(k Key) string {
	if k >= keys {
		return "?"
	}
	return l.words()[k]
}

// A table gives a word for each key.
type table [keys]string

func (l Language) words() table {
	switch l {
	case Spanish:
		return spanishWords()
	}
	return english()
}

// Say fills in a form of package fmt, given in English: in that of the language, whose
// verbs may stand in another order. A form that the language lacks stays English, which
// tests keep from happening.
func (l Language) Say(form string, args ...any) string {
	if l == English {
		return fmt.Sprintf(form, args...)
	}
	return fmt.Sprintf(l.form(form), args...)
}

// Text is what the language has for a text in English that has nothing to fill in.
func (l Language) Text(english string) string {
	if l == English {
		return english
	}
	return l.form(english)
}

// form is what the language has for a form or a text; of one that it lacks the English.
func (l Language) form(english string) string {
	if own, ok := spanishForms()[english]; ok && l == Spanish {
		return own
	}
	return english
}

// Things names things that are counted, in one or in several: stop, stops. A name that the
// language lacks is English; one that is a plural already stays as it is.
func (l Language) Things(n int, thing string) string {
	if many := l.many(thing); many != "" {
		return many
	}
	if l == Spanish {
		if own, ok := spanishThings()[thing]; ok {
			if n == 1 {
				return own[0]
			}
			return own[1]
		}
	}
	switch {
	case n == 1:
		return thing
	case thing == "leaf":
		return "leaves"
	case thing == "pass":
		return "passes"
	case strings.HasSuffix(thing, "s"):
		return thing
	}
	return thing + "s"
}

// Pest is a pest by the name that the counts give it: in the language where that is known,
// else as it is.
func (l Language) Pest(name string) string {
	if l == Spanish {
		if own, ok := spanishPests()[strings.ToLower(name)]; ok {
			return own
		}
	}
	return name
}
