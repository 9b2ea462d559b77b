//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// Copy adds to a season all that another one shows, in one transaction: fields, visits
// by their numbers with what was worked out for them as it is kept, and treatments. What is
// there already is left as it is. A visit keeps its number where that is free, and whoever
// copies may choose it; one of a field's day that only the other season tells of is a
// [HeldError], and nothing is copied.
func Copy(from, to *Season) (done Copied, err error) {
	fields, err := from.Fields()
	if err != nil {
		return done, err
	}
	numbers, err := from.numbered()
	if err != nil {
		return done, err
	}
	told, err := from.Corrections()
	if err != nil {
		return done, err
	}
	err = to.update(func(tx *sql.Tx) error {
		done = Copied{}
		if numbers, err = to.notReplaced(tx, numbers, told); err != nil {
			return err
		}
		if err := to.copyFields(tx, fields); err != nil {
			return err
		}
		if err := to.copyVisits(tx, from, numbers, &done); err != nil {
			return err
		}
		if err := to.copyCorrections(tx, told); err != nil {
			return err
		}
		if err := to.copyRecords(tx, from, &done); err != nil {
			return err
		}
		return to.describe(tx, change{all: true})
	})
	var held *HeldError
	var theirs *sourceError
	switch {
	case err == nil:
		return done, nil
	case errors.As(err, &held):
		return Copied{}, fmt.Errorf("%s: %w", to.name, held)
	case errors.As(err, &theirs):
		return Copied{}, theirs.error
	}
	return Copied{}, to.wrap(err)
}

// notReplaced are the visits of another season less those in whose place this one has others.
func (s *Season) notReplaced(tx *sql.Tx, visits []marked, told []Correction) (left []marked, err error) {
	all, err := s.corrections(tx)
	if err != nil {
		return nil, err
	}
	theirs := corrections{}
	theirs.note(told...)
	all.note(told...)
	for _, m := range visits {
		if all.brings(theirs, m.digest) {
			left = append(left, m)
		}
	}
	return left, nil
}

// copyCorrections stores what another season knows of corrections and this one does not.
// What is there already is left as it is.
func (s *Season) copyCorrections(tx *sql.Tx, told []Correction) error {
	within := &Season{q: tx, name: s.name, format: s.format, store: s.store}
	there, err := within.numbered()
	if err != nil {
		return err
	}
	known, err := s.corrections(tx)
	if err != nil {
		return err
	}
	for _, c := range told {
		live := slices.ContainsFunc(there, func(m marked) bool { return m.digest == c.Digest })
		if c.Times <= known[c.Digest].Times || live && even(c.Times) {
			continue
		}
		if _, err := s.where(tx, func() error { return insertCorrection(tx, 0, c) }); err != nil {
			return err
		}
	}
	return nil
}

// A sourceError is of the season that is copied, and names it already.
type sourceError struct{ error }

func theirs(err error) error {
	if err == nil {
		return nil
	}
	return &sourceError{err}
}

// A marked is a visit by its number and digest.
type marked struct {
	id     int64
	digest string
}

// numbered are the visits in the order of their numbers.
func (s *Season) numbered() (all []marked, err error) {
	rows, err := s.q.Query(`SELECT id, digest FROM visits WHERE ` + s.live(`visits.id`) + ` ORDER BY id`)
	if err != nil {
		return nil, s.wrap(err)
	}
	defer rows.Close()
	for rows.Next() {
		var m marked
		if err := rows.Scan(&m.id, &m.digest); err != nil {
			return nil, s.wrap(err)
		}
		all = append(all, m)
	}
	if err := rows.Err(); err != nil || s.format >= 6 {
		return all, err
	}
	rows.Close() // the one connection is wanted below
	for i := range all {
		v, err := s.Visit(all[i].id)
		if err != nil {
			return nil, err
		}
		all[i].digest = digest(v)
	}
	return all, nil
}

func (s *Season) copyFields(tx *sql.Tx, fields []geo.Field) error {
	for _, f := range fields {
		geom, err := blob(f.Boundary)
		if err != nil {
			return fmt.Errorf("field %q: %w", f.Name, err)
		}
		if _, err := s.fieldID(tx, f.Name, geom); err != nil {
			return err
		}
	}
	return nil
}

// copyVisits adds the visits of another season that are not there. Two that stand beside
// each other in that one do so here.
func (s *Season) copyVisits(tx *sql.Tx, from *Season, all []marked, done *Copied) error {
	var both []int64 // numbers here of visits that are in both
	var fresh []int64
	seen := map[string]bool{} // SQL may have put the same counts there twice
	for _, m := range all {
		if seen[m.digest] {
			done.Known++
			continue
		}
		seen[m.digest] = true
		here, err := s.withDigest(tx, m.digest)
		switch {
		case errors.Is(err, ErrKnown):
			done.Known++
			both = append(both, here)
		case err != nil:
			return err
		default:
			fresh = append(fresh, m.id)
		}
	}
	keeps, err := s.numbers(tx)
	if err != nil {
		return err
	}
	for _, id := range fresh {
		here, err := s.copyVisit(tx, from, id, keeps, both)
		if err != nil {
			return err
		}
		done.Visits++
		both = append(both, here)
	}
	return nil
}

// copyVisit adds a visit of another season, which may stand beside those of that one.
func (s *Season) copyVisit(tx *sql.Tx, from *Season, id int64, keeps bool, beside []int64) (here int64, err error) {
	v, err := from.Whole(id)
	if err != nil {
		return 0, theirs(err)
	}
	held, err := s.heldDays(tx, daysOf(v))
	if err != nil {
		return 0, err
	}
	for _, h := range held {
		if !slices.Contains(beside, h.Visit) {
			h.By = ""
			return 0, &h
		}
	}
	var taken bool
	if err := tx.QueryRow(`SELECT count(*) > 0 FROM visits WHERE id = $1`, id).Scan(&taken); err != nil {
		return 0, err
	}
	if taken || !keeps {
		id = 0
	}
	return s.insert(tx, id, v)
}

// copyRecords adds the treatments that are not there; two that are the same are two.
func (s *Season) copyRecords(tx *sql.Tx, from *Season, done *Copied) error {
	records, err := from.Records()
	if err != nil {
		return theirs(err)
	}
	within := &Season{q: tx, name: s.name, format: s.format, store: s.store}
	own, err := within.Records()
	if err != nil {
		return err
	}
	here, err := treatedOf(own)
	if err != nil {
		return err
	}
	there := map[string]int{}
	for _, r := range here {
		there[r.same]++
	}
	all, err := treatedOf(records)
	if err != nil {
		return err
	}
	for _, r := range all {
		if there[r.same] > 0 {
			there[r.same]--
			done.KnownBefore++
			continue
		}
		if _, err := s.insertRecord(tx, 0, r.Record, r.ground); err != nil {
			return err
		}
		done.Treatments++
	}
	return nil
}
