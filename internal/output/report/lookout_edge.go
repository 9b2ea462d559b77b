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
	all := r.HotOnEdge(f, stat, v.Treat)
	switch len(all) {
	case 0:
		return ""
	case 1:
		return u.Say("Stop %s (%s) stands on the edge and counts for %s: look on this side too.", all[0].Stop, levelWith(all[0].Value, stat, u), all[0].Field)
	}
	return u.Say("%s stand on the edge and count for %s, the highest with %s: look on this side too.", u.Counted(len(all), "stop"), all[0].Field, levelWith(all[0].Value, stat, u))
}
