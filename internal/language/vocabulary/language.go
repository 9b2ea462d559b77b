// Package vocabulary holds the single words that people read: zones, verdicts, what
// became of treat ground, stages and trust. A language is one table of them. Values of
// properties in files are no language and are not taken from here.
package vocabulary

// A Language is one in which the words are given. The zero value is English.
type Language uint8

// The languages that are filled in. A further one is added by its constant here, its
// table in [tables] and its signs in package figures.
const (
	English Language = iota
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
	}
	return "und"
}

// Word is what the language says for a key; of a key that no table knows it is "?", of
// a language that is not filled in the English word.
func (l Language) Word(k Key) string {
	if k >= keys {
		return "?"
	}
	if l >= languages {
		l = English
	}
	return tables()[l][k]
}

// A table gives a word for each key.
type table [keys]string

func tables() [languages]table { return [languages]table{English: english()} }
