package verdict

import (
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// NoneRead reports whether no stop of the field was read, though somebody counted there.
func (v Verdict) NoneRead() bool { return v.Line == Unread && v.Stats.Stops == 0 }

// noneRead is the verdict of a field that somebody counted in and of which no stop was
// read: its rows are to be read before anything can be said.
func noneRead(f *assess.Field, r *assess.Result, s Settings) Verdict {
	g := Figures{Treat: r.Levels.TreatAt, Watch: r.Levels.WatchAt, Doubling: r.Levels.Doubling, Area: f.Area, Unscouted: f.Area}
	g.Stats = s.Statistics.Describe(nil, 0)
	v := Verdict{Field: f.Name, Kind: Undecided, Line: Unread, Why: "no stop of the field was read", Days: soon(g, s), Unread: f.Unread, Figures: g}
	var days []string
	for _, u := range f.Unread {
		for _, row := range u.Rows {
			if u.Placed && row.Row.Date != "" {
				days = append(days, row.Row.Date)
			}
		}
	}
	slices.Sort(days)
	return v.Dated(slices.Compact(days), s.Revisit)
}
