//go:build !small

package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// A season keeps the fields of each visit as they were then. Where one was renamed, split or
// joined since, the last drawing tells whose ground is whose, so that no count is lost under a
// name that is no longer used.

// A stopKeeper is a season that tells at once how many stops each visit has in each field.
type stopKeeper interface {
	KeptStops() (map[int64]map[string]int, error)
}

// keptStops are those of a season by the numbers of its visits; those of fields that are not
// shown are among them. ok is false where it does not tell them.
func keptStops(s SeasonReader) (stops map[int64]map[string]int, ok bool, err error) {
	switch s := s.(type) {
	case without:
		return keptStops(s.SeasonReader)
	case narrowed:
		return keptStops(s.SeasonReader)
	case stopKeeper:
		stops, err = s.KeptStops()
		return stops, true, err
	}
	return nil, false, nil
}

// lastFirst are the fields of a season, those first that were scouted last; those where nobody
// was come behind the others.
func lastFirst(s SeasonReader, fields []geo.Field) ([]geo.Field, error) {
	lines, err := s.List()
	if err != nil {
		return nil, err
	}
	stops, told, err := keptStops(s)
	if err != nil {
		return nil, err
	}
	last := map[string]int{}
	for i, l := range lines {
		in := stops[l.ID]
		if !told {
			v, err := s.Visit(l.ID)
			if err != nil {
				return nil, err
			}
			in = map[string]int{}
			for _, f := range v.Fields {
				in[f.Name] = 1
			}
		}
		for name, n := range in {
			if n > 0 {
				last[name] = i + 1
			}
		}
	}
	sorted := slices.Clone(fields)
	slices.SortStableFunc(sorted, func(a, b geo.Field) int { return last[b.Name] - last[a.Name] })
	return sorted, nil
}

// succession is what fields of a season are by their ground, as they were drawn last.
func succession(s SeasonReader, fields []geo.Field) (boundary.Succession, error) {
	found, err := boundary.Succeed(fields)
	if err != nil || len(found.Redrawn) == 0 {
		return found, err // in whatever order they were drawn
	}
	sorted, err := lastFirst(s, fields)
	if err != nil {
		return found, err
	}
	return boundary.Succeed(sorted)
}

// readSeasonGround takes the fields of a season as they were drawn last, in the order of the
// season, and says which were drawn anew.
func (q CompareRequest) readSeasonGround(v *visits, s SeasonReader) error {
	fields, err := s.Fields()
	if err != nil {
		return err
	}
	drawn, err := succession(s, fields)
	if err != nil {
		return err
	}
	if len(drawn.Redrawn) == 0 {
		v.ground = groundOfSeason(fields)
		return nil
	}
	order := map[string]int{}
	for i, f := range fields {
		order[f.Name] = i
	}
	slices.SortFunc(drawn.Fields, func(a, b geo.Field) int { return order[a.Name] - order[b.Name] })
	v.ground = groundOfSeason(drawn.Fields)
	v.anew = map[string]bool{}
	for _, r := range drawn.Redrawn {
		for _, name := range r.By {
			v.anew[name] = true
		}
		if r.Left == 0 && slices.ContainsFunc(q.Settings.Only, func(name string) bool { return strings.EqualFold(name, r.Name) }) {
			return usage(hinted(fmt.Errorf("--only: field %q was drawn anew, as %s", r.Name, quotedNames(r.By)), "name it so"))
		}
	}
	v.notes = append(v.notes, redrawnNotes(drawn.Redrawn)...)
	return nil
}

// lastNames are the names of fields of a season that were renamed, each with the last name of that
// ground.
func lastNames(s SeasonReader, fields []geo.Field) (map[string]string, error) {
	drawn, err := succession(s, fields)
	last := map[string]string{}
	for _, r := range drawn.Redrawn {
		if r.Same {
			last[r.Name] = r.By[0]
		}
	}
	return last, err
}

// NamesOf are the names that a field of a season has had, by its last one, which stands first.
func NamesOf(s SeasonReader, field string) ([]string, error) {
	fields, err := s.Fields()
	if err != nil {
		return nil, err
	}
	last, err := lastNames(s, fields)
	names := []string{field}
	for _, f := range fields {
		if last[f.Name] == field {
			names = append(names, f.Name)
		}
	}
	return names, err
}

// redrawnNotes say which fields were drawn anew, and what becomes of their counts.
func redrawnNotes(all []boundary.Redrawn) (notes []string) {
	for _, r := range all {
		by := quotedNames(r.By)
		switch {
		case r.Same:
			notes = append(notes, fmt.Sprintf("field %q is field %s by its ground: all their visits are compared under that last name", r.Name, by))
		case r.Left == 0:
			notes = append(notes, fmt.Sprintf("field %q was drawn anew, as %s: its counts are compared by the ground they lie on", r.Name, by))
		default:
			notes = append(notes, fmt.Sprintf("field %q was drawn anew in part, as %s: its counts are compared by the ground they lie on, and of itself %s is left", r.Name, by, figures.Both.Area(r.Left)))
		}
	}
	return notes
}

// quotedNames are names in quotes, as a list.
func quotedNames(names []string) string {
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = fmt.Sprintf("%q", name)
	}
	return listed(quoted)
}

// tellsOf reports whether a visit counts in a field that it was not added with: where its own
// cover the ground of one drawn anew. share is how much of it they do.
func (v *visits) tellsOf(visit season.Visit, f geo.Field) (tells bool, share float64, err error) {
	if !v.anew[f.Name] {
		return false, 0, nil
	}
	share, err = boundary.Covered(f, visit.Fields)
	return boundary.StandsFor(share), share, err
}

// drawnAnew says of the fields of a visit that comes in which of those of the season it draws
// anew, under names that the season does not know.
func drawnAnew(before, now []geo.Field) (notes []string, err error) {
	all, err := boundary.RedrawnBy(notAmong(before, now), notAmong(now, before))
	for _, r := range all {
		if r.Same {
			notes = append(notes, fmt.Sprintf("field %s lies on the same ground as field %q of the season: compare takes them as one field, under its last name; if it was not renamed, name it as before", quotedNames(r.By), r.Name))
		} else {
			notes = append(notes, fmt.Sprintf("field %q of the season is drawn anew here, as %s: compare takes its counts by the ground they lie on", r.Name, quotedNames(r.By)))
		}
	}
	return notes, err
}

// notAmong are the fields whose names none of others has.
func notAmong(fields, others []geo.Field) (some []geo.Field) {
	named := map[string]bool{}
	for _, f := range others {
		named[f.Name] = true
	}
	for _, f := range fields {
		if !named[f.Name] {
			some = append(some, f)
		}
	}
	return some
}
