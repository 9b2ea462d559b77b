//go:build !small

package rules

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"

	"github.com/pelletier/go-toml/v2"
)

//go:embed rules.toml
var published []byte

// Published are the rules that come with the program, in the order in which they
// are shown.
func Published() (*Book, error) { return Decode("published rules", published) }

// read reads the rules of a text.
func read(name string, text []byte) ([]Rule, error) {
	var file struct {
		Rules []Rule `toml:"rule"`
	}
	d := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	if err := d.Decode(&file); err != nil {
		return nil, decodeError(name, err)
	}
	return file.Rules, nil
}

func decodeError(name string, err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		line, column := unknown.Errors[0].Position()
		return fmt.Errorf("%s:%d:%d: no key of a rule is called %q", name, line, column, last(unknown.Errors[0].Key()))
	}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		line, column := wrong.Position()
		return fmt.Errorf("%s:%d:%d: %s", name, line, column, wrong.Error())
	}
	return fmt.Errorf("%s: %w", name, err)
}

// last is a key without the tables it stands in.
func last(key toml.Key) string {
	if len(key) == 0 {
		return ""
	}
	return key[len(key)-1]
}
