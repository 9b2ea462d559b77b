package engine

import (
	"encoding/json"
	"fmt"
)

// notKept are the settings that no result depends on: where files lie on one
// machine, and how things are shown.
var notKept = [...]string{"field", "out", "units", "strict", "write"}

// storedSettings are settings as a season or a folder of map keeps them, as JSON.
// What they do not name has its default: they may be older than a setting.
func storedSettings(text []byte) (Settings, error) {
	o := Defaults()
	known, err := kept(text)
	if err == nil {
		err = json.Unmarshal([]byte(known), &o)
	}
	if err != nil {
		return o, fmt.Errorf("stored settings: %w", err)
	}
	return o, nil
}

// keptSettings are the settings that make a result, as JSON: not where files lie
// on one machine, nor how things are shown.
func keptSettings(o Settings) (string, error) {
	all, err := json.Marshal(o)
	if err != nil {
		return "", err
	}
	return kept(all)
}

// kept leaves out what no result depends on.
func kept(text []byte) (string, error) {
	var all map[string]json.RawMessage
	if err := json.Unmarshal(text, &all); err != nil {
		return "", err
	}
	for _, name := range notKept {
		delete(all, name)
	}
	out, err := json.Marshal(all)
	return string(out), err
}
