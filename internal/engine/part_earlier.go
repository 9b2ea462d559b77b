//go:build !small

package engine

import "encoding/json"

// Loses names a field that a folder holds of a boundary and that a map of some of its fields
// would not write anew: it would be gone. "" is none, as of another boundary and of what is
// no record of map.
func (f MapFolder) Loses(boundary Source, all, written []string) string {
	var run keptRecord
	if json.Unmarshal(f.Run.Content, &run) != nil || run.Program != Program || run.Command != "map" {
		return ""
	}
	if _, of, _ := run.read(); of == nil || of.SHA256 != InputOf(boundary).SHA256 {
		return ""
	}
	var held []string
	if json.Unmarshal(run.Settings["only"], &held) != nil || held == nil {
		held = all
	}
	anew := make(map[string]bool, len(written))
	for _, name := range written {
		anew[name] = true
	}
	for _, name := range held {
		if !anew[name] {
			return name
		}
	}
	return ""
}
