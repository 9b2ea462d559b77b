//go:build small

package rules

import (
	_ "embed"
	"encoding/json"
	"fmt"
)

// published are the rules of rules.toml as JSON, which a small build reads without a
// library. A test holds one to the other.
//
//go:embed rules.json
var published []byte

// Published are the rules that come with the program, in the order in which they
// are shown.
func Published() (*Book, error) {
	var all []Rule
	if err := json.Unmarshal(published, &all); err != nil {
		return nil, fmt.Errorf("published rules: %w", err)
	}
	return bookOf("published rules", all)
}

// read is an error: TOML is not in this build.
func read(name string, _ []byte) ([]Rule, error) {
	return nil, fmt.Errorf("%s: rules of your own are not in this build", name)
}
