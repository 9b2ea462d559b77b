package report

import (
	"cmp"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A clash is a stop that one person found at the spray level, and which is under it by the
// counts of all who counted there.
type clash struct {
	stop      string
	low, high float64
}

// clashes are those of a field, the hottest first.
func clashes(f *assess.Field, stat assess.Statistic, treatAt float64) (all []clash) {
	for _, s := range f.Stops {
		if s.Value >= treatAt {
			continue
		}
		c := clash{stop: s.Name, low: s.Value}
		for _, part := range s.ByObserver() {
			if v, ok := stat.At(part); ok {
				c.low, c.high = min(c.low, v), max(c.high, v)
			}
		}
		if c.high >= treatAt {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(a, b clash) int { return cmp.Compare(b.high, a.high) })
	return all
}

// clashesOf asks which count of such stops holds.
func clashesOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	stat := r.Of(f).Statistic
	all := clashes(f, stat, v.Treat)
	if len(all) == 0 {
		return ""
	}
	said := u.Say("At stop %s one person counted %s and another %s: which holds? Their average was used.", all[0].stop, u.Level(all[0].low), levelWith(all[0].high, stat, u))
	var others []string
	for _, c := range all[1:] {
		others = append(others, c.stop)
	}
	if others != nil {
		said = sentenced(said, u.Say("Ask the same of %s.", firstNames(others, u)))
	}
	return sentenced(said, largerBy(v, u))
}
