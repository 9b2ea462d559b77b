//go:build !js && !nosqlite

package season

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// Merge takes the visits, treatments and fields of other seasons in, all of them or, with
// an error, none. A visit that is there already, the same counts with the same settings,
// stays one; one that differs is kept beside. What comes of it does not depend on the order
// in which seasons are merged, nor does it change when one is merged again: so visits are
// numbered anew by their days, treatments too, and fields stand in the order of their names.
// A database keeps its numbers and what it has: what is new gets the next ones, and a visit
// of which more is known now is there anew, in place of what it was.
// A field of one name has one boundary; two are a [BoundaryError].
func (s *Season) Merge(from ...Source) (m Merged, err error) {
	moved := false
	err = s.update(func(tx *sql.Tx) error {
		m = Merged{}
		g := merging{tx: tx, Season: &Season{q: tx, name: s.name, format: s.format, store: s.store}, Merged: &m}
		err := g.run(from)
		moved = g.moved
		return err
	})
	var other *BoundaryError
	switch {
	case errors.As(err, &other):
		return Merged{}, other
	case err != nil:
		return Merged{}, s.wrap(err)
	}
	if moved {
		s.pack()
	}
	return m, nil
}

// pack puts rows together that numbering anew left scattered over many pages. What was
// merged is on the disk already: a file that cannot be packed now, as another program reads
// it, stays as it is.
func (s *Season) pack() { _, _ = s.db.Exec(`VACUUM`) }

// merging is a season while others are merged into it.
type merging struct {
	*Season
	tx      *sql.Tx
	changed bool
	moved   bool        // rows have other numbers than before
	own     corrections // of the season, before
	all     corrections // of all of them
	*Merged
}

func (g *merging) run(from []Source) error {
	before, err := g.List()
	if err != nil {
		return err
	}
	if err := g.fields(from); err != nil {
		return err
	}
	if err := g.corrections(from); err != nil {
		return err
	}
	if g.ordered() { // before others take their place
		if err := g.outdated(); err != nil {
			return err
		}
	}
	for _, other := range from {
		if err := g.visitsOf(other); err != nil {
			return fmt.Errorf("%s: %w", other.Name, err)
		}
	}
	if !g.ordered() { // once those are there that take their place
		if err := g.outdated(); err != nil {
			return err
		}
	}
	if err := g.keepCorrections(); err != nil {
		return err
	}
	if err := g.treatments(from); err != nil {
		return err
	}
	if err := g.number(); err != nil {
		return err
	}
	slices.SortFunc(g.Lost, func(a, b Loss) int {
		return cmp.Or(cmp.Compare(a.Field, b.Field), cmp.Compare(a.What, b.What), cmp.Compare(a.Left, b.Left))
	})
	g.Lost = slices.Compact(g.Lost)
	moved := g.Renumbered
	g.Renumbered = nil
	for _, r := range moved {
		if slices.ContainsFunc(before, func(l Line) bool { return l.ID == r.From }) {
			g.Renumbered = append(g.Renumbered, r)
		}
	}
	if g.Merged.Beside, err = g.Season.Beside(); err != nil || !g.changed {
		return err
	}
	return g.describe(g.tx, change{all: true})
}

// fields takes in the fields that are not there yet, once it is known that all that have a
// name have one boundary.
func (g *merging) fields(from []Source) error {
	first, in, named := map[string]geo.Field{}, map[string]string{}, map[string][]string{}
	var others []OtherBoundary
	type outline struct {
		name     string
		boundary []byte
	}
	var fresh []outline
	for i, source := range slices.Concat([]Source{{g.name, g.Season}}, from) {
		fields, err := source.Fields()
		if err != nil {
			return err
		}
		for _, f := range fields {
			geom, err := blob(f.Boundary)
			if err != nil {
				return fmt.Errorf("%s: field %q: %w", source.Name, f.Name, err)
			}
			known, there := first[f.Name]
			switch {
			case !there:
				first[f.Name], in[f.Name] = f, source.Name
				named[string(geom)] = append(named[string(geom)], f.Name)
				if i > 0 {
					fresh = append(fresh, outline{f.Name, geom})
				}
			case !slices.Contains(named[string(geom)], f.Name):
				others = append(others, OtherBoundary{f.Name, [2]string{in[f.Name], source.Name}, [2]geo.Field{known, f}})
			}
		}
	}
	if len(others) > 0 {
		return &BoundaryError{others}
	}
	for _, f := range fresh {
		g.changed = true
		if _, err := g.fieldID(g.tx, f.name, f.boundary); err != nil {
			return err
		}
	}
	for _, names := range named {
		if len(names) > 1 {
			slices.Sort(names)
			g.Alike = append(g.Alike, names)
		}
	}
	slices.SortFunc(g.Alike, slices.Compare[[]string])
	return nil
}

// visitsOf takes in the visits of a season that are not there yet; of those that are it
// takes what they know besides.
func (g *merging) visitsOf(from Source) error {
	lines, err := from.List()
	if err != nil {
		return err
	}
	told, err := from.Corrections()
	if err != nil {
		return err
	}
	theirs := corrections{}
	theirs.note(told...)
	for _, l := range lines {
		v, err := from.Whole(l.ID)
		if err != nil {
			return err
		}
		if !g.all.brings(theirs, digest(v)) {
			g.older(v)
			continue
		}
		v.Author = Authors(v.Author)
		if err := g.visit(v); err != nil {
			return fmt.Errorf("visit %d: %w", l.ID, err)
		}
	}
	return nil
}

