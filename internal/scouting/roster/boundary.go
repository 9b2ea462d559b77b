package roster

import (
	"fmt"
	"regexp"
	"slices"
	"sync"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// On is the list for the fields of a boundary: an entry of one of them is called as the
// field is there. Entry and field go together by name and grower where both tell one, so
// that two growers may call a field alike; the boundary's second "Home" is "Home (2)".
// A list that gives a field another grower than the boundary does is an error.
func (l List) On(fields []geo.Field) (List, error) {
	on, known := List{File: l.File, Notes: l.Notes, named: true}, calledAs(fields)
	at := map[string]Entry{}
	for _, e := range l.Entries {
		f, ok, err := known.fieldOf(e)
		if err != nil {
			return l, err
		}
		if !ok { // which Compare tells
			on.put(e)
			continue
		}
		if before, twice := at[f.Name]; twice {
			return l, standsTwice(e, before)
		}
		at[f.Name] = e
		e.Field = f.Name
		on.put(e)
	}
	return on, nil
}

// called are fields by the keys of their names, and of the names that their file has for
// them.
type called struct{ here, there map[string][]geo.Field }

func calledAs(fields []geo.Field) called {
	names := map[string]bool{}
	for _, f := range fields {
		names[f.Name] = true
	}
	c := called{map[string][]geo.Field{}, map[string][]geo.Field{}}
	for _, f := range fields {
		here, there := key(f.Name), key(unnumbered(f.Name, names))
		c.here[here], c.there[there] = append(c.here[here], f), append(c.there[there], f)
	}
	return c
}

// fieldOf is the field that an entry is of; ok is false where there is none.
func (c called) fieldOf(e Entry) (of geo.Field, ok bool, err error) {
	fields := c.here[key(e.Field)]
	ofGrower := func(f geo.Field) bool { return e.Grower == "" || key(e.Grower) == key(f.Customer) }
	if slices.ContainsFunc(fields, ofGrower) {
		fields = slices.DeleteFunc(slices.Clone(fields), func(f geo.Field) bool { return !ofGrower(f) })
	}
	var names []string
	for _, f := range fields {
		names = append(names, f.Name)
	}
	at, err := survey.Named(e.Field, names)
	if err != nil {
		return of, false, fmt.Errorf("%s: field %w", e.At, err)
	}
	if ok = at >= 0; ok {
		if of = fields[at]; ofGrower(of) {
			return of, true, nil
		}
	}
	for _, f := range c.there[key(e.Field)] {
		if e.Grower != "" && key(e.Grower) == key(f.Customer) {
			return f, true, nil
		}
	}
	if ok && of.Customer != "" {
		return of, false, fmt.Errorf("%s: field %q is of grower %q, and the boundary says %q", e.At, e.Field, e.Grower, of.Customer)
	}
	return of, ok, nil
}

var numbered = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(.+) \(\d+\)$`) })

// unnumbered is what a field is called in its file where it got a number for having the name
// of another; else its name.
func unnumbered(name string, names map[string]bool) string {
	if parts := numbered().FindStringSubmatch(name); parts != nil && names[parts[1]] {
		return parts[1]
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
