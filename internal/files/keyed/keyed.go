//go:build !small

package keyed

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// A File is a text and what its names are called in messages.
type File struct {
	Name string // in messages
	Text []byte
	// Unknown says that no such name is known, as "no setting is called"; Hint is how to fix it.
	Unknown, Hint string
	// Tail names the last part alone of a name that is not known, as of one in a list of tables.
	Tail bool
	// Lists are examples of names that take a list of words, such as fix → swap.
	Lists map[string]string
}

// An Error is what is wrong with a file: name:line:column and what to write.
type Error struct{ Text, Hint string }

func (e *Error) Error() string { return e.Text }

// Decode reads the file into what to points to. Names that it has no place for are errors.
// Every error is an [*Error].
func (f File) Decode(to any) error {
	text, unreadable := f.readable()
	if unreadable != nil {
		return unreadable
	}
	f.Text = text
	err := toml.NewDecoder(bytes.NewReader(f.Text)).DisallowUnknownFields().Decode(to)
	var unknown *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case err == nil:
		if name := f.doubled(); name != "" {
			line, column := f.lineOfName(name)
			return &Error{Text: f.at(line, column, name+": is there twice, in small letters and in capitals")}
		}
		return f.words(reflect.ValueOf(to))
	case errors.As(err, &unknown) && len(unknown.Errors) > 0:
		line, column := unknown.Errors[0].Position()
		key := unknown.Errors[0].Key()
		if f.Tail && len(key) > 0 {
			key = key[len(key)-1:]
		}
		return &Error{f.at(line, column, fmt.Sprintf("%s %q", f.Unknown, strings.Join(key, "."))), f.Hint}
	case errors.As(err, &wrong):
		line, column := wrong.Position()
		return &Error{Text: f.at(line, column, f.wrong(wrong, to))}
	}
	if line, column, name := f.refusing(to, err); line > 0 {
		return &Error{Text: f.at(line, column, name+": "+bare(err))}
	}
	return &Error{Text: f.Name + ": " + bare(err)}
}

func (f File) at(line, column int, text string) string {
	return fmt.Sprintf("%s:%d:%d: %s", f.Name, line, column, text)
}

// wrong says in plain words what the reader of TOML says in its own.
func (f File) wrong(e *toml.DecodeError, to any) string {
	line, column := e.Position()
	text := lineOf(f.Text, line)
	if name, right := decimalComma(text, column); right != "" {
		return fmt.Sprintf("%s: write %s, with a point", name, right)
	}
	key := e.Key()
	kind := f.wanted(to, key)
	said := plain(bare(e), text)
	if kind != "" && (strings.HasPrefix(bare(e), "cannot ") || strings.Contains(bare(e), "cannot be stored")) {
		return strings.Join(key, ".") + ": want " + kind + quotedNumber(text, kind)
	} else if last := strings.Join(key, "."); last != "" && !strings.Contains(said, last) {
		return last + ": " + said
	}
	if len(key) == 0 {
		if said := f.broken(text, e, to); said != "" {
			return said
		}
	}
	return said
}

// bare is what an error says, without the name of the format.
func bare(err error) string { return strings.TrimPrefix(err.Error(), "toml: ") }
