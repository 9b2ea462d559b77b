//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"reflect"

	"github.com/geocoris/geocoris/internal/files/keyed"
)

// File is a file of settings that [Settings.Take] reads back: what was asked for, less
// the folder that is written to. Paths in it are as they stand.
func (o Settings) File() ([]byte, error) {
	o.Out = ""
	return savedSettings("map", o, Defaults())
}

// File is a file of settings that [HandoffSettings.Take] reads back.
func (o HandoffSettings) File() ([]byte, error) {
	return savedSettings("handoff", o, HandoffDefaults())
}

func savedSettings(command string, settings, defaults any) ([]byte, error) {
	asked, err := byNames(settings)
	if err != nil {
		return nil, err
	}
	usual, err := byNames(defaults)
	if err != nil {
		return nil, err
	}
	for name, value := range asked {
		if value == nil || value == "" || reflect.DeepEqual(value, usual[name]) {
			delete(asked, name)
		}
	}
	text, err := keyed.Encode(asked)
	return fmt.Appendf(nil, "# for geocoris %s --settings\n%s", command, text), err
}

// byNames are settings by their names, as JSON has them.
func byNames(settings any) (values map[string]any, err error) {
	text, err := json.Marshal(settings)
	if err != nil {
		return nil, err
	}
	return values, json.Unmarshal(text, &values)
}
