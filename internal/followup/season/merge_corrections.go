//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"slices"
)

// corrections reads what both have of corrections, and takes out the visits that others have
// taken the place of.
func (g *merging) corrections(from []Source) (err error) {
	own, err := g.Season.Corrections()
	if err != nil {
		return err
	}
	g.own, g.all = corrections{}, corrections{}
	g.own.note(own...)
	g.all.note(own...)
	for _, source := range from {
		theirs, err := source.Corrections()
		if err != nil {
			return err
		}
		g.all.note(theirs...)
	}
	return nil
}

// brings reports whether a copy of a visit counts, of a season that knows its own
// corrections: it has to be of the last time that it came.
func (c corrections) brings(by corrections, digest string) bool {
	return c.stands(digest) && (even(c.times(digest)) || by.times(digest) == c.times(digest))
}

// outdated takes out the visits that were there and do not count any more, such as those
// that others corrected. In a database what took their place has to be there.
func (g *merging) outdated() error {
	there, err := g.numbered()
	if err != nil {
		return err
	}
	for _, m := range there {
		if g.all.brings(g.own, m.digest) {
			continue
		}
		gone, err := g.takeOut(m)
		if err != nil {
			return err
		}
		if gone && !g.all.stands(m.digest) {
			g.Replaced = append(g.Replaced, m.id)
		}
		g.changed = g.changed || gone
	}
	return nil
}

// takeOut takes out a visit; in a database it stays beside what others have in its place
// where that is not there, or whoever merges may not replace it.
func (g *merging) takeOut(m marked) (gone bool, err error) {
	if g.ordered() {
		return true, g.replace(g.tx, m.id)
	}
	for _, digest := range g.all.inPlaceOf(m.digest) {
		var by int64
		err := g.tx.QueryRow(`SELECT coalesce(min(id), 0) FROM visits WHERE digest = $1 AND `+g.live(`visits.id`), digest).Scan(&by)
		if err != nil {
			return false, err
		}
		if by != 0 {
			return g.where(g.tx, func() error { return g.replaced(g.tx, m.id, by) })
		}
	}
	return false, nil
}

// where does something if whoever is here may.
func (s *Season) where(tx *sql.Tx, f func() error) (done bool, err error) {
	if _, err := tx.Exec(`SAVEPOINT allowed`); err != nil {
		return false, err
	}
	err = f()
	if isDenied(err) {
		_, err = tx.Exec(`ROLLBACK TO SAVEPOINT allowed`)
		return false, err
	}
	return err == nil, err
}

// keepCorrections stores what is known of corrections now: in a file each once and in one
// order, in a database what is new and takes out nothing that is there.
func (g *merging) keepCorrections() error {
	if g.ordered() {
		return g.writeCorrections()
	}
	there, err := g.numbered()
	if err != nil {
		return err
	}
	for _, c := range g.all.sorted() {
		live := slices.ContainsFunc(there, func(m marked) bool { return m.digest == c.Digest })
		if g.own[c.Digest] == c || live && even(c.Times) {
			continue
		}
		if _, err := g.where(g.tx, func() error { return insertCorrection(g.tx, 0, c) }); err != nil {
			return err
		}
	}
	return nil
}

func (g *merging) writeCorrections() error {
	var rows, last int
	if err := g.tx.QueryRow(`SELECT count(*), coalesce(max(id), 0) FROM corrections`).Scan(&rows, &last); err != nil {
		return err
	}
	all := g.all.sorted()
	if rows == len(all) && last == rows && slices.Equal(all, g.own.sorted()) && inOrderOf(g.tx, all) {
		return nil
	}
	g.changed = true
	if _, err := g.tx.Exec(`DELETE FROM corrections`); err != nil {
		return err
	}
	for i, c := range all {
		if err := insertCorrection(g.tx, int64(i+1), c); err != nil {
			return err
		}
	}
	return nil
}

// inOrderOf reports whether corrections stand in a file as they are given.
func inOrderOf(tx *sql.Tx, all []Correction) bool {
	for i, c := range all {
		var digest string
		if err := tx.QueryRow(`SELECT digest FROM corrections WHERE id = $1`, i+1).Scan(&digest); err != nil || digest != c.Digest {
			return false
		}
	}
	return true
}
