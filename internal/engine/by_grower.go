//go:build !small

package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// A GrowerPart is the fields of a grower, and a name for their folder.
type GrowerPart struct {
	Grower string // "" for fields of which no grower is known
	Folder string
	Fields []string
}

// unknownGrower is the folder of fields of which no grower is known.
const unknownGrower = "no-grower"

// ByGrower parts the fields that are asked for by those who grow them, in the order of
// their fields. The notes are what stands in the list of fields or in the boundary alone.
func (q MapRequest) ByGrower() (parts []GrowerPart, notes []string, err error) {
	list, err := q.roster()
	if err != nil {
		return nil, nil, err
	}
	if list.grower() == nil {
		return nil, nil, usage(errors.New("--by-grower wants to know who grows which field: give a file with the columns field and grower by --fields"))
	}
	g, err := q.ground(q.Boundary)
	if err != nil {
		return nil, nil, err
	}
	if len(g.NoField) > 0 { // which the counts may show to be fields
		if _, err := q.read(&g, q.Samples); err != nil {
			return nil, nil, err
		}
	}
	if list, err = q.rosterOn(g.Fields); err != nil {
		return nil, nil, err
	}
	grower := list.grower()
	if notes, err = q.compared(list, g.Fields); err != nil {
		return nil, nil, err
	}
	var names []string
	for _, f := range g.Fields {
		names = append(names, f.Name)
	}
	at, err := assess.Chosen(names, q.Settings.Only)
	if err != nil {
		return nil, nil, usage(fmt.Errorf("--only: %w", err))
	}
	for _, i := range at {
		who := grower(names[i])
		k := slices.IndexFunc(parts, func(p GrowerPart) bool { return strings.EqualFold(p.Grower, who) })
		if k < 0 {
			k, parts = len(parts), append(parts, GrowerPart{Grower: who})
		}
		parts[k].Fields = append(parts[k].Fields, names[i])
	}
	nameFolders(parts)
	return parts, notes, nil
}

// nameFolders gives each a name of its own on any disk.
func nameFolders(parts []GrowerPart) {
	folder := diskNames(unknownGrower)
	for i := range parts {
		if parts[i].Folder = unknownGrower; parts[i].Grower != "" {
			parts[i].Folder = folder(parts[i].Grower)
		}
	}
}

// NobodyThere reports whether nothing was mapped as nobody counted in the fields asked for.
func NobodyThere(err error) bool { return errors.Is(err, assess.ErrNoneThere) }
