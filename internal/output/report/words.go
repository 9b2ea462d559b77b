package report

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// LevelsCaution goes with every level shown.
const LevelsCaution = levelsCaution

// WhyAway says why a stop went to no field.
const WhyAway = whyAway

// NoneRead is said of a field that somebody counted in.
const NoneRead = "none of its stops were read"

// Title names pest and day.
func Title(r *assess.Result) string { return headed(r, r.Survey.Dates) }

// headed names the pest, and days as people say them.
func headed(r *assess.Result, days []string) string {
	text := Sentence(pestName(r))
	if said := daysOf(days); said != "" {
		text += ", " + said
	}
	return text
}

// FieldTitle names pest and day of one field of a result, which is not the others' where
// fields were walked on days of their own.
func FieldTitle(r *assess.Result, f *assess.Field) string { return headed(r, f.Days()) }

// OwnDays is when a field was counted, in a form that takes it, where the title of the
// result tells other days; else "".
func OwnDays(r *assess.Result, f *assess.Field, form string) string {
	if days := interval(f.Days()); days != "" && days != dates(r) {
		return fmt.Sprintf(form, daysOf(f.Days()))
	}
	return ""
}

// Averaged is the average and the highest stop of a field.
func Averaged(r *assess.Result, f *assess.Field) string {
	return fmt.Sprintf("%s on average, highest %s", withUnit(Levelled(f.Mean, r.Levels.Levels), r.Statistic), Levelled(f.Max, r.Levels.Levels))
}

// LevelWith writes a level with what it is of.
func LevelWith(v float64, s assess.Statistic) string { return levelWith(v, s) }

// Used says how many stops of a field were used, of how many where not all were.
func Used(v verdict.Verdict) string { return used(v) }

// CutText is where treat ground is cut if that is not at the treat level; "" if it
// is.
func CutText(r *assess.Result, f *assess.Field) string { return cutText(r, f) }

// CompareTitle names pest and days of a comparison.
func CompareTitle(r *compare.Result) string {
	var days []string
	for _, f := range r.Fields {
		for _, v := range f.Visits {
			days = append(days, v.Date)
		}
	}
	slices.Sort(days)
	text := Sentence(cmp.Or(r.Pest, "pest not named"))
	if said := daysOf(days); said != "" {
		text += ", " + said
	}
	return text
}

// AllSteps are those from each visit to the next, and from the first to the last
// where there is more than one.
func AllSteps(f *compare.Field) []*compare.Step { return allSteps(f) }
