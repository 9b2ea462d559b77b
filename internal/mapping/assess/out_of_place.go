package assess

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// unreadAndOutOfPlace are the stops that may be of each field beside those used, whose lists it
// leaves without those out of place.
func (r *Result) unreadAndOutOfPlace(sites []site, stops [][]Stop) [][]Unread {
	displaced, rows := r.outOfPlace(stops)
	unread := r.unread(sites, stops)
	for i, more := range displaced {
		unread[i] = append(unread[i], more...)
	}
	if len(rows) > 0 {
		r.Survey.Unread = slices.Concat(r.Survey.Unread, rows)
	}
	return unread
}

// outOfPlace takes the stops out that stand to the last digit where the one before them does, and
// gives back, by fields, where they may belong: their counts are known and their places are not.
// On the map they would be a count of ground where nobody counted it, and the walk would seem to
// have covered less of the field. A stop may be of the next field too where the walk went on there.
func (r *Result) outOfPlace(stops [][]Stop) (out [][]Unread, rows []survey.Unread) {
	out = make([][]Unread, len(stops))
	before := map[string]string{}
	for _, all := range stops {
		for i, first := range KeptPlaces(r.Survey, len(all), func(i int) *survey.Stop { return &all[i].Stop }) {
			before[survey.StopKey(all[i].Stop)] = all[first].Name
		}
	}
	if len(before) == 0 {
		return out, nil
	}
	next := r.nextFields(stops, before)
	for f, all := range stops {
		stops[f] = slices.DeleteFunc(slices.Clone(all), func(s Stop) bool {
			first, is := before[survey.StopKey(s.Stop)]
			if !is {
				return false
			}
			u := Unread{Rows: s.WithoutPlace(first), PlaceOf: first, Own: true, Share: 1}
			if other := next[survey.StopKey(s.Stop)]; other != f {
				u.Loose, u.Share = true, 1.0/2
				out[other] = append(out[other], u)
			}
			out[f], rows = append(out[f], u), append(rows, u.Rows...)
			return true
		})
	}
	r.Survey = r.Survey.OutOfPlace(before)
	return out, rows
}

// nextFields gives, for stops out of place, the field in which the walk went on after them: their
// own where it ended, or went on in none.
func (r *Result) nextFields(stops [][]Stop, before map[string]string) map[string]int {
	of, next := map[string]int{}, map[string]int{}
	for f, all := range stops {
		for _, s := range all {
			of[survey.StopKey(s.Stop)] = f
		}
	}
	var waiting []string
	for _, s := range r.Survey.Stops {
		key := survey.StopKey(s)
		f, is := of[key]
		switch _, lost := before[key]; {
		case !is:
		case lost:
			waiting, next[key] = append(waiting, key), f
		default:
			for _, w := range waiting {
				next[w] = f
			}
			waiting = nil
		}
	}
	return next
}

// KeptPlaces gives, of n stops, those with the place of one before them to the last digit that
// is not theirs, each with that one: a stop copied one down ([SharedPlaces]), and all but the
// first of four or more at one position ([samePositions]). The first had the place, be it that a
// phone kept its fix or that its cells were copied down.
func KeptPlaces(s *survey.Survey, n int, stop func(i int) *survey.Stop) map[int]int {
	of := map[int]int{}
	for _, p := range SharedPlaces(s, nil, n, stop) {
		if p.Copied && stop(p.First).Name != "" {
			of[p.Then] = p.First
			if first, is := of[p.First]; is {
				of[p.Then] = first
			}
		}
	}
	for _, all := range samePositions(n, stop) {
		first := stop(all[0])
		for _, i := range all[1:] {
			if s := stop(i); first.Name != "" && s.Name != first.Name && s.Observer == first.Observer && !markedExtra(s) {
				of[i] = all[0]
			}
		}
	}
	return of
}

// OutOfPlace are the stops less those that stand at the place of one before ([KeptPlaces]), which
// come back with the names of these.
func (p Placed) OutOfPlace(s *survey.Survey) (left Placed, displaced []survey.Stop, before []string) {
	of := KeptPlaces(s, len(p.Stops), func(i int) *survey.Stop { return &p.Stops[i] })
	if len(of) == 0 {
		return p, nil, nil
	}
	for i := range p.Stops {
		if first, is := of[i]; is {
			displaced, before = append(displaced, p.Stops[i]), append(before, p.Stops[first].Name)
		}
	}
	return p.without(func(i int) bool { _, is := of[i]; return is }), displaced, before
}
