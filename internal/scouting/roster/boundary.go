package roster

import (
	"fmt"
	"regexp"

	"github.com/geocoris/geocoris/geo"
)

// On is the list for the fields of a boundary: an entry of one of them is called as the
// field is there. Entry and field go together by name and grower where both tell one, so
// that two growers may call a field alike; the boundary's second "Home" is "Home (2)".
// A list that gives a field another grower than the boundary does is an error.
func (l List) On(fields []geo.Field) (List, error) {
	on := l
	on.Entries = nil
	at := map[string]Entry{}
	for _, e := range l.Entries {
		f, ok, err := fieldOf(e, fields)
		if err != nil {
			return l, err
		}
		if !ok { // which Compare tells
			on.Entries = append(on.Entries, e)
			continue
		}
		if before, twice := at[f.Name]; twice {
			return l, standsTwice(e, before)
		}
		at[f.Name] = e
		e.Field = f.Name
		on.Entries = append(on.Entries, e)
	}
	return on, nil
}

// fieldOf is the field that an entry is of; ok is false where there is none.
func fieldOf(e Entry, fields []geo.Field) (of geo.Field, ok bool, err error) {
	for _, f := range fields {
		switch {
		case key(f.Name) == key(e.Field) && (e.Grower == "" || key(e.Grower) == key(f.Customer)):
			return f, true, nil
		case key(f.Name) == key(e.Field):
			of, ok = f, true
		}
	}
	for _, f := range fields {
		if e.Grower != "" && key(unnumbered(f.Name, fields)) == key(e.Field) && key(e.Grower) == key(f.Customer) {
			return f, true, nil
		}
	}
	if ok && of.Customer != "" {
		return of, false, fmt.Errorf("%s: field %q is of grower %q, and the boundary says %q", e.At, e.Field, e.Grower, of.Customer)
	}
	return of, ok, nil
}

var numbered = regexp.MustCompile(`^(.+) \(\d+\)$`)

// unnumbered is what a field is called in its file where it got a number for having the name
// of another; else its name.
func unnumbered(name string, fields []geo.Field) string {
	if parts := numbered.FindStringSubmatch(name); parts != nil {
		for _, f := range fields {
			if f.Name == parts[1] {
				return f.Name
			}
		}
	}
	return name
}

// standsTwice tells that two entries are of one field.
func standsTwice(e, before Entry) error {
	if e.Grower == "" || before.Grower == "" || key(e.Grower) == key(before.Grower) {
		return fmt.Errorf("%s: field %q stands at %s already", e.At, e.Field, before.At)
	}
	return fmt.Errorf("%s: field %q stands at %s with another grower, and the boundary tells none", e.At, e.Field, before.At)
}
