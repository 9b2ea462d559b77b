//go:build !js && !nosqlite

package season

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// AddInPlace stores a visit as [Season.AddDay] does, in place of the visits of the numbers
// given, whatever their days, all at once. Where another visit is the same already, those
// are taken out and its number is returned, if they tell of the same day or counts. A visit
// that another author brought is a [HeldError]. replaced are all that were taken out.
func (s *Season) AddInPlace(v Visit, replace bool, visits ...int64) (id int64, replaced []int64, err error) {
	err = s.update(func(tx *sql.Tx) error {
		id, replaced, err = s.addInPlace(tx, v, replace, visits)
		return err
	})
	if id, err = s.added(id, err); err != nil {
		return id, nil, err
	}
	return id, replaced, nil
}

func (s *Season) addInPlace(tx *sql.Tx, v Visit, replace bool, visits []int64) (id int64, replaced []int64, err error) {
	if v.Author, err = s.signed(tx, v.Author); err != nil {
		return 0, nil, err
	}
	stood, err := s.heldDays(tx, daysOf(v))
	if err != nil {
		return 0, nil, err
	}
	id, err = s.already(tx, v)
	twin := errors.Is(err, ErrKnown)
	if err != nil && (!twin || slices.Contains(visits, id)) {
		return id, nil, err
	}
	var out []outgoing
	for _, n := range visits {
		if slices.Contains(numbersOf(out), n) {
			continue
		}
		if err := s.mayGo(tx, n, v, id); err != nil {
			return 0, nil, err
		}
		gone, err := s.makeRoom(tx, n, v)
		if err != nil {
			return 0, nil, err
		}
		out = append(out, gone)
	}
	if !twin {
		more, err := s.rivals(tx, v, replace, append(numbersOf(out), besideThem(stood, numbersOf(out), v, replace)...))
		if err != nil {
			return 0, nil, err
		}
		out = append(out, more...)
		if id, err = s.insert(tx, 0, v); err != nil {
			return 0, nil, err
		}
	}
	if err := s.allReplaced(tx, out, id, digest(v)); err != nil {
		return 0, nil, err
	}
	return id, numbersOf(out), s.describe(tx, change{all: true})
}

// besideThem are the visits that a new one in place of others may stand beside, as those did:
// that hold no day but those that these hold too. With replace its own author's are none.
func besideThem(stood []HeldError, out []int64, v Visit, replace bool) (beside []int64) {
	type key struct{ field, date string }
	held, denied := map[key]bool{}, map[int64]bool{}
	for _, h := range stood {
		if slices.Contains(out, h.Visit) {
			held[key{h.Field, h.Date}] = true
		}
	}
	for _, h := range stood {
		if !held[key{h.Field, h.Date}] || replace && (h.By == "" || h.By == v.Author) {
			denied[h.Visit] = true
		}
	}
	for _, h := range stood {
		if !denied[h.Visit] {
			beside = append(beside, h.Visit)
		}
	}
	return beside
}

// rivals are the visits that tell of a day of a visit's fields, or hold its counts under
// another day, but for those that are on their way out. With replace they are taken out;
// else the first is a [HeldError].
func (s *Season) rivals(tx *sql.Tx, v Visit, replace bool, without []int64) (out []outgoing, err error) {
	held, err := s.alike(tx, v)
	if err != nil {
		return nil, err
	}
	held = slices.DeleteFunc(held, func(h HeldError) bool {
		return slices.Contains(without, h.Visit) || h.Same && h.Date == v.Date // such as two of no day
	})
	if len(held) == 0 {
		return nil, nil
	}
	if err := s.tellParts(tx, held, v); err != nil {
		return nil, err
	}
	if !replace {
		return nil, named(held, v.Author)
	}
	if held, err = replaceable(held, v.Author); err != nil {
		return nil, err
	}
	if slices.ContainsFunc(held, func(h HeldError) bool { return h.Parts != "" }) { // half a walk would be gone
		return nil, named(slices.DeleteFunc(held, func(h HeldError) bool { return h.Parts == "" }), v.Author)
	}
	for _, h := range held {
		if slices.Contains(numbersOf(out), h.Visit) {
			continue
		}
		gone, err := s.makeRoom(tx, h.Visit, v)
		if err != nil {
			return nil, err
		}
		out = append(out, gone)
	}
	return out, nil
}

// named is the error of the first visit held that its author may replace, else of the first,
// with all its fields of that day.
func named(held []HeldError, author string) *HeldError {
	h := held[max(0, slices.IndexFunc(held, func(h HeldError) bool { return h.By == "" || h.By == author }))]
	if h.By != author {
		h.Anothers = h.By
	}
	h.By = ""
	var fields []string
	for _, other := range held {
		if other.Visit == h.Visit && other.Same == h.Same && other.Date == h.Date && !slices.Contains(fields, other.Field) {
			fields = append(fields, other.Field)
		}
	}
	h.Field = strings.Join(fields, ", ")
	return &h
}

