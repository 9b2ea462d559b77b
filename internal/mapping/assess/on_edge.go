//go:build !small

package assess

import "github.com/geocoris/geocoris/internal/scouting/survey"

// besides are the stops of other fields on the edge of one: as near as phones can tell.
type besides struct {
	stop  survey.Stop
	owner string // field that it counts for
}

// An OnEdge is a stop on the edge of a field that counts for another one.
type OnEdge struct {
	Stop, Field string
	Value       float64 // of the statistic of the field beside which it stands
}

// HotOnEdge is the highest of the stops of other fields at a level or above that stand within
// 5 m of a field, and how many there are.
func (r *Result) HotOnEdge(f *Field, s Statistic, level float64) (highest OnEdge, stops int) {
	for _, b := range r.onEdge[f.Name] {
		value, ok := s.At(b.stop)
		if !ok || value < level {
			continue
		}
		if stops++; stops == 1 || value > highest.Value {
			highest = OnEdge{b.stop.Name, b.owner, value}
		}
	}
	return highest, stops
}

// noteEdge keeps a stop for the field on whose edge it stands too.
func (r *Result) noteEdge(sites []site, at place, s survey.Stop) {
	if at.beside < 0 {
		return
	}
	if r.onEdge == nil {
		r.onEdge = map[string][]besides{}
	}
	name := sites[at.beside].field.Name
	r.onEdge[name] = append(r.onEdge[name], besides{s, sites[at.field].field.Name})
}