// older notes a visit that is left out, once.
func (g *merging) older(v Visit) {
	old := OlderVisit{v.Date, scouted(v), Authors(v.Author), digest(v)}
	if !slices.ContainsFunc(g.Older, func(o OlderVisit) bool { return o.digest == old.digest }) {
		g.Older = append(g.Older, old)
	}
}

func (g *merging) visit(v Visit) error {
	id, err := g.already(g.tx, v)
	switch {
	case err == nil:
		g.Visits++
		g.changed = true
		_, err = g.insert(g.tx, 0, v)
		return err
	case !errors.Is(err, ErrKnown):
		return err
	}
	g.Known++
	own, err := g.Whole(id)
	if err != nil {
		return err
	}
	both, lost := joined(own, v)
	g.Lost = append(g.Lost, lost...)
	if same(own, both) {
		return nil
	}
	g.changed = true
	return g.inPlace(id, both)
}

// inPlace puts what is known of a visit now in the place of what was: under its number, or,
// where what was added stays, under the next one.
func (g *merging) inPlace(old int64, v Visit) error {
	if err := g.replace(g.tx, old); err != nil {
		return err
	}
	as := old
	if !g.ordered() {
		as = 0
	}
	id, err := g.insert(g.tx, as, v)
	if err != nil {
		return err
	}
	if id != old {
		g.moves(old, id)
	}
	return g.replaced(g.tx, old, id)
}

// moves notes the number of a visit; of one that moved before, where it came from at first.
func (g *merging) moves(from, to int64) {
	if i := slices.IndexFunc(g.Renumbered, func(r Renumbered) bool { return r.To == from }); i >= 0 {
		g.Renumbered[i].To = to
		return
	}
	g.Renumbered = append(g.Renumbered, Renumbered{from, to})
}

// A treated is a treatment with its ground as a file has it, the digest of both, and that
// of the same treatment however its ground is drawn.
type treated struct {
	Record
	ground    []byte
	sum, same string
}

func treatedOf(records []Record) (all []treated, err error) {
	for _, r := range records {
		ground, err := blob(r.Ground)
		if err != nil {
			return nil, fmt.Errorf("treatment of %s: %w", r.Date, err)
		}
		same, err := r.same()
		if err != nil {
			return nil, fmt.Errorf("treatment of %s: %w", r.Date, err)
		}
		all = append(all, treated{r, ground, r.sum(ground), same})
	}
	return all, nil
}

// treatments takes in the treatments that are not there yet; one that is there twice is one,
// in a file with its ground as the lesser of the digests has it.
func (g *merging) treatments(from []Source) error {
	records, err := g.Records()
	if err != nil {
		return err
	}
	there, err := treatedOf(records)
	if err != nil {
		return err
	}
	all := map[string]treated{}
	for _, r := range there {
		all[r.same] = lesser(all, r)
	}
	for _, source := range from {
		records, err := source.Records()
		if err != nil {
			return fmt.Errorf("%s: %w", source.Name, err)
		}
		theirs, err := treatedOf(records)
		if err != nil {
			return err
		}
		for _, r := range theirs {
			if _, known := all[r.same]; known {
				g.KnownGround++
			} else {
				g.Treatments++
			}
			all[r.same] = lesser(all, r)
		}
	}
	if !g.ordered() {
		return g.addRecords(all, there)
	}
	return g.writeRecords(all, there)
}

// lesser is a treatment, or the same of all where that one has the lesser digest.
func lesser(all map[string]treated, r treated) treated {
	if other, known := all[r.same]; known && other.sum < r.sum {
		return other
	}
	return r
}

// addRecords adds treatments, by their digests, that are not among those there are.
func (g *merging) addRecords(all map[string]treated, there []treated) error {
	for _, r := range there {
		delete(all, r.same)
	}
	for _, r := range inOrder(all) {
		g.changed = true
		if _, err := g.insertRecord(g.tx, 0, r.Record, r.ground); err != nil {
			return err
		}
	}
	return nil
}

// inOrder are treatments by their days, then by their digests.
func inOrder(all map[string]treated) []treated {
	return slices.SortedFunc(maps.Values(all), func(a, b treated) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.sum, b.sum))
	})
}

// writeRecords puts treatments, by their digests, in place of those there are, where that
// changes anything.
func (g *merging) writeRecords(all map[string]treated, there []treated) error {
	ordered := inOrder(all)
	unmoved := slices.EqualFunc(ordered, there, func(a, b treated) bool { return a.sum == b.sum })
	var mostID int
	if err := g.tx.QueryRow(`SELECT coalesce(max(id), 0) FROM records`).Scan(&mostID); err != nil {
		return err
	}
	if unmoved && mostID == len(ordered) {
		return nil
	}
	g.changed = true
	if _, err := g.tx.Exec(`DELETE FROM records`); err != nil {
		return err
	}
	for i, r := range ordered {
		if _, err := g.insertRecord(g.tx, int64(i+1), r.Record, r.ground); err != nil {
			return err
		}
	}
	return nil
}