// alike are the visits that tell of a day of a visit's fields, or hold its counts.
func (s *Season) alike(tx *sql.Tx, v Visit) ([]HeldError, error) {
	held, err := s.heldDays(tx, daysOf(v))
	if err != nil {
		return nil, err
	}
	same, err := s.sameCounts(tx, v)
	if err != nil {
		return nil, err
	}
	redated, err := s.sameStops(tx, v)
	return slices.Concat(held, same, redated), err
}

// mayGo is an error where a visit asked for by its number is not there, or is another
// author's, or has nothing to do with v, which is stored already under the number of twin;
// 0 where it is not.
func (s *Season) mayGo(tx *sql.Tx, visit int64, v Visit, twin int64) error {
	var author string
	err := tx.QueryRow(`SELECT author FROM visits WHERE id = $1 AND `+s.live(`visits.id`), visit).Scan(&author)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return fmt.Errorf("there is no visit %d; season list shows those there are", visit)
	case err != nil:
		return err
	case author != "" && author != v.Author:
		return &HeldError{Visit: visit, By: author}
	case twin == 0:
		return nil
	}
	alike, err := s.alike(tx, v)
	if err == nil && !slices.ContainsFunc(alike, func(h HeldError) bool { return h.Visit == visit }) {
		err = &HeldError{Visit: visit, Twin: twin}
	}
	return err
}

// makeRoom takes a visit out for another one that tells of all its fields.
func (s *Season) makeRoom(tx *sql.Tx, visit int64, by Visit) (gone outgoing, err error) {
	if err := leaves(tx, visit, by); err != nil {
		return gone, err
	}
	gone.visit = visit
	if err := tx.QueryRow(`SELECT digest FROM visits WHERE id = $1`, visit).Scan(&gone.digest); err != nil {
		return gone, err
	}
	return gone, s.replace(tx, visit)
}

// sameCounts are the visits of a field of v whose files are those of v byte for byte.
func (s *Season) sameCounts(tx *sql.Tx, v Visit) (same []HeldError, err error) {
	var own []string
	for _, f := range v.Files {
		own = append(own, f.sum())
	}
	if len(own) == 0 {
		return nil, nil
	}
	slices.Sort(own)
	others, err := s.sumsWith(tx, own[0])
	if err != nil {
		return nil, err
	}
	for _, c := range others {
		slices.Sort(c.sums)
		if !slices.Equal(c.sums, own) {
			continue
		}
		if shared, err := sharesField(tx, c.visit, v); err != nil {
			return nil, err
		} else if shared {
			same = append(same, HeldError{Visit: c.visit, Date: c.date, By: c.author, Same: true})
		}
	}
	return same, nil
}

// summed is a visit with the digests of its files.
type summed struct {
	visit        int64
	date, author string
	sums         []string
}

// sumsWith are the visits that have a file of a digest, in the order of their numbers.
func (s *Season) sumsWith(tx *sql.Tx, sum string) (all []summed, err error) {
	rows, err := tx.Query(`SELECT visits.id, visits.date, visits.author, files.sha256 FROM visits JOIN files ON files.visit_id = visits.id
		WHERE visits.id IN (SELECT visit_id FROM files WHERE sha256 = $1) AND `+s.live(`visits.id`)+` ORDER BY visits.id`, sum)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var c summed
		var sum string
		if err := rows.Scan(&c.visit, &c.date, &c.author, &sum); err != nil {
			return nil, err
		}
		if last := len(all) - 1; last < 0 || all[last].visit != c.visit {
			all = append(all, c)
		}
		last := &all[len(all)-1]
		last.sums = append(last.sums, sum)
	}
	return all, rows.Err()
}

// sharesField reports whether two visits tell of one field.
func sharesField(tx *sql.Tx, visit int64, v Visit) (shared bool, err error) {
	for _, field := range scouted(v) {
		if err := tx.QueryRow(`SELECT count(*) > 0 FROM stops WHERE visit_id = $1 AND field = $2`, visit, field).Scan(&shared); err != nil || shared {
			return shared, err
		}
	}
	return false, nil
}

// scouted are the names of the fields that a visit has stops in.
func scouted(v Visit) (fields []string) {
	for _, stop := range v.Stops {
		name, _ := stop.Properties.Get("field")
		if field, _ := name.(string); field != "" && !slices.Contains(fields, field) {
			fields = append(fields, field)
		}
	}
	return fields
}
