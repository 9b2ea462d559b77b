package compare

import (
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// eyes tells that other observers counted at one visit than at the other, and those whose
// counts no calibration corrects; not ok where the observers are the same or all are
// calibrated.
func (r *Result) eyes(a, b *Visit) (out Unlike, ok bool) {
	x, y := named(a, observersOf), named(b, observersOf)
	if observer.Key(x) == observer.Key(y) {
		return out, false
	}
	without := r.uncalibrated(a, b)
	return Unlike{In: Observers, Before: x, After: y, Uncalibrated: without}, len(without) > 0
}

// uncalibrated are the observers of visits without a calibration, by the spelling
// and in the order of their first appearance; "" for rows that name none.
func (r *Result) uncalibrated(visits ...*Visit) (out []string) {
	seen := map[string]bool{}
	for _, v := range visits {
		for _, s := range v.Assess.Stops {
			for _, name := range observersOf(s) {
				key := observer.Key(name)
				if seen[key] || r.Settings.Calibrated != nil && r.Settings.Calibrated(name) {
					continue
				}
				seen[key] = true
				if key == "" {
					name = ""
				}
				out = append(out, name)
			}
		}
	}
	return out
}

func observersOf(s assess.Stop) (out []string) {
	for _, r := range s.Records {
		out = append(out, r.Observer)
	}
	return out
}
