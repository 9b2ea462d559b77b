//go:build !small

package engine

import (
	"encoding"
	"reflect"
	"strings"
)

// inLists are what may stand in settings that are lists.
var inLists = map[string]string{"fix": "swap", "mend": "swap", "write": "report"}

// wanted says what kind of value a setting takes, "" where no setting is called so.
func wanted(name string) string {
	of := settingOf(reflect.TypeFor[earlierSettings](), name)
	if of == nil {
		return ""
	}
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	switch {
	case reflect.PointerTo(of).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		return "a number or a text in quotes"
	case of.Kind() == reflect.Slice && inLists[name] != "":
		return "a list, such as " + name + ` = ["` + inLists[name] + `"]`
	case of.Kind() == reflect.Slice:
		return "a list of texts in quotes, in square brackets"
	case of.Kind() == reflect.Bool:
		return "true or false"
	case of.Kind() == reflect.String:
		return "a text in quotes"
	}
	return "a number"
}

// settingOf is the type of the setting of a name; nil for none.
func settingOf(of reflect.Type, name string) reflect.Type {
	for i := range of.NumField() {
		f := of.Field(i)
		if f.Anonymous {
			inner := f.Type
			if inner.Kind() == reflect.Pointer {
				inner = inner.Elem()
			}
			if t := settingOf(inner, name); t != nil {
				return t
			}
		} else if tag, _, _ := strings.Cut(f.Tag.Get("toml"), ","); tag == name {
			return f.Type
		}
	}
	return nil
}
