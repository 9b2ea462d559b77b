//go:build !small

package call

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// commandOf is the command line that does the same as a call: what it takes, then the
// settings that differ from their defaults, by the names of the flags.
func commandOf(command string, from []string, o engine.Settings) string {
	return lineOf(command, from, o, engine.Defaults())
}

// handoffCommandOf is that of handoff, with the folder that it writes.
func handoffCommandOf(from, out string, o engine.HandoffSettings) string {
	return lineOf("handoff", []string{from}, o, engine.HandoffDefaults()) + " --out " + quoted(out)
}

// settingsFile is a file of settings that a command takes in place of its flags.
type settingsFile struct {
	Name    string `json:"name"`
	Text    string `json:"text"`
	Command string `json:"command"`
}

// mapSettings are those of a map, in a file beside the counts.
func mapSettings(samples []string, o engine.Settings) (settingsFile, error) {
	text, err := o.File()
	return settingsFile{"map.toml", string(text), lineOf("map", samples, nil, nil) + " --settings map.toml --out " + quoted(o.Out)}, err
}

// jobSettings are those of a job.
func jobSettings(from, out string, o engine.HandoffSettings) (settingsFile, error) {
	text, err := o.File()
	return settingsFile{"job.toml", string(text), lineOf("handoff", []string{from}, nil, nil) + " --settings job.toml --out " + quoted(out)}, err
}

// first are the flags that stand first, in this order; the others follow by their names.
var first = []string{"field", "out", "swath", "rule", "stage", "treat-at"}

func lineOf(command string, from []string, settings, defaults any) string {
	words := append([]string{"geocoris"}, strings.Fields(command)...)
	for _, name := range from {
		words = append(words, quoted(name))
	}
	asked, usual := valuesOf(settings), valuesOf(defaults)
	names := slices.SortedFunc(maps.Keys(asked), func(a, b string) int {
		if x, y := rank(a), rank(b); x != y {
			return x - y
		}
		return strings.Compare(a, b)
	})
	for _, name := range names {
		if !reflect.DeepEqual(asked[name], usual[name]) {
			words = append(words, flagsOf(name, asked[name])...)
		}
	}
	return strings.Join(words, " ")
}

func rank(name string) int {
	if i := slices.Index(first, name); i >= 0 {
		return i
	}
	return len(first)
}

// valuesOf are settings by their names, as JSON has them.
func valuesOf(settings any) map[string]any {
	var values map[string]any
	text, err := json.Marshal(settings)
	if err == nil {
		err = json.Unmarshal(text, &values)
	}
	if err != nil {
		panic(err) // of our own settings
	}
	return values
}

// flagsOf are the words of a setting; none for one that only a settings file has.
func flagsOf(name string, value any) (words []string) {
	flag := "--" + name
	switch v := value.(type) {
	case nil, map[string]any:
		return nil
	case bool:
		if v {
			return []string{flag}
		}
		return []string{flag + "=false"}
	case float64:
		return []string{flag, strconv.FormatFloat(v, 'f', -1, 64)}
	case []any:
		for _, one := range v {
			words = append(words, flag, quoted(fmt.Sprint(one)))
		}
		return words
	}
	if value == "" {
		return nil
	}
	return []string{flag, quoted(fmt.Sprint(value))}
}

// quoted is a word as shells take it: in double quotes, which those of Windows know too,
// but for the signs that mean something within them.
func quoted(word string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./=:,+@", r)
	}
	switch {
	case word != "" && strings.IndexFunc(word, func(r rune) bool { return !plain(r) }) < 0:
		return word
	case !strings.ContainsAny(word, "\"$`\\!"):
		return `"` + word + `"`
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
