package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// CompareLevelLines say the levels of the last visits and where they come from: one pair
// for all fields, or those of each.
func CompareLevelLines(r *compare.Result) (lines []string) {
	pair := func(of string, l assess.Levels) {
		lines = append(lines,
			fmt.Sprintf("%streat at %s: %s", of, figures.Level(l.TreatAt), l.TreatSource),
			fmt.Sprintf("%swatch at %s: %s", of, figures.Level(l.WatchAt), l.WatchSource))
	}
	if !r.Several() {
		pair("", r.Levels)
		return lines
	}
	for _, f := range r.Fields {
		pair(f.Name+": ", f.Levels())
	}
	return lines
}

// treatLines say the treat levels alone, as sentences begin.
func treatLines(r *compare.Result, u figures.Units) (lines []string) {
	if !r.Several() {
		return []string{u.Say("Spray at %s: %s", u.Level(r.Levels.TreatAt), r.Levels.TreatSource)}
	}
	for _, f := range r.Fields {
		lines = append(lines, u.Say("%s: spray at %s: %s", f.Name, u.Short(f.Levels().TreatAt), f.Levels().TreatSource))
	}
	return lines
}

// tellLevels puts the levels of a comparison where they hold: at its head, or, where
// fields have their own, at each of them.
func (out *compareSummary) tellLevels(r *compare.Result) {
	if !r.Several() {
		out.TreatAt, out.TreatSource = figure(r.Levels.TreatAt, countDecimals), r.Levels.TreatSource
		out.WatchAt, out.WatchSource = figure(r.Levels.WatchAt, countDecimals), r.Levels.WatchSource
		return
	}
	for i, f := range r.Fields {
		l := f.Levels()
		own := &out.Fields[i]
		own.TreatAt, own.TreatSource = figure(l.TreatAt, countDecimals), l.TreatSource
		own.WatchAt, own.WatchSource = figure(l.WatchAt, countDecimals), l.WatchSource
	}
}
