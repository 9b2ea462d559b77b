package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// CountedAgain gives, for each stop, the day on which it was counted again, by its name and
// place, when the next visit is usual or later ([visit.Settled]); "" for a stop that was not.
// It is nil where none was, and where half of the stops of a visit were, as both visits are then
// whole. What was counted first is of other days than the map: on invented fields whose pest
// grew, or whose hot ground was sprayed, going by both cost more than by the later count alone,
// and as much where nothing had changed (SIMULATIONS.md).
func (p Placed) CountedAgain() (later []string) {
	named := map[string][]int{}
	for i, s := range p.Stops {
		if s.Date != "" && s.Name != "" {
			named[s.Name] = append(named[s.Name], i)
		}
	}
	n := 0
	for _, all := range named {
		for _, i := range all {
			day := ""
			for _, k := range all {
				if visit.Between(p.Stops[i].Date, p.Stops[k].Date) >= visit.Settled && math.Hypot(p.at[i][0]-p.at[k][0], p.at[i][1]-p.at[k][1]) <= sameStop {
					day = max(day, p.Stops[k].Date)
				}
			}
			if day == "" {
				continue
			}
			if later == nil {
				later = make([]string, len(p.Stops))
			}
			later[i], n = day, n+1
		}
	}
	if n >= leastVisit && TwoVisits(p).Again {
		return nil
	}
	return later
}

// LaterCounts are the stops less the first counts of those that were counted again, which come
// back with the days of the later ones.
func (p Placed) LaterCounts() (left Placed, first []survey.Stop, days []string) {
	later := p.CountedAgain()
	if later == nil {
		return p, nil, nil
	}
	left = Placed{Field: p.Field, ground: p.ground}
	for i, day := range later {
		if day != "" {
			first, days = append(first, p.Stops[i]), append(days, day)
			continue
		}
		left.Stops, left.at = append(left.Stops, p.Stops[i]), append(left.at, p.at[i])
		left.Extra = append(left.Extra, p.Extra[i])
		left.Outside, left.ToEdge = append(left.Outside, p.Outside[i]), append(left.ToEdge, p.ToEdge[i])
	}
	return left, first, days
}

// laterCounts sets the first counts of stops aside that were counted again. A stop of the walk
// stays one, whatever its later rows are marked as.
func (r *Result) laterCounts(sites []site, stops [][]Stop) {
	if days := r.Survey.Dates; len(days) < 2 || visit.Between(days[0], days[len(days)-1]) < visit.Settled {
		return
	}
	again := map[string]string{} // the day, by stops
	for i, all := range stops {
		p := Placed{Field: sites[i].field.Name, ground: sites[i].xy}
		for _, s := range all {
			p.Stops, p.at = append(p.Stops, s.Stop), append(p.at, s.XY)
		}
		later := p.CountedAgain()
		if later == nil {
			continue
		}
		walked := map[string]bool{} // names of first counts that are not extra
		var names []string
		stops[i] = nil
		for k, s := range all {
			if later[k] != "" {
				again[survey.StopKey(s.Stop)] = later[k]
				walked[s.Name] = walked[s.Name] || !s.Extra
				names = append(names, s.Name)
			}
		}
		for k, s := range all {
			if later[k] == "" {
				s.Extra = s.Extra && !walked[s.Name]
				stops[i] = append(stops[i], s)
			}
		}
		slices.Sort(names)
		names = slices.Compact(names)
		r.Notes = append(r.Notes, fmt.Sprintf("field %q: %s counted again days later, of which the later counts are used: %s", p.Field, figures.Counted(len(names), "stop"), strings.Join(names, ", ")))
	}
	if len(again) > 0 {
		r.Survey = r.Survey.CountedAgain(func(s survey.Stop) string { return again[survey.StopKey(s)] })
	}
}
