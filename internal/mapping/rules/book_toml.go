//go:build !small

package rules

import (
	_ "embed"

	"github.com/geocoris/geocoris/internal/files/keyed"
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
	f := keyed.File{Name: name, Text: text, Unknown: "no key of a rule is called", Tail: true}
	if err := f.Decode(&file); err != nil {
		return nil, err
	}
	return file.Rules, nil
}
