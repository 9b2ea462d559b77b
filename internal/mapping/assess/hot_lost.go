package assess

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A HotLost is a stop whose count is known and whose place lies in no field or is not known.
type HotLost struct {
	Stop    string
	Value   float64 // of the field's statistic
	Highest bool    // no stop of the field has as much
}

// HotAway is the hottest of the stops of the field's files that lie in no field, the first of
// several, but for those named already. ok is false where that is neither at the level or above
// nor higher than all stops of the field.
func (r *Result) HotAway(f *Field, s Statistic, level float64, named []Shut) (hot HotLost, ok bool) {
	if len(r.Away) == 0 {
		return HotLost{}, false
	}
	of, own := f.hotLost(level), f.files()
	for i := range r.Away {
		stop := &r.Away[i]
		value, known := s.At(*stop)
		if !known || !own[stop.Records[0].File] || slices.ContainsFunc(named, func(n Shut) bool { return n.Stop == stop.Name && n.Value == value }) {
			continue
		}
		of.take(stop.Name, value)
	}
	return of.hot, of.found
}

// HotUnplaced is likewise the hottest of the stops that may lie in the field and whose rows tell
// all but their place; those at the place of another aside.
func (f *Field) HotUnplaced(s Statistic, level float64) (hot HotLost, ok bool) {
	of := f.hotLost(level)
	for _, u := range f.Unread {
		if !u.Own || u.PlaceOf != "" || u.Share == 0 || slices.ContainsFunc(u.Rows, func(row survey.Unread) bool { return row.Placed || !row.Counted() }) {
			continue
		}
		if low, high := u.Bounds(s); low == high {
			of.take(u.Rows[0].Row.Stop, low)
		}
	}
	return of.hot, of.found
}

// files are those in which the field's stops stand.
func (f *Field) files() map[string]bool {
	own := map[string]bool{}
	for _, s := range f.Stops {
		own[s.Records[0].File] = true
	}
	return own
}

// hotSought is the hottest one, looked for among stops that were lost.
type hotSought struct {
	level, most float64 // the spray level, and the highest stop used
	hot         HotLost
	found       bool
}

func (f *Field) hotLost(level float64) hotSought {
	h := hotSought{level: level}
	for _, s := range f.Stops {
		h.most = max(h.most, s.Value)
	}
	return h
}

func (h *hotSought) take(stop string, value float64) {
	if (value >= h.level || value > h.most) && (!h.found || value > h.hot.Value) {
		h.hot, h.found = HotLost{stop, value, value > h.most}, true
	}
}
