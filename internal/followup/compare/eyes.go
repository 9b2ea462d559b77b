package compare

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// eyes warns that other observers counted at one visit than at the other, and names
// those whose counts no calibration corrects; "" where the observers are the same or
// all are calibrated.
func (r *Result) eyes(a, b *Visit) string {
	x, y := named(a, observersOf), named(b, observersOf)
	if observer.Key(x) == observer.Key(y) {
		return ""
	}
	without := r.uncalibrated(a, b)
	if len(without) == 0 {
		return ""
	}
	return fmt.Sprintf("observers: %s on %s, %s on %s; each eye has a bias of its own, and no calibration corrects %s",
		orNot(x), a.Date, orNot(y), b.Date, strings.Join(without, ", "))
}

// uncalibrated are the observers of visits without a calibration, by the spelling
// and in the order of their first appearance.
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
					name = "rows without an observer"
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
