//go:build !small

package report

import (
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

// clashes are those of a field, in the order of its stops.
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
	return all
}

// clashesOf asks which count of such stops holds.
func clashesOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	stat := r.Of(f).Statistic
	all := clashes(f, stat, v.Treat)
	if len(all) == 0 {
		return ""
	}
	hottest := 0
	for i, c := range all {
		if c.high > all[hottest].high {
			hottest = i
		}
	}
	c := all[hottest]
	said := u.Say("At stop %s one person counted %s and another %s: which holds? Their average was used.", c.stop, u.Level(c.low), levelWith(c.high, stat, u))
	var others []string
	for i, c := range all {
		if i != hottest {
			others = append(others, c.stop)
		}
	}
	if others != nil {
		said = sentenced(said, u.Say("Ask the same of %s.", firstNames(others, u)))
	}
	return sentenced(said, largerBy(v, u))
}
