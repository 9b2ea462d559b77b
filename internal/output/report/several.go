package report

import (
	"cmp"
	"fmt"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// StatisticOf is the statistic of a result in words, for what shows all of its fields.
func StatisticOf(r *assess.Result) string {
	if r.Several() {
		return "each field by its own level"
	}
	return r.Statistic.String()
}

// BandName is what the values of a surface are, for files of rasters.
func BandName(r *assess.Result) string { return pestName(r) + ", " + StatisticOf(r) }

// BandUnit is what they are counted in, such as "per leaf" or "%"; "" where fields differ.
func BandUnit(r *assess.Result) (unit string) {
	for _, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		s := r.Of(f).Statistic
		of := "per " + cmp.Or(s.Unit, "leaf")
		if s.Share() {
			of = "%"
		}
		if unit != "" && unit != of {
			return ""
		}
		unit = of
	}
	return unit
}

// LevelsOf are the levels that hold for all fields; zero where they have their own.
func LevelsOf(r *assess.Result) zones.Levels {
	if r.Several() {
		return zones.Levels{}
	}
	return r.Levels.Levels
}

// LevelLines say the levels and where they come from: one for all fields, or those of
// each.
func LevelLines(r *assess.Result) (lines []string) {
	if !r.Several() {
		return []string{
			fmt.Sprintf("treat at %s: %s", figures.Level(r.Levels.TreatAt), r.Levels.TreatSource),
			fmt.Sprintf("watch at %s: %s", figures.Level(r.Levels.WatchAt), r.Levels.WatchSource),
		}
	}
	for _, f := range r.Fields {
		if f.Scouted() {
			lines = append(lines,
				fmt.Sprintf("%s: %s, treat at %s: %s", f.Name, f.Statistic, figures.Level(f.Levels.TreatAt), f.Levels.TreatSource),
				fmt.Sprintf("%s: watch at %s: %s", f.Name, figures.Level(f.Levels.WatchAt), f.Levels.WatchSource))
		}
	}
	return lines
}
