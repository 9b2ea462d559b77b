//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
)

// notKept are the settings that no result depends on: where files lie on one
// machine, and how things are shown, which is the reader's to say.
var notKept = [...]string{"field", "out", "units", "language", "strict", "write"}

// storedSettings are settings as a season or a folder of map keeps them, as JSON.
// What they do not name has its default: they may be older than a setting.
func storedSettings(text []byte) (Settings, error) {
	o := Defaults()
	all, err := kept(text)
	if err == nil {
		for now, before := range earlierNames {
			renamed(all, before, now)
		}
		text, err = json.Marshal(all)
	}
	if err == nil {
		err = json.Unmarshal(text, &o)
	}
	if err != nil {
		return o, fmt.Errorf("stored settings: %w", err)
	}
	return o, nil
}

// keptSettings are the settings that make a result, as JSON: not where files lie
// on one machine, nor how things are shown.
func keptSettings(o Settings) (string, error) {
	text, err := json.Marshal(o)
	if err != nil {
		return "", err
	}
	all, err := kept(text)
	if err != nil {
		return "", err
	}
	for now, before := range earlierNames {
		renamed(all, now, before)
	}
	text, err = json.Marshal(all)
	return string(text), err
}

// kept are settings by their names, without what no result depends on.
func kept(text []byte) (all map[string]json.RawMessage, err error) {
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, err
	}
	for _, name := range notKept {
		delete(all, name)
	}
	return all, nil
}
