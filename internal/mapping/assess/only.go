package assess

import (
	"errors"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// ErrNoneThere tells that nobody counted in the fields asked for.
var ErrNoneThere = errors.New("no stop lies in the fields asked for")

// A NoneReadError is [ErrNoneThere] where rows that were not read lie in some of the fields
// asked for, so that somebody counted there.
type NoneReadError struct{ Fields []string }

func (e NoneReadError) Error() string {
	return fmt.Sprintf("no stop could be read in the fields asked for, though rows that could not lie in %s", survey.Listed(e.Fields))
}

// Is makes it an [ErrNoneThere].
func (NoneReadError) Is(target error) bool { return target == ErrNoneThere }

func noneThere(sites []site, rows [][]Unread) error {
	var e NoneReadError
	for i, s := range sites {
		if slices.ContainsFunc(rows[i], func(u Unread) bool { return u.Placed }) {
			e.Fields = append(e.Fields, s.field.Name)
		}
	}
	if e.Fields == nil {
		return ErrNoneThere
	}
	return e
}

// those are which of so many are among some.
func those(at []int, of int) []bool {
	chosen := make([]bool, of)
	for _, i := range at {
		chosen[i] = true
	}
	return chosen
}

// Chosen are the places of the fields asked for, in the order of the fields; all where
// only is nil. A name that no field has is an error that lists those there are, and so is
// one that two fields have but for its case.
func Chosen(fields, only []string) (at []int, err error) {
	asked, names := map[int]bool{}, survey.NewNames(fields)
	for _, name := range only {
		i, err := names.Find(name)
		if err != nil {
			return nil, err
		}
		if i < 0 {
			return nil, fmt.Errorf("no field is called %q; there are %s", name, survey.Listed(fields))
		}
		asked[i] = true
	}
	for i := range fields {
		if only == nil || asked[i] {
			at = append(at, i)
		}
	}
	return at, nil
}

// narrow leaves the fields that only names, with what lies in them. Stops of the others
// are taken out of the survey, so that no figure tells of them.
func (r *Result) narrow(sites []site, stops [][]Stop, unread [][]Unread, only []string, asked string) ([]site, [][]Stop, [][]Unread, error) {
	if only == nil {
		return sites, stops, unread, nil
	}
	var names []string
	for _, s := range sites {
		names = append(names, s.field.Name)
	}
	at, err := Chosen(names, only)
	if err != nil {
		return nil, nil, nil, err
	}
	var left []site
	var in [][]Stop
	var rows [][]Unread
	gone := map[string]bool{}
	r.leftOut = map[string]bool{}
	others, chosen := 0, those(at, len(sites))
	for i := range sites {
		if chosen[i] {
			left, in, rows = append(left, sites[i]), append(in, stops[i]), append(rows, unread[i])
			continue
		}
		for _, s := range stops[i] {
			gone[survey.StopKey(s.Stop)], r.leftOut[s.Records[0].File] = true, true
			others++
		}
	}
	r.Survey = unreadIn(rows, unread, without(r.Survey, gone))
	if n := len(sites) - len(left); n > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("%s with %s left out, as asked: %s", figures.Counted(n, "other field"), figures.Counted(others, "stop"), asked))
	}
	if !slices.ContainsFunc(in, func(s []Stop) bool { return len(s) > 0 }) {
		return nil, nil, nil, noneThere(left, rows)
	}
	return left, in, rows, nil
}

// without is a survey less some stops, as if nobody had counted there.
func without(s *survey.Survey, gone map[string]bool) *survey.Survey {
	less := *s
	less.Stops = nil
	for _, stop := range s.Stops {
		if !gone[survey.StopKey(stop)] {
			less.Stops = append(less.Stops, stop)
			continue
		}
		less.Tally.Read -= len(stop.Records)
		less.Tally.Used -= len(stop.Records)
	}
	less.Dates = nil
	for _, stop := range less.Stops {
		for _, row := range stop.Records {
			if row.Date != "" {
				less.Dates = append(less.Dates, row.Date)
			}
		}
	}
	slices.Sort(less.Dates)
	less.Dates = slices.Compact(less.Dates)
	return &less
}

// unreadIn is a survey less the rows not read that lie in fields left out alone: left are
// those of the fields that stay, all those of all.
func unreadIn(left, all [][]Unread, s *survey.Survey) *survey.Survey {
	type place struct {
		file string
		line int
	}
	stays, gone := map[place]bool{}, map[place]bool{}
	for _, of := range []struct {
		fields [][]Unread
		lines  map[place]bool
	}{{left, stays}, {all, gone}} {
		for _, u := range slices.Concat(of.fields...) {
			for _, row := range u.Rows {
				of.lines[place{row.File, row.Line}] = true
			}
		}
	}
	leaves := func(file string, line int) bool { return gone[place{file, line}] && !stays[place{file, line}] }
	less := *s
	less.Unread = slices.DeleteFunc(slices.Clone(s.Unread), func(u survey.Unread) bool { return leaves(u.File, u.Line) })
	less.Problems = slices.DeleteFunc(slices.Clone(s.Problems), func(p survey.Problem) bool { return leaves(p.File, p.Line) })
	n := len(s.Unread) - len(less.Unread)
	less.Tally.Read, less.Tally.SetAside = less.Tally.Read-n, less.Tally.SetAside-n
	return &less
}

// In is a survey less the stops of fields that are not asked for; those in no field stay.
func In(fields []string, placed []Placed, s *survey.Survey, only []string) (*survey.Survey, error) {
	at, err := Chosen(fields, only)
	if err != nil || only == nil {
		return s, err
	}
	gone, chosen := map[string]bool{}, those(at, len(fields))
	for i, p := range placed {
		for _, stop := range p.Stops {
			gone[survey.StopKey(stop)] = !chosen[i]
		}
	}
	return without(s, gone), nil
}
