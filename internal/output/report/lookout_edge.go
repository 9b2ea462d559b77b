//go:build !small

package report

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// onEdgeOf tells of hot stops on the edge that count for the field beside.
func onEdgeOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) string {
	if v.Kind == verdict.TreatWhole {
		return ""
	}
	stat := r.Of(f).Statistic
	highest, stops := r.HotOnEdge(f, stat, v.Treat)
	switch stops {
	case 0:
		return ""
	case 1:
		return u.Say("Stop %s (%s) stands on the edge and counts for %s: look on this side too.", highest.Stop, levelWith(highest.Value, stat, u), highest.Field)
	}
	return u.Say("%s stand on the edge and count for %s, the highest with %s: look on this side too.", u.Counted(stops, "stop"), highest.Field, levelWith(highest.Value, stat, u))
}
