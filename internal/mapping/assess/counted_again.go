package assess

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// CountedAgain gives, for each stop, the day on which its place was counted again last
// ([Placed.onOtherDays]); "" for a stop that was not. It is nil where none was. What was counted
// first is of other days than the map: on invented fields whose hot ground was sprayed a week ago
// going by both cost more than by the later count alone, and elsewhere as much (SIMULATIONS.md).
// Whether both visits are whole is for who asks ([TwoVisits]).
func (p Placed) CountedAgain() (later []string) {
	for i, k := range p.lastAgain() {
		if k < 0 {
			continue
		}
		if later == nil {
			later = make([]string, len(p.Stops))
		}
		later[i] = p.Stops[k].Date
	}
	return later
}

// lastAgain gives, for each stop, the last of the later ones at its place, -1 for none.
func (p Placed) lastAgain() []int {
	others := p.onOtherDays()
	last := make([]int, len(others))
	for i, all := range others {
		last[i] = -1
		day := p.Stops[i].Date
		for _, k := range all {
			if p.Stops[k].Date > day {
				last[i], day = k, p.Stops[k].Date
			}
		}
	}
	return last
}

// LaterCounts are the stops less the first counts of those that were counted again, which come
// back with the days of the later ones.
func (p Placed) LaterCounts() (left Placed, first []survey.Stop, days []string) {
	later := p.CountedAgain()
	if later == nil {
		return p, nil, nil
	}
	for i, day := range later {
		if day != "" {
			first, days = append(first, p.Stops[i]), append(days, day)
		}
	}
	return p.without(func(i int) bool { return later[i] != "" }), first, days
}

// without are the stops less some, by their numbers.
func (p Placed) without(out func(i int) bool) Placed {
	left := Placed{Field: p.Field, ground: p.ground}
	for i := range p.Stops {
		if out(i) {
			continue
		}
		left.Stops, left.at = append(left.Stops, p.Stops[i]), append(left.at, p.at[i])
		left.Extra = append(left.Extra, p.Extra[i])
		left.Outside, left.ToEdge = append(left.Outside, p.Outside[i]), append(left.ToEdge, p.ToEdge[i])
	}
	return left
}

// laterCounts sets the first counts of stops aside that were counted again. A stop of the walk
// stays one, whatever its later rows are marked as.
func (r *Result) laterCounts(sites []site, stops [][]Stop) {
	if len(r.Survey.Dates) < 2 {
		return
	}
	again := map[string]string{} // the day, by stops
	for i, all := range stops {
		p := Placed{Field: sites[i].field.Name, ground: sites[i].xy}
		for _, s := range all {
			p.Stops, p.at = append(p.Stops, s.Stop), append(p.at, s.XY)
		}
		last := p.lastAgain()
		if !slices.ContainsFunc(last, func(k int) bool { return k >= 0 }) {
			continue
		}
		walked := map[string]bool{} // names of stops that are not extra, as a first count of theirs is not
		var names []string
		stops[i] = nil
		for k, s := range all {
			if last[k] < 0 {
				continue
			}
			if first := &all[last[k]].First; *first == nil || (*first).Date < s.Date {
				*first = &s.Stop
			}
			then := all[last[k]]
			again[survey.StopKey(s.Stop)] = then.Date
			walked[then.Name] = walked[then.Name] || !s.Extra
			name := s.Name
			if then.Name != name {
				name = fmt.Sprintf("%s (%s)", name, then.Name)
			}
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		for k, s := range all {
			if last[k] < 0 {
				s.Extra, s.First = s.Extra && !walked[s.Name], all[k].First
				stops[i] = append(stops[i], s)
			}
		}
		r.Notes = append(r.Notes, fmt.Sprintf("field %q: %s counted again on a later day, of which the later counts are used: %s", p.Field, figures.Counted(len(names), "stop"), survey.Listed(names)))
	}
	if len(again) > 0 {
		r.Survey = r.Survey.CountedAgain(func(s survey.Stop) string { return again[survey.StopKey(s)] })
	}
}
