//go:build !js && !nosqlite

package season

import (
	"cmp"
	"database/sql"
	"fmt"
	"maps"
	"slices"
)

// corrections tell of visits, by their digests, how often each came and went: once where
// none is told, an even number where others took its place. Of two seasons the larger number
// counts, so that a merge is the same whatever comes first, and an older copy brings
// nothing back (Yu and Rostad 2020, A low-cost set CRDT based on causal lengths, PaPoC;
// from memory).
type corrections map[string]Correction

// note takes in what another season, or a later row, tells.
func (c corrections) note(more ...Correction) {
	for _, m := range more {
		known := c[m.Digest]
		if cmp.Or(cmp.Compare(m.Times, known.Times), cmp.Compare(m.By, known.By)) > 0 {
			c[m.Digest] = m
		}
	}
}

func (c corrections) times(digest string) int64 { return max(c[digest].Times, 1) }

func even(n int64) bool { return n%2 == 0 }

// stands reports whether a visit counts. Of those that each took the place of the next in a
// circle, each in another season, all do: so no field's day is lost.
func (c corrections) stands(digest string) bool {
	if !even(c.times(digest)) {
		return true
	}
	seen := map[string]bool{}
	for at := c[digest].By; even(c.times(at)) && !seen[at]; at = c[at].By {
		if at == digest {
			return true
		}
		seen[at] = true
	}
	return false
}

// inPlaceOf are the digests of what took the place of a visit, and of that, and so on.
func (c corrections) inPlaceOf(digest string) (all []string) {
	for at := digest; even(c.times(at)) && !slices.Contains(all, c[at].By); at = c[at].By {
		all = append(all, c[at].By)
	}
	return all
}

// sorted are all of them in the order of their digests.
func (c corrections) sorted() []Correction {
	return slices.SortedFunc(maps.Values(c), func(a, b Correction) int { return cmp.Compare(a.Digest, b.Digest) })
}

// Corrections are what is known of visits that others took the place of, and of those that
// came back, in the order of their digests. None of them takes out what a database shows: a
// role that sees no visit of another's might have written it.
func (s *Season) Corrections() ([]Correction, error) {
	all, err := s.corrections(s.q)
	if err != nil {
		return nil, s.wrap(err)
	}
	if s.ordered() || len(all) == 0 {
		return all.sorted(), nil
	}
	there, err := s.numbered()
	if err != nil {
		return nil, err
	}
	for _, m := range there {
		if !all.stands(m.digest) {
			delete(all, m.digest)
		}
	}
	return all.sorted(), nil
}

// corrections are those that are stored. A row that is not as this program writes it counts
// for nothing.
func (s *Season) corrections(q querier) (corrections, error) {
	all := corrections{}
	if s.format < 6 {
		return all, nil
	}
	rows, err := q.Query(`SELECT digest, times, by_digest, sha256 FROM corrections`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var c Correction
		var sum string
		if err := rows.Scan(&c.Digest, &c.Times, &c.By, &sum); err != nil {
			return nil, err
		}
		if sum == c.sum() && c.Times > 0 && c.Times <= mostTimes {
			all.note(c)
		}
	}
	return all, rows.Err()
}

// mostTimes is more often than anybody corrects a visit, and far from the largest number.
const mostTimes = 1 << 40

func (c Correction) sum() string { return sumOf(c.Digest, fmt.Sprint(c.Times), c.By) }

func insertCorrection(tx *sql.Tx, as int64, c Correction) error {
	_, err := insertRow(tx, "corrections", as, []string{"digest", "times", "by_digest", "sha256"}, []any{c.Digest, c.Times, c.By, c.sum()})
	return err
}

// corrected notes that visits of some digests made room for one of another, or that this
// one came back.
func (s *Season) corrected(tx *sql.Tx, old []string, by string) error {
	known, err := s.corrections(tx)
	if err != nil {
		return err
	}
	var fresh []Correction
	if even(known.times(by)) && !known.stands(by) {
		fresh = append(fresh, Correction{Digest: by, Times: known.times(by) + 1})
	}
	for _, digest := range old {
		if digest == by {
			continue
		}
		times := known.times(digest) + 1
		if !even(times) {
			times++
		}
		fresh = append(fresh, Correction{digest, times, by})
	}
	for _, c := range fresh {
		if err := insertCorrection(tx, 0, c); err != nil {
			return err
		}
	}
	return nil
}
