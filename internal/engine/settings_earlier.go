package engine

import "encoding/json"

// earlierNames are the names that settings had before, by those they have now. Both are
// read, in files of settings and in records. A season goes on storing the earlier one:
// it knows a visit again by its settings as they were first stored.
var earlierNames = map[string]string{"fix": "mend"}

// NameNow is what a setting is called now that had another name before; else its name.
func NameNow(name string) string {
	for now, earlier := range earlierNames {
		if name == earlier {
			return now
		}
	}
	return name
}

// earlierSettings are settings in a file that may use an earlier name.
type earlierSettings struct {
	*Settings
	Mend []string `toml:"mend"`
}

// adopt takes what was given by an earlier name; ok is false where both names were.
func (e earlierSettings) adopt() (ok bool) {
	switch {
	case e.Mend == nil:
	case e.Fix != nil:
		return false
	default:
		e.Fix = e.Mend
	}
	return true
}

// renamed gives what stands under one name to another.
func renamed(all map[string]json.RawMessage, from, to string) {
	if value, ok := all[from]; ok {
		all[to] = value
		delete(all, from)
	}
}
