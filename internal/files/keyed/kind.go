//go:build !small

package keyed

import (
	"encoding"
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

// wanted says what kind of value a name takes, "" where none is called so.
func (f File) wanted(to any, key []string) string {
	of := reflect.TypeOf(to)
	for _, part := range key {
		if of = member(inner(of), part); of == nil {
			return ""
		}
	}
	if len(key) == 0 {
		return ""
	}
	return f.kind(of, key[len(key)-1])
}

// anywhere is wanted of a name in whatever table.
func (f File) anywhere(to any, name string) string {
	if of := find(inner(reflect.TypeOf(to)), name, 3); of != nil {
		return f.kind(of, name)
	}
	return ""
}

func (f File) kind(of reflect.Type, name string) string {
	for of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	switch {
	case of.Kind() != reflect.Struct && isText(of) && of.Kind() != reflect.String, of.Kind() == reflect.Struct && isText(of):
		return "a number or a text in quotes"
	case of.Kind() == reflect.String && isText(of):
		return "a text in quotes"
	case of.Kind() == reflect.Slice && f.Lists[name] != "":
		return fmt.Sprintf("a list, such as %s = [%q]", name, f.Lists[name])
	case of.Kind() == reflect.Slice && inner(of).Kind() == reflect.Struct:
		return "tables, in square brackets"
	case of.Kind() == reflect.Slice:
		return "a list of texts in quotes, in square brackets"
	case of.Kind() == reflect.Bool:
		return "true or false"
	case of.Kind() == reflect.String:
		return "a text in quotes"
	case of.Kind() == reflect.Struct:
		return "a table: [" + name + "] on a line of its own, its names below"
	case of.Kind() >= reflect.Uint && of.Kind() <= reflect.Uint64:
		return "a whole number of 0 or more"
	case of.Kind() >= reflect.Int && of.Kind() <= reflect.Int64:
		return "a whole number"
	}
	return "a number"
}

func isText(of reflect.Type) bool {
	return reflect.PointerTo(of).Implements(reflect.TypeFor[encoding.TextUnmarshaler]())
}

// inner is what pointers and lists hold.
func inner(of reflect.Type) reflect.Type {
	for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice {
		of = of.Elem()
	}
	return of
}

// member is the type under a name of a struct, nil for none.
func member(of reflect.Type, name string) reflect.Type {
	if of.Kind() != reflect.Struct {
		return nil
	}
	for i := range of.NumField() {
		field := of.Field(i)
		if field.Anonymous {
			if found := member(inner(field.Type), name); found != nil {
				return found
			}
		} else if tag, _, _ := strings.Cut(field.Tag.Get("toml"), ","); tag == name {
			return field.Type
		}
	}
	return nil
}

// find is member, of the tables within too, so many deep.
func find(of reflect.Type, name string, deep int) reflect.Type {
	if found := member(of, name); found != nil || deep == 0 || of.Kind() != reflect.Struct {
		return found
	}
	for i := range of.NumField() {
		if found := find(inner(of.Field(i).Type), name, deep-1); found != nil {
			return found
		}
	}
	return nil
}

var assigned = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\s*)([A-Za-z0-9_-]+)(\s*=\s*)\S`) })

// refusing finds the line whose value a type refuses with an error that tells no place: each
// is tried by itself. line is 0 where none does.
func (f File) refusing(to any, err error) (line, column int, name string) {
	for i := range strings.Count(string(f.Text), "\n") + 1 {
		text := lineOf(f.Text, i+1)
		m := assigned().FindStringSubmatch(text)
		if m == nil {
			continue
		}
		alone := reflect.New(inner(reflect.TypeOf(to)))
		if initial := reflect.ValueOf(to); initial.Kind() == reflect.Pointer && initial.Elem().Kind() == reflect.Struct {
			ready(alone.Elem())
		}
		if e := toml.Unmarshal([]byte(text), alone.Interface()); e != nil && bare(e) == bare(err) {
			return i + 1, len(m[1]) + len(m[2]) + len(m[3]) + 1, m[2]
		}
	}
	return 0, 0, ""
}

// words lets values that are texts read themselves, which the reader of TOML leaves out.
func (f File) words(v reflect.Value) error {
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	if v.Kind() != reflect.Struct {
		return nil
	}
	for i := range v.NumField() {
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("toml"), ",")
		one := v.Field(i)
		if one.Kind() != reflect.String || !isText(one.Type()) || !one.CanSet() {
			if err := f.words(one); err != nil {
				return err
			}
			continue
		}
		line, column := f.lineOfName(name)
		if line == 0 {
			continue // it is not of the file
		}
		if err := one.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(one.String())); err != nil {
			return &Error{Text: f.at(line, column, name+": "+bare(err))}
		}
	}
	return nil
}

// lineOfName is where a name is given its value; 0 for nowhere.
func (f File) lineOfName(name string) (line, column int) {
	for i := range strings.Count(string(f.Text), "\n") + 1 {
		if m := assigned().FindStringSubmatch(lineOf(f.Text, i+1)); m != nil && m[2] == name {
			return i + 1, len(m[1]) + len(m[2]) + len(m[3]) + 1
		}
	}
	return 0, 0
}

// ready makes the structs that embedded pointers point to.
func ready(v reflect.Value) {
	for i := range v.NumField() {
		if f := v.Field(i); v.Type().Field(i).Anonymous && f.Kind() == reflect.Pointer && f.CanSet() {
			f.Set(reflect.New(f.Type().Elem()))
		}
	}
}
